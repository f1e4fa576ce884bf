package web

import "testing"

// TestRegulationInTheBrowser looks at the sheets of the regulation and of a
// new home: on the desk with an answer, and of the clock on trial.
func TestRegulationInTheBrowser(t *testing.T) {
	v := openShop(t, true)
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, v, width)
		for _, p := range [...][2]string{
			{"/clocks/1/trial/home", "Before it leaves"},
			{"/desk/home?latitude=51.5&to-latitude=56&rate=1+%C2%B1+0.4&per-turn=30", "two persons to lift"},
			{"/desk/regulate?lines=2026-11-03+09%3A14+%2B12+s%0A2026-11-05+09%3A10+%2B31+s%0A2026-11-06+09%3A10+nut+down+1%2F4%0A2026-11-07+09%3A10+%2B32+s", "Rate now"},
		} {
			b.visit(p[0])
			b.shows(p[1])
			b.unfold()
			b.looksRight(p[0], width)
		}
	})
}
