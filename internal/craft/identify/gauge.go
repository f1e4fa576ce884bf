package identify

import (
	_ "embed" // the tables
	"fmt"
	"math"
	"sync"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Gauge is one size of a plain gauge: wire, sheet, drill or pin.
type Gauge struct {
	Gauge string      `json:"gauge"` // "SWG", "Number drill"
	Size  string      `json:"size"`
	D     unit.Length `json:"diameter"` // or thickness; the small end of a taper pin
	Inch  bool        `json:"inch"`
	Ref   cite.Ref    `json:"source"`
}

// Name is "16 SWG", "No. 43 drill", "3 mm parallel pin".
func (g Gauge) Name() string {
	switch g.Gauge {
	case "Number drill":
		return "No. " + g.Size + " drill"
	case "Letter drill":
		return g.Size + " drill"
	case "Metric drill":
		return g.Size + " mm drill"
	case "Inch drill":
		return g.Size + " in drill"
	case "Parallel pin":
		return g.Size + " mm parallel pin"
	case "Taper pin":
		return g.Size + " mm taper pin"
	}
	return g.Size + " " + g.Gauge
}

var (
	//go:embed data/gauges.csv
	gaugesCSV string
	//go:embed data/pins.csv
	pinsCSV string
)

// gauges is the table, read once.
var gauges = sync.OnceValue(func() []Gauge {
	var out []Gauge
	for _, r := range records(gaugesCSV) {
		out = append(out, Gauge{r["gauge"], r["size"], unit.Inches(number(r["in"])), true, tableRef(r["source"], r["note"])})
	}
	for _, r := range records(pinsCSV) {
		out = append(out, Gauge{r["gauge"], r["size"], unit.Millimetres(number(r["mm"])), false, tableRef(r["source"], "")})
	}
	metric := cite.Ref{Grade: cite.CommonPractice, Note: "every 0.05 mm to 3 mm, every 0.1 mm to 14 mm"}
	for n := 6; n <= 60; n++ {
		out = append(out, metricDrill(float64(n)/20, metric))
	}
	for n := 31; n <= 140; n++ {
		out = append(out, metricDrill(float64(n)/10, metric))
	}
	for n := 1; n <= 32; n++ {
		a, b := n, 64
		for a%2 == 0 {
			a, b = a/2, b/2
		}
		out = append(out, Gauge{"Inch drill", fmt.Sprintf("%d/%d", a, b), unit.Inches(float64(n) / 64), true, cite.Ref{Grade: cite.CommonPractice, Note: "every 1/64 in to 1/2 in"}})
	}
	return out
})

func metricDrill(mm float64, ref cite.Ref) Gauge {
	return Gauge{"Metric drill", unit.Number(mm, 2), unit.Millimetres(math.Round(mm*100) / 100), false, ref}
}

// Gauges lists the sizes of all plain gauges.
func Gauges() []Gauge { return append([]Gauge(nil), gauges()...) }

// gaugesOf are the gauges that a thing of a kind may be of.
func gaugesOf(kind string) []string {
	return map[string][]string{
		Wire:  {"SWG", "BWG", "AWG", "Stubs steel wire"},
		Sheet: {"SWG", "BWG", "AWG"},
		Drill: {"Number drill", "Letter drill", "Metric drill", "Inch drill"},
		Pin:   {"Parallel pin", "Taper pin"},
	}[kind]
}

// nearestDrill is the drill nearest to a diameter, of the gauges named; least
// gives one that is not under it.
func nearestDrill(d unit.Length, atLeast bool, of ...string) (Gauge, bool) {
	var best Gauge
	found := false
	for _, g := range gauges() {
		ok := false
		for _, name := range of {
			ok = ok || g.Gauge == name
		}
		if !ok || (atLeast && g.D < d-1e-9) {
			continue
		}
		if !found || math.Abs(float64(g.D-d)) < math.Abs(float64(best.D-d)) {
			best, found = g, true
		}
	}
	return best, found
}
