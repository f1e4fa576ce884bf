package drive

import (
	"encoding/json"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// ranges are sensible spans of each input, in its unit.
var ranges = map[string]struct {
	low, high float64
	unit      string
}{
	"weight_mass": {.5, 30, "kg"}, "weight_density": {6000, 12000, "kg/m³"}, "weight_diameter": {30, 120, "mm"}, "weight_height": {50, 240, "mm"}, "weight_bore": {0, 29, "mm"},
	"weight_wanted": {.5, 30, "kg"}, "weight_length": {240, 500, "mm"}, "barrel_diameter": {20, 200, "mm"}, "barrel_length": {1, 90, "mm"}, "turns": {.2, 40, ""}, "wraps": {0, 4, ""},
	"groove_pitch": {5, 9, "mm"}, "line_diameter": {.3, 5, "mm"}, "rope_grade": {800, 2200, "MPa"}, "rope_factor": {.2, .5, ""}, "line_strength": {100, 2000, "MPa"},
	"breaking_load": {10, 9000, "N"}, "factor": {1, 12, ""}, "turn_time": {.3, 700, "h"}, "turns_per_hour": {.002, 4, ""}, "running_time": {10, 800, "h"}, "beats_per_hour": {1000, 20000, ""},
	"fall": {50, 3000, "mm"}, "room": {5, 900, "mm"}, "seat_to_floor": {900, 4000, "mm"}, "top_gap": {0, 700, "mm"}, "barrel_above_seat": {-100, 100, "mm"}, "pendulum_length": {40, 4000, "mm"},
	"suspension_above_seat": {-300, 300, "mm"}, "bob_half_height": {0, 200, "mm"}, "bob_mass": {.02, 20, "kg"}, "amplitude": {.5, 20, "°"}, "swing_band": {1, 40, "%"}, "wound_at": {0, 24, "h"},
	"gravity": {9.75, 9.85, "m/s²"}, "friction": {0, 90, "%"}, "spring_barrel": {30, 90, "mm"}, "spring_arbor": {4, 25, "mm"}, "spring_thickness": {.05, .3, "mm"}, "spring_height": {5, 60, "mm"},
	"spring_length": {50, 700, "mm"}, "spring_modulus": {180, 220, "GPa"}, "spring_turns": {.5, 12, ""}, "coils_wound": {10, 40, ""}, "coils_down": {.5, 9, ""}, "spring_new_thickness": {.05, .6, "mm"},
	"fusee_barrel": {20, 80, "mm"}, "fusee_largest": {8, 40, "mm"}, "fusee_smallest": {4, 20, "mm"},
}

// words are what the inputs that are words may say.
var words = map[string][]string{
	"name": {"going", "🕰"}, "weight_material": {"lead", "cast iron"}, "barrel": {Plain, Grooved, Endless}, "barrel_material": {"brass", "wood"}, "line_material": {SteelLine, BrassLine, GutLine, Synthetic},
	"line_construction": {"7x7", "6x36 IWRC"}, "brass_temper": {"1/4 hard", "hard spring"}, "wound_on": {"sunday", "Sat"},
}

// anyQuery draws a query in which each input may stand or not.
func anyQuery(t *rapid.T) Query {
	in := map[string]any{}
	typ := reflect.TypeFor[Query]()
	for i := range typ.NumField() {
		name, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
		if !rapid.Bool().Draw(t, name+" stands") {
			continue
		}
		switch w, r := words[name], ranges[name]; {
		case w != nil:
			in[name] = rapid.SampledFrom(w).Draw(t, name)
		case name == "layers" || name == "falls":
			in[name] = rapid.IntRange(0, 4).Draw(t, name)
		case name == "fusee_torque":
			in[name] = "0 1250\n1 1130 ± 10\n2 900\n3.5 700 N mm"
		case r.high > 0:
			v := map[string]any{"value": rapid.Float64Range(r.low, r.high).Draw(t, name), "unit": r.unit}
			if rapid.Bool().Draw(t, name+" has a doubt") {
				v["u"] = (r.high - r.low) / 1e3
			}
			in[name] = v
		default:
			t.Fatalf("%s is not tried", name)
		}
	}
	b, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	var q Query
	if err := json.Unmarshal(b, &q); err != nil {
		t.Fatalf("%v: %s", err, b)
	}
	return q
}

// Whatever is given of a drive, it is answered or its mistakes are named, and
// no sentence speaks of what is not a number.
func TestAnyQueryIsAnswered(t *testing.T) {
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		q := anyQuery(t)
		a, err := Solve(q)
		if err != nil {
			if faults, ok := err.(meas.Faults); !ok || len(faults) == 0 {
				t.Fatal(err)
			}
			return
		}
		answered++
		out, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range []string{"NaN", "Inf"} {
			if strings.Contains(string(out), bad) {
				t.Fatalf("%s in %s", bad, out)
			}
		}
		a.At(unit.Day)
	})
	if answered == 0 {
		t.Error("nothing was answered")
	}
}

// Every member of question and answer is documented in the package comment.
func TestJSONIsDocumented(t *testing.T) {
	src, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, comment, _ := strings.Cut(string(src), "# JSON")
	documented := map[string]bool{}
	for _, w := range regexp.MustCompile(`[a-z_]+`).FindAllString(comment, -1) {
		documented[w] = true
	}
	var walk func(reflect.Type)
	walk = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct || !strings.HasSuffix(typ.PkgPath(), "craft/drive") {
			return
		}
		for i := range typ.NumField() {
			tag := typ.Field(i).Tag.Get("json")
			if name, _, _ := strings.Cut(tag, ","); tag != "" && !documented[name] {
				t.Errorf("%s of %s is not documented", name, typ.Name())
			}
			walk(typ.Field(i).Type)
		}
	}
	walk(reflect.TypeFor[Answer]())
}
