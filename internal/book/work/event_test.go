package work

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/book/ledger"
)

func entry(h float64) ledger.Entry { return ledger.Entry{When: at(h), Who: "Ada"} }

// TestLogOfHours: begun, stopped, corrected, struck, taken back.
func TestLogOfHours(t *testing.T) {
	h, err := FoldHours(nil)
	if err != nil {
		t.Fatal(err)
	}
	add := func(k Kind, s Stretch, undoes int) Event {
		t.Helper()
		e := entry(0)
		e.Undoes = undoes
		done, f := h.Add(Event{Entry: e, Kind: k, Stretch: s})
		if len(f) > 0 {
			t.Fatalf("%s: %v", k, f)
		}
		return done
	}
	s := add(Began, Stretch{Who: "Ada", Start: at(0)}, 0).Stretch
	if s.N != 1 || !h.Open(Rule{}) {
		t.Fatalf("%+v", s)
	}
	done, _ := s.Stop(at(1))
	add(Stopped, done, 0)
	if h.Open(Rule{}) {
		t.Error("nothing is under way")
	}
	add(Undone, Stretch{}, 2) // it was stopped by mistake
	if x, _ := h.Find(1); !x.Running() {
		t.Errorf("%+v", x)
	}
	if _, f := h.Add(Event{Entry: ledger.Entry{When: at(0), Who: "Ada", Undoes: 2}, Kind: Undone}); len(f) == 0 {
		t.Error("taken back twice")
	}
	done, _ = s.Stop(at(2))
	add(Stopped, done, 0)
	done.Task = "pivots"
	add(Changed, done, 0)
	if _, f := h.Add(Event{Entry: ledger.Entry{When: at(0), Who: "Ada", Undoes: 4}, Kind: Undone}); len(f) == 0 {
		t.Error("an entry under another was taken back")
	}
	add(Undone, Stretch{}, 5)
	add(Undone, Stretch{}, 4)
	add(Undone, Stretch{}, 1)
	if _, ok := h.Find(1); ok || len(h.Stretches()) != 0 || len(h.Of(1)) != 8 {
		t.Errorf("%v %d", h.Stretches(), len(h.Of(1)))
	}
	if s := add(Written, Stretch{Who: "Bo", Start: at(0), End: at(1), ByHand: true}, 0).Stretch; s.N != 2 {
		t.Errorf("a number was given out twice: %d", s.N)
	}
	text, err := json.Marshal(h.Log())
	if err != nil {
		t.Fatal(err)
	}
	var log []Event
	if err := json.Unmarshal(text, &log); err != nil {
		t.Fatal(err)
	}
	again, err := FoldHours(log)
	if err != nil || len(again.Stretches()) != 1 || again.Stretches()[0].plain() != h.Stretches()[0].plain() {
		t.Errorf("%v %v", again.Stretches(), err)
	}
}

func TestWhatWasBilledStays(t *testing.T) {
	billed := stretch(1, 0, 1)
	billed.Billed = "2026-4"
	log := []Event{{Entry: ledger.Entry{N: 1, When: at(0), Who: "Ada"}, Kind: Written, Stretch: billed}}
	h, err := FoldHours(log)
	if err != nil {
		t.Fatal(err)
	}
	other := billed
	other.End = at(2)
	for _, e := range []Event{{Kind: Changed, Stretch: other}, {Kind: Undone, Entry: ledger.Entry{Undoes: 1}}} {
		e.When, e.Who = at(0), "Ada"
		if _, f := h.Add(e); len(f) == 0 {
			t.Errorf("%s of billed work was taken", e.Kind)
		}
	}
	same := billed
	same.Note, same.Start = "a word", billed.Start.In(time.FixedZone("other", 7200))
	if _, f := h.Add(Event{Entry: entry(0), Kind: Changed, Stretch: same}); len(f) > 0 {
		t.Errorf("a note on billed work: %v", f)
	}
}

