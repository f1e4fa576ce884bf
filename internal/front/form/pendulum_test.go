package form

import (
	"errors"
	"testing"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/meas"
)

// fieldNames are the names a form declares.
func fieldNames(f Form) map[string]Field {
	out := map[string]Field{}
	for _, x := range f.Fields() {
		out[x.Name] = x
	}
	return out
}

// A mistake is named by a field that the form has.
func TestPendulumFaultsStandAtFields(t *testing.T) {
	var q pendulum.Query
	names := fieldNames(Pendulum(&q))
	for field, typed := range map[string]string{
		"beats": "0", "beat": "-1", "length": "-5", "gravity": "12", "to-gravity": "12", "seconds-pendulum": "39.14", "latitude": "91", "to-latitude": "-91",
		"height": "9001", "to-height": "-501", "arc": "-1", "to-arc": "91", "rod-length": "0", "rod-diameter": "0", "rod-width": "-1", "rod-thickness": "-1", "rod-mass": "0",
		"bob-diameter": "0", "bob-height": "0", "bob-mass": "-1", "bob-density": "1", "bob-centre": "0", "nut-mass": "0", "nut-at": "0", "nut-pitch": "-0.6", "nut-divisions": "1001",
		"regulate": "9999", "warmer": "999", "temperature": "99", "pressure": "1", "humidity": "101", "tray-at": "0", "mass": "0",
		"rod": "cheese", "bob": "egg", "bob-material": "cheese", "ellipsoid": "flat",
	} {
		if _, ok := names[field]; !ok {
			t.Errorf("the form has no field %s", field)
			continue
		}
		q = pendulum.Query{}
		faults := Pendulum(&q).Fill(map[string][]string{field: {typed}})
		if len(faults) == 0 {
			_, err := pendulum.Solve(q)
			errors.As(err, &faults)
		}
		if len(faults) != 1 && !(len(faults) > 1 && (field == "height" || field == "to-height")) || faults[0].Field != field {
			t.Errorf("%s %q: got %v", field, typed, faults)
		}
	}
	if len(names) != 37 {
		t.Errorf("%d fields, of which 37 are tried here", len(names))
	}
}

// Every material that can be chosen can be reckoned with.
func TestPendulumMaterials(t *testing.T) {
	var q pendulum.Query
	names := fieldNames(Pendulum(&q))
	for _, field := range []string{"rod", "bob-material"} {
		for _, o := range names[field].Options {
			q = pendulum.Query{}
			if faults := Pendulum(&q).Fill(map[string][]string{field: {o.Value}}); len(faults) > 0 {
				t.Errorf("%s %s: %v", field, o.Value, faults)
			}
			a, err := pendulum.Solve(q)
			var faults meas.Faults
			if errors.As(err, &faults) || field == "rod" && !a.Warmth.PerKelvin.Set {
				t.Errorf("%s %s: %v, %v", field, o.Value, err, a.Warmth)
			}
		}
	}
	if n := len(names["rod"].Options); n < 12 {
		t.Errorf("only %d rods", n)
	}
}
