package form

import (
	"context"
	"math"
	"testing"
	"time"

	"seatboard/internal/craft/regulate"
)

// What is typed becomes the question as it was meant: zone, divisions and rod
// are read together with the lines.
func TestTrialIsPutTogether(t *testing.T) {
	var typed Trial
	f := Regulate(&typed)
	if faults := f.Fill(map[string][]string{
		"lines": {"2026-11-03 09:14 +12 s\n2026-11-05 09:14 nut up 15 divisions\n2026-11-06 09:14 +20 s"}, "zone": {"+01:00"}, "divisions": {"60"},
		"rod": {"steel"}, "per-turn": {"30 ± 3"}, "band": {"1"}, "days": {"14"},
	}); len(faults) > 0 {
		t.Fatal(faults)
	}
	q, said, err := typed.Query(context.Background())
	if err != nil || len(said) > 0 {
		t.Fatal(err, said)
	}
	if !q.Readings[0].At.Equal(time.Date(2026, 11, 3, 8, 14, 0, 0, time.UTC)) || q.Touches[0].Turns != .25 || !q.Now.Equal(q.Readings[1].At) {
		t.Errorf("%+v %+v now %v", q.Readings[0], q.Touches[0], q.Now)
	}
	k := q.Known
	if k.Divisions != 60 || math.Abs(k.PerTurn.U.PerDay()-3) > 1e-9 || math.Abs(k.PerKelvin.Value.PerDay()+.4977) > .001 || !(k.PerKelvin.U > 0) {
		t.Errorf("known %+v", k)
	}
	if w := q.Wanted; math.Abs(w.Band.PerDay()-1) > 1e-9 || w.Days != 14 {
		t.Errorf("wanted %+v", w)
	}
}

// A table is told from lines, and what was supposed of it is said.
func TestTrialFromATable(t *testing.T) {
	for text, want := range map[string]bool{
		"when,error s\n2026-11-03 09:00,12": true, "2026-11-03 09:00;12\n": true, "2026-11-03 09:00\t12": true,
		"2026-11-03 09:00 +12 s, 17 °C": false, "# notes, mine\n2026-11-03 09:00 +12 s": false, "": false, "3 Nov 2026 09:00 +1 s, 3 °C": false,
	} {
		if got := isTable(text); got != want {
			t.Errorf("%q: table %v", text, got)
		}
	}
	q, _, err := Trial{Zone: "UTC", Lines: "when,error s,temperature C\n2026-11-03 09:00,12,17\n2026-11-04 09:00,14.5,17.2\n2026-11-05 09:00,17,16\n"}.Query(context.Background())
	if err != nil || len(q.Readings) != 3 || len(q.Air) != 3 || q.Readings[2].ID != 3 || q.Readings[1].Error != 14.5 {
		t.Fatalf("%+v %v", q, err)
	}
	if f := q.Check(); len(f) > 0 {
		t.Error(f)
	}
	if _, err := regulate.Solve(context.Background(), q); err != nil {
		t.Error(err)
	}
}
