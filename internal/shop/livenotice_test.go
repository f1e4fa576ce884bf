package shop

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// ended ends a run and gives what was heard in it.
func ended(t *testing.T, l *Live) (LiveState, beat.Hearing) {
	t.Helper()
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	st := l.State()
	if st.Answer == nil {
		t.Fatal("there is no answer")
	}
	return st, st.Answer.Hearing
}

func marked(h beat.Hearing, kind beat.MarkKind) []beat.Mark {
	return slices.DeleteFunc(slices.Clone(h.Marks), func(m beat.Mark) bool { return m.Kind != kind })
}

// TestWhatIsNoticedSplitsTheRun notices each thing at 3.5 s, lasting ones
// until 6.25 s; the runs are split there and the record has it.
func TestWhatIsNoticedSplitsTheRun(t *testing.T) {
	for _, x := range []struct {
		what  beat.MarkKind
		lasts bool
	}{{Muted, true}, {Hidden, true}, {Unlit, true}, {Interrupted, true}, {Asleep, true}, {Plugged, false}, {Taken, false}, {RateChanged, false}} {
		t.Run(string(x.what), func(t *testing.T) {
			s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
			s.ears.look = time.Hour
			l := live(t, s, ListenQuery{Source: "telephone"})
			sound := ticks(10)
			send(t, l, sound[:32_000], 1, 0, began)
			l.Notice(Noticed{What: x.what, Lasts: x.lasts, Capture: 1, First: 28_000})
			runs, size := []int{0, 0, 0, 0, 1, 1, 1, 1, 1, 1}, unit.Duration(0)
			switch {
			case x.what == RateChanged:
				runs = []int{0, 0, 0, 0}
				if err := l.Write(sound[:800], Stamp{Capture: 1, First: 32_000}); err == nil {
					t.Error("it takes sound of another rate")
				}
			case x.lasts:
				runs, size = []int{0, 0, 0, 0, 1, 1, 1, 2, 2, 2}, 2.75
				l.Notice(Noticed{What: x.what, Lasts: true, Capture: 1, First: 28_000}) // once more
				l.Notice(Noticed{What: x.what, Over: true, Capture: 1, First: 50_000})  // before its sample came
				fallthrough
			default:
				send(t, l, sound[32_000:], 1, 32_000, began.Add(4*time.Second))
			}
			st, h := ended(t, l)
			if _, got := times(h); !slices.Equal(got, runs) {
				t.Errorf("runs %v, want %v", got, runs)
			}
			want := []beat.Mark{{At: 3.5, Kind: x.what, Size: size}}
			if d := cmp.Diff(want, marked(h, x.what)); d != "" {
				t.Error(d)
			}
			if len(st.Notices) != 1 || st.Notices[0].Open {
				t.Errorf("%+v", st.Notices)
			}
			found, err := rows(t, s)
			if err != nil || len(found) != 1 {
				t.Fatalf("%v %v", found, err)
			}
			kept, err := s.Listening(t.Context(), found[0].ID)
			if err != nil || !strings.Contains(kept.Answer, `"kind":"`+string(x.what)+`"`) {
				t.Errorf("the record does not have it: %v", err)
			}
			var again struct{ Hearing beat.Hearing }
			if err := json.Unmarshal([]byte(s.reckon(kept).Answer), &again); err != nil || len(marked(again.Hearing, x.what)) != 1 {
				t.Errorf("reckoned anew it is gone: %v", err)
			}
		})
	}
}

// TestNumbersOfASplitRun keeps the sides of the beats, and counts anew.
func TestNumbersOfASplitRun(t *testing.T) {
	h := beat.Hearing{Runs: []beat.Run{{From: 0, To: 9, Heard: 8, Silent: 2, EndedBy: beat.Stopped}}}
	for _, n := range []int64{0, 1, 2, 4, 5, 6, 8, 9} {
		h.Beats = append(h.Beats, beat.Beat{At: unit.Duration(n), N: n})
	}
	out := splitAt(h, []seam{{from: 4.5, to: 4.5, how: noticed, mark: beat.Mark{At: 4.5, Kind: Hidden}}})
	want := []beat.Run{{From: 0, To: 4, Heard: 4, Silent: 1, EndedBy: noticed, ShareKept: 0.8}, {From: 5, To: 9, Heard: 4, Silent: 1, EndedBy: beat.Stopped, ShareKept: 0.8}}
	if d := cmp.Diff(want, out.Runs); d != "" {
		t.Error(d)
	}
	var n []int64
	for _, b := range out.Beats {
		n = append(n, b.N)
	}
	if !slices.Equal(n, []int64{0, 1, 2, 4, 1, 2, 4, 5}) {
		t.Errorf("%v", n)
	}
}

// TestZerosSplitTheSound has half a second of exact zeros in the sound, and
// elsewhere ten milliseconds, as a browser puts in.
func TestZerosSplitTheSound(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	l := live(t, s, ListenQuery{})
	x := ticks(10)
	clear(x[8*3000 : 8*3500])
	clear(x[8*7250 : 8*7260])
	send(t, l, x, 1, 0, began)
	st, h := ended(t, l)
	if _, got := times(h); !slices.Equal(got, []int{0, 0, 0, 1, 1, 1, 1, 2, 2}) { // the beat at 3.0125 s is silenced
		t.Errorf("runs %v", got)
	}
	z := marked(h, beat.Zeros)
	if len(z) != 2 || math.Abs(float64(z[0].At-3)) > 1e-9 || math.Abs(float64(z[0].Size-0.5)) > 1e-9 || math.Abs(float64(z[1].At-7.25)) > 1e-9 || math.Abs(float64(z[1].Size-0.01)) > 1e-9 {
		t.Errorf("%+v", z)
	}
	if st.GapCount != 0 || h.Runs[0].EndedBy != beat.Silence {
		t.Errorf("%d gaps, %+v", st.GapCount, h.Runs)
	}
	for _, b := range h.Beats {
		if f := float64(b.At) - math.Floor(float64(b.At)); math.Abs(f-0.0125) > 1e-9 {
			t.Errorf("a beat at %v", b.At)
		}
	}
}

