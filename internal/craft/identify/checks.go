package identify

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
)

// Checks compares printed figures with those reckoned here.
func Checks() []cite.Check {
	out := baChecks()
	out = append(out, whitworthChecks()...)
	out = append(out, unifiedChecks()...)
	out = append(out, isoChecks()...)
	out = append(out, fitChecks()...)
	return append(out, gaugeChecks()...)
}

// shortest writes a figure of a table as it is printed there.
func shortest(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e6)/1e6, 'f', -1, 64)
}

// baChecks holds every BA size to p = 0.9ⁿ, rounded to 0.01 mm, and
// D = 6 p^1.2, rounded to two figures.
func baChecks() []cite.Check {
	var out []cite.Check
	ref := cite.Ref{Source: "bs93"}
	for n, t := range seriesRows("BA") {
		p := math.Pow(.9, float64(n))
		out = append(out, cite.Check{What: fmt.Sprintf("%d BA, pitch, mm", n), Ref: ref, Printed: shortest(float64(t.Pitch) * 1000), Got: math.Round(p*100) / 100, Tol: 1e-9})
		d := 6 * math.Pow(p, 1.2)
		ten := math.Pow10(int(math.Floor(math.Log10(d))) - 1)
		out = append(out, cite.Check{What: fmt.Sprintf("%d BA, major diameter, mm", n), Ref: ref, Printed: shortest(t.Major.MM()), Got: math.Round(d/ten) * ten, Tol: 1e-9})
	}
	return out
}

func seriesRows(name string) []Thread {
	for _, t := range Tables() {
		if t.Name == name {
			return t.Rows
		}
	}
	return nil
}

// whitworthChecks: depth and radius from the triangle of 55° with a sixth cut
// off at top and bottom, and the diameters of every row.
func whitworthChecks() []cite.Check {
	ref := cite.Ref{Source: "bs84"}
	half := 55.0 / 2 * math.Pi / 180
	h := 1 / (2 * math.Tan(half))
	out := []cite.Check{
		{What: "Whitworth, height of the triangle, in pitches", Ref: ref, Printed: ".960491", Got: h},
		{What: "Whitworth, depth", Ref: ref, Printed: ".640327", Got: h * 2 / 3},
		{What: "Whitworth, radius", Ref: ref, Printed: ".137329", Got: h / 6 * math.Sin(half) / (1 - math.Sin(half))},
	}
	for _, name := range []string{"BSW", "BSF", "Brass 26"} {
		for _, t := range seriesRows(name) {
			s := ShapeOf(t)
			r := ref
			if name == "Brass 26" {
				r = t.Ref
			}
			out = append(out,
				cite.Check{What: t.Name() + ", effective, in", Ref: r, Printed: fmt.Sprintf("%.4f", t.Effective/.0254), Got: float64(s.Effective / .0254), Tol: 1.01e-4},
				cite.Check{What: t.Name() + ", core, in", Ref: r, Printed: fmt.Sprintf("%.4f", t.Minor/.0254), Got: float64(s.Core / .0254), Tol: 1.01e-4})
		}
	}
	return out
}

// unifiedChecks: numbered sizes are 0.060 + 0.013 n in.
func unifiedChecks() []cite.Check {
	var out []cite.Check
	for _, name := range []string{"Unified coarse", "Wood screw"} {
		for _, t := range seriesRows(name) {
			n, err := strconv.Atoi(strings.TrimPrefix(t.Size, "No. "))
			if err != nil {
				continue
			}
			out = append(out, cite.Check{What: t.Name() + ", diameter, in", Ref: t.Ref, Printed: shortest(float64(t.Major) / .0254), Got: .060 + .013*float64(n), Tol: 1e-9})
		}
	}
	return out
}

// isoChecks: pitch diameter and core of every coarse size, to 0.001 mm.
func isoChecks() []cite.Check {
	var out []cite.Check
	for _, t := range seriesRows("ISO metric") {
		s := ShapeOf(t)
		out = append(out,
			cite.Check{What: t.Size + ", pitch diameter, mm", Ref: t.Ref, Printed: fmt.Sprintf("%.3f", t.Effective.MM()), Got: s.Effective.MM(), Tol: .00051},
			cite.Check{What: t.Size + ", core, mm", Ref: t.Ref, Printed: fmt.Sprintf("%.3f", t.Minor.MM()), Got: s.Core.MM(), Tol: .00061})
	}
	return out
}

// gaugeChecks: AWG by its ratio, and sizes that two sources print.
func gaugeChecks() []cite.Check {
	var out []cite.Check
	for _, g := range gauges() {
		if g.Gauge != "AWG" {
			continue
		}
		n, err := strconv.Atoi(g.Size)
		if over, ok := strings.CutSuffix(g.Size, "/0"); ok {
			k, e := strconv.Atoi(over)
			n, err = 1-k, e
		}
		if err != nil {
			continue
		}
		out = append(out, cite.Check{What: g.Size + " AWG, in", Ref: g.Ref, Printed: shortest(float64(g.D) / .0254), Got: .005 * math.Pow(92, float64(36-n)/39), Tol: 5.1e-6 + 5e-5*boolean(n <= 0)})
	}
	return out
}

// boolean is 1 for what is so: the largest sizes are printed with a figure
// less.
func boolean(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
