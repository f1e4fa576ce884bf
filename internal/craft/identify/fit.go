package identify

import (
	_ "embed" // the table
	"fmt"
	"math"
	"strconv"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

//go:embed data/fits.csv
var fitsCSV string

// Fit is how a parallel pin of tolerance m6 sits in a hole of a class of
// ISO 286. Sizes are over or under the nominal one of pin and hole.
type Fit struct {
	Hole     string      `json:"hole"`     // "H7"
	Least    unit.Length `json:"least"`    // the hole over the nominal size
	Most     unit.Length `json:"most"`     // likewise
	Tightest unit.Length `json:"tightest"` // play of the pin; negative where it is driven in
	Loosest  unit.Length `json:"loosest"`
}

// tolerance is a row of the table: what a class allows over the nominal size.
type tolerance struct {
	kind, class string // "hole", "H7"
	over, to    float64
	upper       float64 // µm
	lower       float64
}

func tolerances() []tolerance {
	var out []tolerance
	for _, r := range records(fitsCSV) {
		out = append(out, tolerance{r["kind"], r["class"], number(r["over_mm"]), number(r["incl_mm"]), number(r["upper_um"]), number(r["lower_um"])})
	}
	return out
}

// pinClass is the tolerance of hardened and ground parallel pins.
const pinClass = "m6"

// fitsOf is how a parallel pin sits in the holes of the table, the loosest
// first; none where the table does not reach.
func fitsOf(g Gauge) []Fit {
	d := g.D.MM()
	within := func(t tolerance) bool { return d > t.over && d <= t.to }
	var pin tolerance
	for _, t := range tolerances() {
		if t.class == pinClass && within(t) {
			pin = t
		}
	}
	var out []Fit
	if g.Gauge != "Parallel pin" || pin.class == "" {
		return nil
	}
	micro := func(um float64) unit.Length { return unit.Length(um * 1e-6) }
	for _, t := range tolerances() {
		if t.kind == "hole" && within(t) {
			out = append(out, Fit{t.class, micro(t.lower), micro(t.upper), micro(t.lower - pin.upper), micro(t.upper - pin.lower)})
		}
	}
	return out
}

// fitChecks holds the widths of H6, H7 and H8 to 10, 16 and 25 units of
// i = 0.45 ∛D + 0.001 D µm, D in mm the geometric mean of the range's ends
// (ISO 286-1); the table rounds some of them up by more than half a µm.
func fitChecks() []cite.Check {
	var out []cite.Check
	units := map[string]float64{"H6": 10, "H7": 16, "H8": 25}
	for _, t := range tolerances() {
		n, ok := units[t.class]
		if !ok {
			continue
		}
		d := math.Sqrt(t.over * t.to)
		out = append(out, cite.Check{What: fmt.Sprintf("%s over %g to %g mm, width, µm", t.class, t.over, t.to), Ref: cite.Ref{Source: "iso286"},
			Printed: strconv.FormatFloat(t.upper-t.lower, 'f', -1, 64), Got: n * (.45*math.Cbrt(d) + .001*d), Tol: .75})
	}
	return out
}
