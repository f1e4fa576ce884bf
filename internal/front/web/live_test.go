package web

import (
	"context"
	"encoding/json"
	"io"
	"math"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/coder/websocket"

	"seatboard/internal/craft/listen/synth"
)

// talk is a page that sends live sound.
type talk struct {
	t testing.TB
	c *websocket.Conn
}

// dial opens the conversation; header adds to those of an honest page.
func (v *visit) dial(token string, header map[string]string) (*talk, int) {
	v.t.Helper()
	if token == "" {
		token = tokenField.FindStringSubmatch(v.get("/listen/live").page)[1]
	}
	h := http.Header{"Origin": {v.base}, "Sec-Fetch-Site": {"same-origin"}, "Sec-Fetch-Mode": {"websocket"}}
	for name, value := range header {
		if h.Set(name, value); value == "" {
			h.Del(name)
		}
	}
	ctx, cancel := context.WithTimeout(v.t.Context(), patience)
	defer cancel()
	o := &websocket.DialOptions{HTTPClient: v.client, HTTPHeader: h, Subprotocols: []string{soundProtocol, token}, Host: header["Host"]}
	c, r, err := websocket.Dial(ctx, strings.Replace(v.base, "http", "ws", 1)+"/listen/live/sound", o)
	if err != nil {
		if r == nil {
			v.t.Fatal(err)
		}
		return nil, r.StatusCode
	}
	v.t.Cleanup(func() { c.CloseNow() })
	return &talk{v.t, c}, r.StatusCode
}

func (k *talk) say(message any) {
	k.t.Helper()
	b, err := json.Marshal(message)
	if err != nil {
		k.t.Fatal(err)
	}
	if err := k.c.Write(k.t.Context(), websocket.MessageText, b); err != nil {
		k.t.Fatal(err)
	}
}

// hears reads what the server says until it says so.
func (k *talk) hears(want func(now) bool) now {
	k.t.Helper()
	ctx, cancel := context.WithTimeout(k.t.Context(), patience)
	defer cancel()
	for {
		var n now
		if err := json.Unmarshal(k.read(ctx), &n); err != nil {
			k.t.Fatal(err)
		}
		if want(n) {
			return n
		}
	}
}

func (k *talk) read(ctx context.Context) []byte {
	k.t.Helper()
	_, b, err := k.c.Read(ctx)
	if err != nil {
		k.t.Fatal(err)
	}
	return b
}

// play sends a recording in blocks, faster than it sounds; it gives the
// number of the next block and sample.
func (k *talk) play(rec *synth.Recording, samples int64, number uint32, first int64) (uint32, int64) {
	k.t.Helper()
	part := make([]float32, 4410)
	for end := first + samples; first < end; number++ {
		n, err := rec.ReadFloat(part)
		if n > 0 {
			if err := k.c.Write(k.t.Context(), websocket.MessageBinary, blockOf(number, float64(first), part[:n])); err != nil {
				k.t.Fatal(err)
			}
		}
		first += int64(n)
		if err == io.EOF {
			break
		}
		time.Sleep(2 * time.Millisecond) // fifty times as fast as life
	}
	return number, first
}

func TestStrangersCannotSendSound(t *testing.T) {
	v := openShop(t, false)
	for name, x := range map[string]struct {
		token  string
		header map[string]string
		want   int
	}{
		"a foreign name":       {"", map[string]string{"Host": "evil.example"}, http.StatusMisdirectedRequest},
		"another site":         {"", map[string]string{"Origin": "https://evil.example", "Sec-Fetch-Site": "cross-site"}, http.StatusForbidden},
		"another port":         {"", map[string]string{"Origin": "http://127.0.0.1:1", "Sec-Fetch-Site": "same-site"}, http.StatusForbidden},
		"an old browser there": {"", map[string]string{"Origin": "https://evil.example", "Sec-Fetch-Site": "", "Sec-Fetch-Mode": ""}, http.StatusForbidden},
		"no token":             {"none", nil, http.StatusForbidden},
		"no cookie":            {"", map[string]string{"Cookie": "x=y"}, http.StatusForbidden},
	} {
		w := v
		if name == "no cookie" {
			v.get("/listen/live")
			x.token = tokenField.FindStringSubmatch(v.page)[1]
			w = &visit{t: t, base: v.base, client: &http.Client{}}
		}
		if k, got := w.dial(x.token, x.header); k != nil || got != x.want {
			t.Errorf("%s: %d, want %d", name, got, x.want)
		}
	}
	if k, got := v.dial("", nil); k == nil {
		t.Errorf("an honest page is refused: %d", got)
	}
}