// TestDamagedEntriesAreLeftOut: what cannot be does not hide the rest.
func TestDamagedEntriesAreLeftOut(t *testing.T) {
	log := []Event{
		{Entry: ledger.Entry{N: 1, When: at(0), Who: "Ada"}, Kind: Began, Stretch: stretch(1, 0, 0)},
		{Entry: ledger.Entry{N: 2, When: at(0), Who: "Ada"}, Kind: Stopped, Stretch: stretch(7, 0, 1)},
		{Entry: ledger.Entry{N: 3, When: at(0), Who: "Ada"}, Kind: "painted", Stretch: stretch(1, 0, 9)},
		{Entry: ledger.Entry{N: 4, When: at(0), Who: "Ada", Undoes: 3}, Kind: Undone},
		{Entry: ledger.Entry{N: 5, When: at(0), Who: "Ada"}, Kind: Stopped, Stretch: stretch(1, 0, 1)},
	}
	h, err := FoldHours(log)
	if err == nil {
		t.Error("the damage is not said")
	}
	if s := h.Stretches(); len(s) != 1 || s[0].Length() != time.Hour {
		t.Errorf("%v", s)
	}
}

func TestSpansAsTyped(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no zones here")
	}
	day := time.Date(2026, 3, 4, 20, 0, 0, 0, zone)
	for typed, want := range map[string]string{
		"1:30": "1:30", "1.5 h": "1:30", "1,5 h": "1:30", "1.5": "1:30", "90 min": "1:30", "1h30": "1:30", "1 h 05": "1:05", "0:05": "0:05", "1 1/2 h": "1:30", "1.75": "1:45",
		"9:15–11:40": "09:15–11:40", "9-11": "09:00–11:00", "9.15 - 11.40": "09:15–11:40", "2.30pm to 4pm": "14:30–16:00", "22:00–1:00": "22:00–01:00", "9:15–": "09:15–", "12am-1am": "00:00–01:00", "23-24": "23:00–00:00",
	} {
		s, f := ParseSpan(typed, day, zone)
		if got := (Stretch{Start: s.Start, End: s.End, DayOnly: s.DayOnly}).Typed(zone); len(f) > 0 || got != want {
			t.Errorf("%q is %q, want %q %v", typed, got, want, f)
		}
	}
	for typed, want := range map[string]string{"": "Enter", "2": "2 h or 2 min", "1.30": "1:30 or 1.30 h", "1,25": "1:25", "9-5": "18 h|20 h", "25:00–26:00": "not an hour", "13pm-14": "am and pm", "0:00": "longer than", "19 h": "one day", "1:75": "longer than", "soon": "not a length", "-3 h": "", "24:30-25": "not an hour"} {
		_, f := ParseSpan(typed, day, zone)
		ok := len(f) > 0
		for _, w := range strings.Split(want, "|") {
			ok = ok && (strings.Contains(f[0].Text, w) || strings.Contains(want, "|"))
		}
		if !ok {
			t.Errorf("%q: %v, want %q", typed, f, want)
		}
	}
}

// TestHoursThatTheClocksSkipOrRepeat: summer time is reckoned from instants,
// and an hour that is none or two is asked for.
func TestHoursThatTheClocksSkipOrRepeat(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no zones here")
	}
	spring, autumn := time.Date(2026, 3, 29, 12, 0, 0, 0, zone), time.Date(2026, 10, 25, 12, 0, 0, 0, zone)
	if s, f := ParseSpan("1:00–4:00", spring, zone); len(f) > 0 || s.End.Sub(s.Start) != 2*time.Hour {
		t.Errorf("%v %v", s, f)
	}
	if s, f := ParseSpan("1:00–4:00", autumn, zone); len(f) > 0 || s.End.Sub(s.Start) != 4*time.Hour {
		t.Errorf("%v %v", s, f)
	}
	if _, f := ParseSpan("2:30–4:00", spring, zone); len(f) != 1 || !strings.Contains(f[0].Text, "There was no 2:30") {
		t.Errorf("%v", f)
	}
	if _, f := ParseSpan("2:30–4:00", autumn, zone); len(f) != 1 || !strings.Contains(f[0].Text, "twice") || !strings.Contains(f[0].Text, "2:30 +02:00") {
		t.Errorf("%v", f)
	}
	if s, f := ParseSpan("2:30 +01:00–4:00", autumn, zone); len(f) > 0 || s.End.Sub(s.Start) != 90*time.Minute {
		t.Errorf("%v %v", s, f)
	}
}