// TestSilencedQuietIsNotABreak has exact zeros between all beats: something
// silences them, and the run is not split to pieces.
func TestSilencedQuietIsNotABreak(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	s.ears.look = time.Hour
	l := live(t, s, ListenQuery{})
	x := make([]float32, 8000*60)
	for i := range 60 {
		x[8000*i+100] = 0.5
	}
	for first := 0; first < len(x); first += 8000 {
		for l.mu.Lock(); l.behind(); l.mu.Lock() {
			l.mu.Unlock()
			time.Sleep(time.Millisecond)
		}
		l.mu.Unlock()
		roomFor(l)
		send(t, l, x[first:first+8000], 1, int64(first), began.Add(time.Duration(first)*time.Second/8000))
	}
	if why := l.State().Why; !strings.Contains(why, "noise suppression") {
		t.Errorf("%q", why)
	}
	_, h := ended(t, l)
	if _, got := times(h); got[len(got)-1]-got[len(got)-30] > 0 {
		t.Errorf("runs %v", got)
	}
}

// TestSenderCountsSplitTheRun tells of samples thrown away, and of stamps
// that jump by 5 ms.
func TestSenderCountsSplitTheRun(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	l := live(t, s, ListenQuery{})
	x := ticks(10)
	for first := 0; first < len(x); first += 800 {
		at := Stamp{Capture: 1, First: int64(first), Came: began.Add(time.Duration(first+800) * time.Second / 8000), Device: unit.Duration(100 + float64(first)/8000)}
		if first >= 8*2400 {
			at.Discarded = 160
		}
		if first >= 8*6400 {
			at.Device += 5e-3
		}
		if err := l.Write(x[first:first+800], at); err != nil {
			t.Fatal(err)
		}
	}
	_, h := ended(t, l)
	if _, got := times(h); !slices.Equal(got, []int{0, 0, 0, 1, 1, 1, 1, 2, 2, 2}) {
		t.Errorf("runs %v", got)
	}
	near := func(m []beat.Mark, at, size float64) bool {
		return len(m) == 1 && math.Abs(float64(m[0].At)-at) < 1e-9 && math.Abs(float64(m[0].Size)-size) < 1e-6
	}
	if th, sh := marked(h, Thrown), marked(h, Shifted); !near(th, 2.4, 0.02) || !near(sh, 6.4, -5e-3) {
		t.Errorf("%+v %+v", th, sh)
	}
}

// TestStepsOfTheClockSplitTheRun loses 21 ms unseen by the count, as a
// worklet does: the fitter finds it by when the blocks come, and the run is
// split there. Where a connection was only late nothing is split.
func TestStepsOfTheClockSplitTheRun(t *testing.T) {
	for _, late := range []bool{false, true} {
		s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
		s.ears.look = time.Hour
		l, err := s.StartLive(LiveOptions{Rate: 8000, Host: sampleclock.HostOf(sampleclock.NearServer)})
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(1, 1))
		x := ticks(1)
		for i := range int64(6000) {
			came := 0.1*float64(i+1) + 0.002*r.ExpFloat64()
			if !late && i >= 3000 {
				came += 0.021
			}
			slow := late && i >= 3000 && i < 3400
			if slow {
				came = max(came, 340)
			}
			if i%8 == 0 {
				roomFor(l)
			}
			part := x[800*(i%10) : 800*(i%10)+800]
			if err := l.Write(part, Stamp{First: 800 * i, Came: began.Add(time.Duration(came * 1e9)), Late: slow}); err != nil {
				t.Fatal(err)
			}
		}
		_, h := ended(t, l)
		steps := marked(h, beat.Step)
		if late {
			if len(steps) != 0 || len(h.Runs) != 1 || len(h.Beats) != 600 {
				t.Errorf("late: %+v, %d runs, %d beats", steps, len(h.Runs), len(h.Beats))
			}
			continue
		}
		if len(steps) != 1 || math.Abs(float64(steps[0].At-300)) > 2 || math.Abs(float64(steps[0].Size+0.021)) > 2e-3 || len(h.Runs) != 2 || h.Runs[0].EndedBy != beat.Stepped {
			t.Errorf("%+v %+v", steps, h.Runs)
		}
		for _, b := range h.Beats {
			if b.At > 300 && b.Run == 0 {
				t.Errorf("the beat at %v is reckoned with those before the step", b.At)
			}
		}
	}
}

// TestChangedRateIsLeftOut goes over to half the samples a second unseen by
// the count.
func TestChangedRateIsLeftOut(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	s.ears.look = time.Hour
	l := live(t, s, ListenQuery{})
	x, came := ticks(1), 0.0
	for i := range int64(3000) {
		came += 0.1
		if i >= 1500 {
			came += 0.1
		}
		if i%8 == 0 {
			roomFor(l)
		}
		if err := l.Write(x[800*(i%10):800*(i%10)+800], Stamp{First: 800 * i, Came: began.Add(time.Duration(came * 1e9))}); err != nil {
			t.Fatal(err)
		}
	}
	_, h := ended(t, l)
	if m := marked(h, RateChanged); len(m) != 1 || math.Abs(float64(m[0].At-150)) > 25 {
		t.Errorf("%+v", m)
	}
	if last := h.Beats[len(h.Beats)-1].At; last > 151 || last < 110 {
		t.Errorf("the last beat is at %v", last)
	}
}
