package work

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var nine = time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)

func at(h float64) time.Time { return nine.Add(time.Duration(h * float64(time.Hour))) }

func stretch(n int, from, to float64) Stretch {
	s := Stretch{N: n, Who: "Ada", Clock: "2026-014", Chapter: "Movement", Task: "pivots", Start: at(from)}
	if to > from {
		s.End = at(to)
	}
	return s
}

func TestOneRunningClockPerPerson(t *testing.T) {
	s, f := Begin(nil, Stretch{Who: "Ada"}, nine)
	if len(f) > 0 || s.N != 1 || !s.Running() {
		t.Fatalf("%+v %v", s, f)
	}
	if _, f := Begin([]Stretch{s}, Stretch{Who: " ada "}, at(1)); len(f) != 1 || !strings.Contains(f[0].Text, "since 09:00") {
		t.Errorf("a second clock for the same person: %v", f)
	}
	if b, f := Begin([]Stretch{s}, Stretch{Who: "Bo"}, at(1)); len(f) > 0 || b.N != 2 {
		t.Errorf("another person: %+v %v", b, f)
	}
	done, f := s.Stop(at(2))
	if len(f) > 0 || done.Length() != 2*time.Hour {
		t.Errorf("%v %v", done.Length(), f)
	}
	if _, f := done.Stop(at(3)); len(f) != 1 {
		t.Error("stopped twice")
	}
	if _, f := s.Stop(at(-1)); len(f) != 1 {
		t.Error("stopped before it began")
	}
	if _, f := Begin([]Stretch{done}, Stretch{Who: "Ada"}, at(3)); len(f) > 0 {
		t.Errorf("after stopping: %v", f)
	}
}

func TestCheckNamesAllMistakes(t *testing.T) {
	if f := (Stretch{ByHand: true, Note: "\x00"}).Check(); len(f) != 3 {
		t.Errorf("%v", f)
	}
	if f := (Stretch{Who: "A", Start: nine, ByHand: true}).Check(); len(f) != 1 {
		t.Errorf("%v", f)
	}
}

func TestForgottenTimersAreAskedAbout(t *testing.T) {
	zone := time.FixedZone("shop", 3600)
	r := Rule{Zone: zone}
	for name, c := range map[string]struct {
		s    Stretch
		now  float64
		asks bool
	}{
		"four hours":           {stretch(1, 0, 4), 5, false},
		"running, five hours":  {stretch(1, 0, 0), 5, false},
		"running, seven hours": {stretch(1, 0, 0), 7, true},
		"ended, seven hours":   {stretch(1, 0, 7), 8, true},
		"over local midnight":  {stretch(1, 12.5, 14.5), 15, true}, // 22:30 to 0:30 in the shop
		"to local midnight":    {stretch(1, 12.5, 14), 15, false},
		"340 hours":            {stretch(1, 0, 0), 340, true},
		"ended, confirmed":     {func() Stretch { s := stretch(1, 0, 9); s.Confirmed = true; return s }(), 10, false},
		"typed by hand":        {func() Stretch { s := stretch(1, 0, 9); s.ByHand = true; return s }(), 10, false},
	} {
		q, asks := r.Asks(c.s, at(c.now), time.Time{})
		if asks != c.asks {
			t.Errorf("%s: %v %v", name, asks, q)
		}
		if asks && (len(q.Ends) == 0 || !strings.Contains(q.Text, "When did the work end?")) {
			t.Errorf("%s: %+v", name, q)
		}
	}
	q, _ := r.Asks(stretch(1, 0, 0), at(20), at(3.5))
	if want := []time.Time{at(3.5), at(6), at(14), at(20)}; !slices.EqualFunc(q.Ends, want, time.Time.Equal) {
		t.Errorf("ends offered %v, want %v", q.Ends, want)
	}
}