// TestSpansRoundTrip: what is shown can be typed again and says the same.
func TestSpansRoundTrip(t *testing.T) {
	zone, err := time.LoadLocation("Australia/Lord_Howe") // its summer time is half an hour
	if err != nil {
		t.Skip("no zones here")
	}
	rapid.Check(t, func(t *rapid.T) {
		start := time.Unix(rapid.Int64Range(1767225600, 1830297600).Draw(t, "start")/60*60, 0).In(zone)
		s := Stretch{Start: start, End: start.Add(time.Duration(rapid.IntRange(1, 12*60).Draw(t, "minutes")) * time.Minute)}
		got, f := ParseSpan(s.Typed(zone), start, zone)
		if len(f) > 0 {
			if !strings.Contains(f[0].Text, "twice") {
				t.Fatalf("%s: %v", s.Typed(zone), f)
			}
			return
		}
		if !got.Start.Equal(s.Start) || !got.End.Equal(s.End) {
			t.Fatalf("%s: %v–%v, want %v–%v", s.Typed(zone), got.Start, got.End, s.Start, s.End)
		}
	})
}

func FuzzParseSpan(f *testing.F) {
	for _, s := range []string{"1:30", "9-11", "2:30 +02:00–3", "1 h 20 min", "−", "9:15–"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		s, faults := ParseSpan(typed, nine, time.UTC)
		if len(faults) == 0 && !s.End.IsZero() && (!s.End.After(s.Start) || s.End.Sub(s.Start) > longestTyped) {
			t.Errorf("%q is %v to %v", typed, s.Start, s.End)
		}
	})
}

// TestHoursThroughAnyDeeds: whatever is begun, stopped, struck and taken back,
// the log read anew says the same, no number is given out twice, and a sum is
// that of the stretches that count.
func TestHoursThroughAnyDeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var h Hours
		given := 0
		for i := range rapid.IntRange(1, 40).Draw(t, "deeds") {
			now := float64(i)
			e := Event{Entry: entry(now), Kind: rapid.SampledFrom([]Kind{Began, Stopped, Written, Answered, Changed, Struck, Moved, Undone}).Draw(t, "kind")}
			s, _ := h.Find(rapid.IntRange(0, given+1).Draw(t, "n"))
			switch e.Kind {
			case Began:
				s = Stretch{Who: "Ada", Start: at(now)}
			case Written:
				s = Stretch{Who: "Bo", Start: at(now), End: at(now + 0.5), ByHand: true}
			case Stopped, Answered:
				s.End, s.Confirmed = at(now+0.25), true
			case Changed:
				s.Task = "other"
			case Struck, Moved:
				s.Removed = at(now)
			case Undone:
				e.Undoes, s = rapid.IntRange(0, len(h.log)+1).Draw(t, "undoes"), Stretch{}
			}
			e.Stretch = s
			before := len(h.log)
			done, f := h.Add(e)
			if len(f) > 0 {
				if len(h.log) != before {
					t.Fatal("a refused entry was added")
				}
				continue
			}
			if e.Kind == Began || e.Kind == Written {
				if done.Stretch.N != given+1 {
					t.Fatalf("number %d after %d", done.Stretch.N, given)
				}
				given++
			}
		}
		again, err := FoldHours(h.Log())
		if err != nil {
			t.Fatal(err)
		}
		var want time.Duration
		a, b := h.Stretches(), again.Stretches()
		if len(a) != len(b) {
			t.Fatalf("%d stretches, read anew %d", len(a), len(b))
		}
		for i := range a {
			if a[i].plain() != b[i].plain() {
				t.Fatalf("%+v\n%+v", a[i], b[i])
			}
			if _, asked := (Rule{}).Asks(a[i], at(100), time.Time{}); a[i].Removed.IsZero() && !a[i].Running() && !asked {
				want += a[i].Length()
			}
		}
		if got := Sum(a, Rule{}, at(100)).Total; got != want {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}