func TestMicrophonesThatCannotBeUsed(t *testing.T) {
	v := openShop(t, false)
	for _, x := range []struct {
		o    opening
		want string
	}{
		{opening{Label: "AirPods (Bluetooth)", Rate: 48000}, "sends by radio"},
		{opening{Label: "Headset", Rate: 16000}, "telephone line"},
		{opening{Label: "USB", Rate: 1e9}, "samples a second"},
		{opening{Label: "USB", Rate: 44100, Clock: "none"}, "No clock has the number none"},
		{opening{Label: "USB", Rate: 44100, Train: "96/"}, "96"},
		{opening{Label: "USB", Rate: 44100, Run: "0123456789abcdef"}, "There is no such listening"},
	} {
		k, _ := v.dial("", nil)
		k.say(x.o)
		var said struct{ Refused string }
		if err := json.Unmarshal(k.read(t.Context()), &said); err != nil || !strings.Contains(said.Refused, x.want) {
			t.Errorf("%+v: %q, want %q", x.o, said.Refused, x.want)
		}
	}
	k, _ := v.dial("", nil)
	if err := k.c.Write(t.Context(), websocket.MessageBinary, []byte{1, 2, 3}); err != nil {
		t.Fatal(err)
	}
	if b := string(k.read(t.Context())); !strings.Contains(b, "do not understand") {
		t.Error(b)
	}
}

// TestLiveRunGoesOn loses its connection in the middle, comes back and sends
// again what may have been lost.
func TestLiveRunGoesOn(t *testing.T) {
	v := openShop(t, false)
	v.addOne("7", "Clock")
	rec, err := synth.New(seconds(60))
	if err != nil {
		t.Fatal(err)
	}
	o := opening{Capture: 1, Path: "worklet", Rate: 44100, Label: "Bench microphone", Beats: "7200", Settings: `{"echoCancellation":false}`}
	k, _ := v.dial("", nil)
	k.say(o)
	run := k.hears(func(n now) bool { return n.Run != "" && strings.Contains(n.Worth, "loudspeaker") }).Run
	_, first := k.play(rec, 30*44100, 0, 0)
	k.hears(func(n now) bool { return n.Next == first })
	k.c.CloseNow()

	k, _ = v.dial("", nil)
	o.Run = run
	k.say(o)
	n := k.hears(func(n now) bool { return n.Run == run })
	if n.Next != first || n.Capture != 1 {
		t.Errorf("it goes on at %d of capture %d, want %d", n.Next, n.Capture, first)
	}
	k.say(noticed{Event: "hidden"})
	number, first := k.play(rec, 30*44100, 5, first)
	n = k.hears(func(n now) bool { return n.State == "locked" && strings.Contains(n.Say, "gained") })
	if !strings.Contains(strings.Join(n.More, "\n"), "in the background") {
		t.Errorf("what the page noticed is not said: %q", n.More)
	}
	v.get(n.At+"/ribbon").want(200, "<svg")
	if strings.Contains(v.page, "<html") {
		t.Error("the drawing is a whole page")
	}
	v.get("/listen").want(200, "Bench microphone", "Running")
	if err := k.c.Write(t.Context(), websocket.MessageBinary, blockOf(number, float64(first), make([]float32, 10))); err != nil {
		t.Fatal(err)
	}
	k.say(noticed{Event: "end"})
	at := k.hears(func(n now) bool { return !n.Running }).At
	v.get(at).want(200, "What was heard", "it gained", "Bench microphone")
	v.post(at+"/keep", "clock", "7", "note", "live").want(200, "Kept in the clock", "microphone of a browser worklet")
	v.get("/clocks/7/listening")
}

// TestLostSoundIsSaid leaves a piece out.
func TestLostSoundIsSaid(t *testing.T) {
	v := openShop(t, false)
	rec, err := synth.New(seconds(10))
	if err != nil {
		t.Fatal(err)
	}
	k, _ := v.dial("", nil)
	k.say(opening{Capture: 1, Path: "processor", Rate: 44100, Label: "x"})
	number, first := k.play(rec, 2*44100, 0, 0)
	k.play(rec, 2*44100, number, first+44100)
	k.hears(func(n now) bool { return strings.Contains(strings.Join(n.More, "\n"), "lost in one place, 1 s in all") })
}

func TestNotBlocksEndTheConversation(t *testing.T) {
	v := openShop(t, false)
	k, _ := v.dial("", nil)
	k.say(opening{Rate: 44100, Label: "x", Path: "processor"})
	if err := k.c.Write(t.Context(), websocket.MessageBinary, blockOf(0, math.NaN(), nil)); err != nil {
		t.Fatal(err)
	}
	for {
		if _, _, err := k.c.Read(t.Context()); err != nil {
			if websocket.CloseStatus(err) != websocket.StatusUnsupportedData {
				t.Error(err)
			}
			return
		}
	}
}
