package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"
	"time"

	"github.com/coder/websocket"

	"seatboard/internal/book/readings"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// soundProtocol names the conversation of a page that sends live sound. The
// page says who it is by a second word of the handshake: the token of its
// form. Then it sends, as text, what it knows (opening), and its sound in
// blocks; between them, as text, what it notices (noticed). The server sends
// how it stands (now), at most four times a second.
const soundProtocol = "seatboard.sound"

// opening is the first message of a page. Run is empty for a new run.
type opening struct {
	Run      string  `json:"run"`
	Capture  int     `json:"capture"` // counts the times that the microphone was opened in this run
	Clock    string  `json:"clock"`
	Train    string  `json:"train"`
	Beats    string  `json:"beats"`
	Path     string  `json:"path"` // "processor" or "worklet"
	Rate     float64 `json:"rate"`
	Label    string  `json:"label"` // of the device
	Sound    bool    `json:"sound"` // is kept as it comes
	Settings string  `json:"settings"`
}

// noticed is what a page notices beside the sound. A page that was cut off
// may say it once more.
type noticed struct {
	Event string `json:"event"`
	First int64  `json:"first"` // number of the first sample after it
}

const mostMessage = blockHead + 4*mostBlock

// liveSound takes the sound of a page's microphone in.
func (s *Server) liveSound(w http.ResponseWriter, r *http.Request) error {
	words := strings.Split(r.Header.Get("Sec-WebSocket-Protocol"), ",")
	if len(words) != 2 || strings.TrimSpace(words[0]) != soundProtocol || !s.tokens.accepts(r, strings.TrimSpace(words[1])) {
		http.Error(w, "The page was open from before Seatboard was last started. Load it once more.", http.StatusForbidden)
		return nil
	}
	c, err := websocket.Accept(w, r, &websocket.AcceptOptions{Subprotocols: []string{soundProtocol}})
	if err != nil {
		return nil // the answer is sent
	}
	defer c.CloseNow()
	c.SetReadLimit(mostMessage)
	ctx, cancel := context.WithCancel(context.WithoutCancel(r.Context()))
	defer cancel()
	context.AfterFunc(ctx, func() { c.CloseNow() })
	g, _ := guestOf(r) // nobody shuts the shop's own computer out
	go func() {
		select {
		case <-s.closing:
			cancel()
		case <-g.gone:
			cancel()
		case <-ctx.Done():
		}
	}()
	k := &conversation{s: s, c: c, by: s.by(r)}
	if err := k.open(ctx); err != nil {
		return k.refuse(ctx, err)
	}
	go k.tell(ctx)
	k.listen(ctx)
	return nil
}

// conversation is one connection of a live run, which outlives it.
type conversation struct {
	s       *Server
	c       *websocket.Conn
	by      string
	run     *shop.Live
	capture int
	lag     lag
}

// open reads the opening and begins a run, or finds the one that goes on.
func (k *conversation) open(ctx context.Context) error {
	within, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	kind, b, err := k.c.Read(within)
	if err != nil {
		return err
	}
	var o opening
	if kind != websocket.MessageText || json.Unmarshal(b, &o) != nil {
		return &shop.Problem{Code: shop.BadInput, Message: "The page and Seatboard do not understand each other.", Hint: "Load the page once more."}
	}
	if why := overRadio(o.Label, o.Rate); why != "" {
		return &shop.Problem{Code: shop.BadInput, Message: why, Hint: "Choose another microphone in the browser and begin again."}
	}
	k.capture = o.Capture
	if o.Run != "" {
		k.run, err = k.s.Shop.Live(o.Run)
		return err
	}
	q, err := k.s.heardOf(ctx, k.by, map[string][]string{"clock": {o.Clock}, "train": {o.Train}, "beats": {o.Beats}})
	if err != nil {
		return err
	}
	q.Path = readings.Processor
	if o.Path == "worklet" {
		q.Path = readings.Worklet
	}
	q.Source, q.Device, q.Settings = o.Label, o.Label, o.Settings
	k.run, err = k.s.Shop.StartLive(shop.LiveOptions{ListenQuery: q, Rate: o.Rate, Sound: o.Sound})
	return err
}

