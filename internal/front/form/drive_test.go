package form

import (
	"reflect"
	"strings"
	"testing"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/unit"
)

func TestDriveIsFilled(t *testing.T) {
	var q drive.Query
	faults := Drive(&q).Fill(map[string][]string{
		"weight": {"12 lb"}, "barrel-diameter": {"50"}, "line-diameter": {"1.4"}, "falls": {"2"}, "turns": {"16"}, "turn-time": {"12"},
		"line-material": {"steel"}, "line-construction": {"6X7 FC"}, "rope-grade": {"1770"}, "wound-on": {"Saturday"}, "running-time": {"8"},
		"fusee-torque": {"0 1250 N mm\r\n4 1130"}, "spring-modulus": {"206"},
	})
	if len(faults) != 0 {
		t.Fatal(faults)
	}
	a, err := drive.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	check.Near(t, "running time, days", unit.In(a.Fall.RunningTime.Value, "d"), 8, 1e-12)
	check.Near(t, "breaking load", float64(a.Line.BreakingLoad.Value), 1.4*1.4*1770*.332, 1e-9)
	if len(q.FuseeTorque) != 2 || q.WeightMass.Entered != "12 lb" {
		t.Errorf("%+v", q)
	}
}

// Every input of the query has a field, and every fault names one.
func TestDriveHasAFieldForEverything(t *testing.T) {
	var q drive.Query
	names := map[string]bool{}
	for _, f := range Drive(&q).Fields() {
		if names[f.Name] {
			t.Errorf("%s stands twice", f.Name)
		}
		names[f.Name] = true
	}
	typ := reflect.TypeFor[drive.Query]()
	for i := range typ.NumField() {
		tag, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
		want := strings.ReplaceAll(tag, "_", "-")
		if want == "weight-mass" {
			want = "weight"
		}
		if !names[want] {
			t.Errorf("there is no field for %s", tag)
		}
	}
}
