package web

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp/kb"
)

// What the pair that is turned shows: how the wheel stands, and what is said.
const (
	pairStands = `document.querySelector("figure .zoom svg svg > g").getAttribute("transform")`
	pairSays   = `document.querySelector("figure .zoom .status").textContent`
	pairTurns  = `[...document.querySelectorAll("figure .zoom button")]`
)

// TestPairIsTurned turns the wheel by the keys of the slider and lets it turn
// by itself; the standing positions stay, and where motion is not wanted
// nothing moves by itself.
func TestPairIsTurned(t *testing.T) {
	const at = "/desk/mesh?wheel=60&leaves=8&module=0.5&faces=oiled"
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, openShop(t, true), width)
		b.visit(at)
		b.waits(pairSays + `.includes("torque")`)
		b.holds(`document.querySelectorAll("figure .zoom svg svg > g").length === 3 && ` + pairStands + `.startsWith("rotate(")`)
		b.holds(`document.querySelector("figure .zoom svg").getBoundingClientRect().right <= innerWidth`)
		first := js[string](b, pairStands)
		b.tabsTo("#through-the-pitch")
		b.types(kb.End)
		b.waits(pairStands + ` !== ` + quoted(first))
		b.holds(pairSays + `.includes("after the line of centres") && document.querySelector("#through-the-pitch").getAttribute("aria-valuetext") === ` + pairSays)
		b.types(kb.Home)
		b.waits(pairStands + ` === ` + quoted(first))
		js[bool](b, pairTurns+`[0].click(), true`)
		b.waits(pairStands + ` !== ` + quoted(first))
		b.holds(pairTurns + `[0].textContent === "Stop"`)
		js[bool](b, pairTurns+`[0].click(), true`)
		b.holds(pairTurns + `[0].textContent === "Turn"`)

		b.sound("a pair on its way")

		send(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}})
		b.visit(at)
		b.waits(pairSays + `.includes("torque")`)
		b.holds(pairTurns + `.length === 0`)
	})
}
