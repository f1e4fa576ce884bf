package present

import (
	"strings"
	"testing"

	"seatboard/internal/craft/regulate/home"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/text"
)

// homes are questions of a new home: one with all, one of places alone, one
// with nothing.
func homes(t testing.TB) map[string]home.Answer {
	t.Helper()
	rate := func(v, u float64) meas.Reading[unit.Rate] {
		return meas.OfU(unit.RatePerDay(v), unit.RatePerDay(u))
	}
	places := home.Query{Latitude: meas.Of(unit.Deg(51.5)), ToLatitude: meas.Of(unit.Deg(55.95))}
	all := places
	all.Warmth, all.ToWarmth = meas.Of(unit.Temperature(293.15)), meas.OfU(unit.Temperature(287.15), 2)
	all.Rod, all.Rate, all.PerTurn, all.PerGram, all.Divisions = "steel", rate(1, .5), rate(30, 2), rate(.5, .05), 60
	out := map[string]home.Answer{}
	for name, q := range map[string]home.Query{"all": all, "places": places, "nothing": {}} {
		a, err := home.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = a
	}
	return out
}

func TestHomeGolden(t *testing.T) {
	for name, a := range homes(t) {
		check.Golden(t, "home-"+name+".txt", text.Render(Home(a), text.Options{Width: 100, Working: true}))
	}
}

// What to do is read first, and what can hurt is never left out.
func TestHomeSaysWhatCanHurt(t *testing.T) {
	for name, a := range homes(t) {
		d := Home(a)
		if _, ok := d.Sections[0].Body[0].(doc.Say); !ok {
			t.Errorf("%s: the first thing read is %T", name, d.Sections[0].Body[0])
		}
		caution := false
		for _, b := range d.Sections[0].Body {
			n, ok := b.(doc.Notice)
			caution = caution || ok && n.Kind == doc.CautionNotice && strings.Contains(n.Next, "Local law") && n.Ref.Source != ""
			if tab, ok := b.(doc.Table); ok {
				rowsFit(t, name, tab)
			}
		}
		if !caution {
			t.Errorf("%s: nothing is said of what can hurt", name)
		}
	}
}