// overRadio tells by its name and rate that a microphone sends by radio, as
// headsets do: such sound is squeezed, and its clock is not its own.
func overRadio(label string, rate float64) string {
	l := strings.ToLower(label)
	for _, word := range []string{"bluetooth", "hands-free", "handsfree", "airpods", "headset (", "hfp", "buds"} {
		if strings.Contains(l, word) {
			return "The microphone “" + label + "” sends by radio, as a headset does: its sound is squeezed and comes by no clock of its own. No rate can be had from it."
		}
	}
	if rate < 32000 {
		return "The microphone gives the sound of a telephone line only. That is what a headset does that sends by radio; no rate can be had from it."
	}
	return ""
}

// refuse says why there is no run.
func (k *conversation) refuse(ctx context.Context, err error) error {
	p := shop.AsProblem(err)
	if p.Code == shop.Internal {
		k.s.Log.Error("live sound failed", "err", err)
	}
	words := strings.TrimSpace(p.Message + " " + p.Hint)
	var faults meas.Faults
	if faults = p.Fields; errors.As(err, &faults) || len(faults) > 0 {
		words = ""
		for _, f := range faults {
			words += f.Text + ". "
		}
	}
	k.write(ctx, struct {
		Refused string `json:"refused"`
	}{strings.TrimSpace(words)})
	_ = k.c.Close(websocket.StatusPolicyViolation, "refused") // the page has the words
	return nil
}

func (k *conversation) write(ctx context.Context, v any) bool {
	b, err := json.Marshal(v)
	if err != nil {
		return false
	}
	within, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	return k.c.Write(within, websocket.MessageText, b) == nil
}

// tell sends how the run stands until it has ended or the page is gone.
func (k *conversation) tell(ctx context.Context) {
	tick := time.NewTicker(quarter)
	defer tick.Stop()
	for {
		st := k.run.State()
		if !st.Running {
			_ = k.run.Close() // it never fails; it waits until all is worked out
			st = k.run.State()
		}
		n := nowOfLive(st)
		if !k.write(ctx, n) || !n.Running {
			return
		}
		select {
		case <-tick.C:
		case <-ctx.Done():
			return
		}
	}
}

// listen takes sound and what the page noticed, until the page is gone.
func (k *conversation) listen(ctx context.Context) {
	for {
		kind, b, err := k.c.Read(ctx)
		if err != nil {
			return
		}
		if kind == websocket.MessageBinary {
			x, err := readBlock(b)
			if err != nil {
				_ = k.c.Close(websocket.StatusUnsupportedData, "not a block of sound")
				return
			}
			if k.run.Write(x.Samples, k.stamp(x, time.Now())) != nil {
				return
			}
			continue
		}
		var n noticed
		if json.Unmarshal(b, &n) != nil {
			continue
		}
		if n.Event == "end" {
			_ = k.run.Close() // it never fails
			continue
		}
		for _, x := range notices[n.Event] {
			x.Capture, x.First = k.capture, n.First
			k.run.Notice(x)
		}
	}
}

// stamp says which samples a block has.
func (k *conversation) stamp(x block, now time.Time) shop.Stamp {
	at := shop.Stamp{Capture: k.capture, First: x.First, Came: now, Late: k.lag.late(now.Sub(x.Came)), Discarded: int64(x.Discarded)}
	if x.Device == x.Device { // a number
		at.Device = unit.Duration(x.Device)
	}
	return at
}

// lag is how long blocks are under way, against that of those before: the
// clocks of two computers are not alike.
type lag struct {
	known bool
	usual time.Duration
}

// tardy is how much longer than usual a block was under way that has waited
// for a connection.
const tardy = 500 * time.Millisecond

func (l *lag) late(way time.Duration) bool {
	switch apart := way - l.usual; {
	case !l.known, apart < 0:
		l.usual = way
	case apart > tardy:
		return true
	default:
		l.usual += apart / 100
	}
	l.known = true
	return false
}

// notices are what the words of a page mean.
var notices = map[string][]shop.Noticed{
	"mute":         {{What: shop.Muted, Lasts: true}},
	"unmute":       {{What: shop.Muted, Over: true}},
	"hidden":       {{What: shop.Hidden, Lasts: true}},
	"visible":      {{What: shop.Hidden, Over: true}},
	"asleep":       {{What: shop.Unlit, Lasts: true}},
	"awake":        {{What: shop.Unlit, Over: true}},
	"interrupted":  {{What: shop.Interrupted, Lasts: true}},
	"suspended":    {{What: shop.Asleep, Lasts: true}},
	"running":      {{What: shop.Interrupted, Over: true}, {What: shop.Asleep, Over: true}},
	"devicechange": {{What: shop.Plugged}},
	"ended":        {{What: shop.Taken}},
	"rate":         {{What: shop.RateChanged}},
}
