package form

import (
	"math"
	"testing"

	"seatboard/internal/craft/tooth"
)

func TestToothForm(t *testing.T) {
	var q tooth.Query
	f := Tooth(&q).Fill(map[string][]string{"wheel": {"60"}, "leaves": {"8"}, "form": {"Exact"}, "part": {"wheel"}, "wheel-outside": {"1.98 in ± 0.002"},
		"diametral-pitch": {"32"}, "leaf": {"0.35"}, "crossings": {"5"}, "hole": {"5"}})
	if len(f) > 0 {
		t.Fatal(f)
	}
	if q.Wheel != 60 || q.Leaves != 8 || q.Form != tooth.Exact || q.Part != tooth.TheWheel || math.Abs(q.WheelOutside.U.MM()-0.0508) > 1e-9 || q.Crossings != 5 {
		t.Errorf("%+v", q)
	}
	f = Tooth(&q).Fill(map[string][]string{"wheel": {"sixty"}, "form": {"involute"}, "module": {"0.8 kg"}, "crossings": {"1"}})
	if len(f) != 4 {
		t.Errorf("%d mistakes: %v", len(f), f)
	}
}

// TestToothCheckNamesFields: every mistake of the query stands beside a field
// of the form.
func TestToothCheckNamesFields(t *testing.T) {
	var q tooth.Query
	known := map[string]bool{}
	for _, f := range Tooth(&q).Fields() {
		known[f.Name] = true
	}
	if f := Tooth(&q).Fill(map[string][]string{"wheel": {"9000"}, "leaves": {"3"}, "module": {"-1"}, "diametral-pitch": {"1"}, "circular-pitch": {"0"}, "wheel-outside": {"0"},
		"pinion-outside": {"-1"}, "distance": {"-1"}, "wheel-pitch-diameter": {"0"}, "pinion-pitch-diameter": {"9 km"}, "height": {"9"}, "leaf": {"0.9"}, "pin": {"1"}, "hole": {"-1"}, "rim": {"0"}, "arm": {"0"}, "hub": {"0"}}); len(f) > 1 {
		t.Fatal(f)
	}
	faults := q.Check()
	if len(faults) < 16 {
		t.Errorf("%d mistakes: %v", len(faults), faults)
	}
	for _, f := range faults {
		if !known[f.Field] {
			t.Errorf("%q is no field", f.Field)
		}
	}
}
