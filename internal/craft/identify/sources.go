package identify

import (
	"fmt"

	"seatboard/internal/kit/cite"
)

// Sources lists every table and allowance that the chapter leans on.
func Sources() []cite.Entry {
	var out []cite.Entry
	for _, t := range Tables() {
		out = append(out, cite.Entry{Name: "threads, " + t.Name, Value: fmt.Sprintf("%d rows", len(t.Rows)), Ref: t.Ref})
	}
	count := map[string]int{}
	var names []string
	refs := map[string]cite.Ref{}
	for _, g := range gauges() {
		if count[g.Gauge] == 0 {
			names, refs[g.Gauge] = append(names, g.Gauge), g.Ref
		}
		count[g.Gauge]++
	}
	for _, n := range names {
		out = append(out, cite.Entry{Name: "sizes, " + n, Value: fmt.Sprintf("%d rows", count[n]), Ref: refs[n]})
	}
	for _, e := range []struct {
		name string
		ref  cite.Ref
	}{{"screw under its major diameter", screwAllowance}, {"tapped hole over its bore", holeAllowance}, {"worn crests", wornAllowance}, {"wire", wireAllowance}, {"drill", drillAllowance}, {"pin", pinAllowance}, {"shank of a wood screw", woodAllowance}, {"chance of no standard", noneChance}} {
		out = append(out, cite.Entry{Name: "allowance: " + e.name, Value: "see the note", Ref: e.ref})
	}
	for _, f := range families() {
		out = append(out, cite.Entry{Name: "since when: " + f.name, Value: fmt.Sprint(f.since), Ref: f.ref})
	}
	return out
}

// Tables are the threads by series.
func Tables() []cite.Table[Thread] {
	var out []cite.Table[Thread]
	for _, t := range threads() {
		if n := len(out); n == 0 || out[n-1].Name != t.Series {
			out = append(out, cite.Table[Thread]{Name: t.Series, Ref: t.Ref})
		}
		last := &out[len(out)-1]
		last.Rows = append(last.Rows, t)
	}
	return out
}