// Summer time: the stretch is as long as the instants say, and midnight is the
// one of the wall.
func TestSummerTime(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no time zones on this machine")
	}
	begin := time.Date(2026, 3, 28, 23, 0, 0, 0, zone)
	s := Stretch{Who: "A", Start: begin, End: time.Date(2026, 3, 29, 4, 0, 0, 0, zone)}
	if s.Length() != 4*time.Hour || s.Day(zone) != "2026-03-28" {
		t.Errorf("%v on %s", s.Length(), s.Day(zone))
	}
	if q, ok := (Rule{Zone: zone}).Asks(s, s.End, time.Time{}); !ok || !q.Ends[0].Equal(time.Date(2026, 3, 29, 0, 0, 0, 0, zone)) {
		t.Errorf("%v %v", q, ok)
	}
}

func TestSums(t *testing.T) {
	billed, removed, other := stretch(2, 2, 3), stretch(3, 4, 5), stretch(4, 5, 6)
	billed.Billed, removed.Removed, other.Task = "R 7", nine, "bushes"
	all := []Stretch{stretch(1, 0, 1.5), billed, removed, other, stretch(5, 20, 27.5), stretch(6, 7, 0)}
	s := Sum(all, Rule{}, at(8))
	if len(s.Lines) != 2 || s.Total != 3*time.Hour+30*time.Minute || len(s.Asked) != 1 || len(s.Runs) != 1 {
		t.Fatalf("%+v", s)
	}
	if l := s.Lines[1]; l.Task != "pivots" || l.Length != 150*time.Minute || l.Unbilled != 90*time.Minute {
		t.Errorf("%+v", l)
	}
	if b := Billable(all, Rule{}, at(8)); len(b) != 2 || b[0].N != 1 || b[1].N != 4 {
		t.Errorf("billable %+v", b)
	}
}

func TestBilledHoursAreLocked(t *testing.T) {
	s := stretch(1, 0, 1)
	s.Billed = "R 7"
	longer := s
	longer.End = at(2)
	free := s
	free.Billed = ""
	noted := s
	noted.Note = "with the new burnisher"
	for name, c := range map[string]struct {
		after Stretch
		ok    bool
	}{"longer": {longer, false}, "off the bill": {free, false}, "a note": {noted, true}} {
		if f := Change(s, c.after); (len(f) == 0) != c.ok {
			t.Errorf("%s: %v", name, f)
		}
	}
}

func TestOverlaps(t *testing.T) {
	bo := stretch(3, 1, 2)
	bo.Who = "Bo"
	if f := Overlaps([]Stretch{stretch(2, 1.5, 3), stretch(1, 0, 2), bo}, at(9)); len(f) != 1 || !slices.Equal(f[0].About, []string{"1", "2"}) {
		t.Errorf("%v", f)
	}
	if f := Overlaps([]Stretch{stretch(1, 0, 1), stretch(2, 1, 2)}, at(9)); len(f) != 0 {
		t.Errorf("one after the other: %v", f)
	}
}

// What is summed, asked about and running is everything that stands, each
// once, and nothing that is asked about is billable.
func TestEveryHourIsSomewhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []Stretch
		for i := range rapid.IntRange(0, 30).Draw(t, "n") {
			from := rapid.Float64Range(0, 100).Draw(t, "from")
			s := stretch(i+1, from, from+rapid.Float64Range(-1, 12).Draw(t, "long"))
			s.Confirmed = rapid.Bool().Draw(t, "confirmed")
			all = append(all, s)
		}
		s := Sum(all, Rule{}, at(200))
		var total time.Duration
		n := len(s.Asked) + len(s.Runs)
		for _, x := range all {
			if _, asked := (Rule{}).Asks(x, at(200), time.Time{}); !asked && !x.Running() {
				total += x.Length()
				n++
			}
		}
		if total != s.Total || n != len(all) {
			t.Fatalf("%v of %v, %d of %d", s.Total, total, n, len(all))
		}
		for _, b := range Billable(all, Rule{}, at(200)) {
			if slices.Contains(s.Asked, b) {
				t.Fatalf("%+v is asked about and billable", b)
			}
		}
	})
}
