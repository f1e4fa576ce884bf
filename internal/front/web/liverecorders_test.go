package web

import (
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/coder/websocket"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/shop"
)

// TestNoticesOfAPage says everything that a page may notice, each at a
// second of its own; the record has all of it, and the run is split there.
func TestNoticesOfAPage(t *testing.T) {
	v := openShop(t, false)
	v.addOne("7", "Clock")
	rec, err := synth.New(seconds(60))
	if err != nil {
		t.Fatal(err)
	}
	k, _ := v.dial("", nil)
	k.say(opening{Capture: 1, Path: "processor", Rate: 44100, Label: "Bench microphone", Beats: "7200", Sound: true})
	number, first := k.play(rec, 20*44100, 0, 0)
	events := []struct {
		begins, ends string
		what         beat.MarkKind
	}{
		{"mute", "unmute", shop.Muted}, {"hidden", "visible", shop.Hidden}, {"asleep", "awake", shop.Unlit}, {"interrupted", "running", shop.Interrupted},
		{"suspended", "running", shop.Asleep}, {"devicechange", "", shop.Plugged}, {"ended", "", shop.Taken}, {"rate", "", shop.RateChanged},
	}
	k.say(noticed{Event: "unheard of"})
	for i, e := range events {
		at := int64(21+3*i) * 44100
		k.say(noticed{Event: e.begins, First: at})
		if e.ends != "" {
			k.hears(func(n now) bool { return strings.Contains(strings.Join(n.More, "\n"), openNotices[e.what]) })
			k.say(noticed{Event: e.ends, First: at + 44100})
		}
		if e.begins != "rate" { // after which nothing more is taken
			number, first = k.play(rec, 3*44100, number, first)
		}
	}
	at := k.hears(func(n now) bool { return !n.Running }).At
	v.get(at).want(200, "What was heard", "Keep the sound too (", "checked", "Noticed while it was listened to", "page in the background")
	v.post(at+"/keep", "clock", "7", "sound", "yes").want(200, "Kept in the clock", "Noticed while it was listened to", "screen not kept awake", "<audio controls", "Listen to the sound once more")
	kept := strings.Split(v.at, "?")[0]
	v.get(kept + "/answer.json").want(200)
	var a struct{ Hearing beat.Hearing }
	if err := json.Unmarshal([]byte(v.page), &a); err != nil {
		t.Fatal(err)
	}
	for i, e := range events {
		found := false
		for _, m := range a.Hearing.Marks {
			found = found || m.Kind == e.what && near(float64(m.At), float64(21+3*i)) && (near(float64(m.Size), 1) || e.ends == "")
		}
		if !found {
			t.Errorf("%s is not in the record: %+v", e.what, a.Hearing.Marks)
		}
		for _, r := range a.Hearing.Runs {
			if from := float64(21 + 3*i); float64(r.From) < from && float64(r.To) > from {
				t.Errorf("%s: the run from %v to %v is not split at %v", e.what, r.From, r.To, from)
			}
		}
	}
	if len(a.Hearing.Runs) < 8 {
		t.Errorf("%d runs", len(a.Hearing.Runs))
	}

	r, err := v.client.Get(v.base + kept + "/sound")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil || string(b[:4]) != "fLaC" || r.Header.Get("Content-Type") != "audio/flac" || !strings.Contains(r.Header.Get("Content-Disposition"), ".flac") {
		t.Errorf("%v %d bytes, %v", err, len(b), r.Header)
	}
	v.get(kept)
	v.post(kept + "/again").heardOut()
	v.want(200, "What was heard", "Bench microphone", "beats an hour")
}

func near(a, b float64) bool { return a-b < 1e-6 && b-a < 1e-6 }

// TestTwoRunsAtOnce play side by side by two connections; one goes away and
// the other is not troubled.
func TestTwoRunsAtOnce(t *testing.T) {
	v := openShop(t, false)
	var talks []*talk
	for _, label := range []string{"left bench", "right bench"} {
		k, _ := v.dial("", nil)
		k.say(opening{Capture: 1, Path: "processor", Rate: 44100, Label: label, Beats: "7200"})
		talks = append(talks, k)
	}
	for i, k := range talks {
		rec, err := synth.New(seconds(30))
		if err != nil {
			t.Fatal(err)
		}
		k.play(rec, 30*44100, 0, 0)
		if i == 0 {
			k.c.CloseNow()
		}
	}
	talks[1].hears(func(n now) bool { return n.State == "locked" })
	v.get("/listen").want(200, "left bench", "right bench", "Running")
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		v.get("/listen")
		if strings.Count(v.page, "Running</span>") == 2 && !strings.Contains(v.page, "Listening for a beat") {
			return
		}
	}
	t.Errorf("the run whose connection is gone has no beat: %s", v.page)
}

func TestBlocksThatWaitedAreLate(t *testing.T) {
	var l lag
	for i, x := range []struct {
		way  time.Duration
		late bool
	}{{40, false}, {60, false}, {500, false}, {700, true}, {90_000, true}, {45, false}, {-3000, false}, {-2900, false}, {0, true}} {
		if got := l.late(x.way * time.Millisecond); got != x.late {
			t.Errorf("%d: %v under way: late is %v", i, x.way, got)
		}
	}
}

func TestRecordersPage(t *testing.T) {
	v := openShop(t, false)
	v.get("/listen").want(200, "/listen/recorders")
	v.get("/listen/recorders").want(200, "No recorder has been compared yet", "± 4.3 s a day", "To compare a recorder", `value="pool.ntp.org"`, "never by itself")
	v.post("/listen/recorders/state", "device", "telephone", "error", "12").want(422, "Say how well it is known", `value="telephone"`, `value="12"`)
	v.post("/listen/recorders/state", "device", "telephone", "error", "12 ± 3").want(200, "telephone", "fast by 12\u00a0±\u00a03\u00a0ppm (1.04\u00a0±\u00a00.26\u00a0s a day)", "as was stated on")
	v.post("/listen/recorders/state", "device", "telephone", "error", "-120 ± 3").want(200, "slow by 120\u00a0±\u00a03\u00a0ppm")
	v.post("/listen/recorders/none", "device", "telephone").want(200, "decided to use nothing", "never compared")
	v.get("/listen/recorders").want(200, "What was kept before", "Use that of", `name="n" value="1"`)
	v.post("/listen/recorders/again", "device", "telephone", "n", "2").want(200, "fast by 12\u00a0±\u00a03\u00a0ppm")
	v.post("/listen/recorders/again", "device", "telephone", "n", "x").want(404, "no such comparison")
	v.post("/listen/recorders/ask", "server", " ").want(422, "Name the time server to ask")
	v.post("/listen/recorders/ask", "server", "nowhere.invalid").want(http.StatusBadGateway, "did not answer", `value="nowhere.invalid"`)

	k, _ := v.dial("", nil)
	k.say(opening{Capture: 1, Path: "processor", Rate: 44100, Label: "Bench microphone", Beats: "7200"})
	if err := k.c.Write(t.Context(), websocket.MessageBinary, blockOf(0, 0, make([]float32, 4410))); err != nil {
		t.Fatal(err)
	}
	at := k.hears(func(n now) bool { return n.At != "" }).At
	v.get("/listen/recorders").want(200, "Bench microphone", "It is listened by now.", "first figure")
	v.get("/listen/recorders").want(200, "How warm it is")
	v.post(at+"/compare", "temperature", "mild").want(422, `value="mild"`, "How warm it is")
	v.post(at+"/compare").want(422, "Nothing better than ±50 ppm", "ten minutes")
}
