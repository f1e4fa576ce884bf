package web

import (
	"strings"
	"testing"
)

// presses presses the first link or button of the page with those words, and
// waits for the page that it leads to.
func (b *tab) presses(words string) {
	b.t.Helper()
	b.waits(`(e => e && (e.closest("details") && (e.closest("details").open = true), document.querySelector("[data-here]")?.removeAttribute("data-here"), e.setAttribute("data-here", ""), true))([...document.querySelectorAll("main a, main button")].find(e => e.textContent.includes(` + quoted(words) + `)))`)
	b.clicks("[data-here]")
}

// fills types into the fields of the page, by their names.
func (b *tab) fills(pairs ...string) {
	b.t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		b.holds(`(f => { if (!f) return false; if (f.closest("details")) f.closest("details").open = true; f.value = ` + quoted(pairs[i+1]) + `; return f.value !== "" })(document.querySelector("main [name='` + pairs[i] + `']:not([type=hidden])"))`)
	}
}

// TestLostWheelIsMade goes the whole way of a lost wheel in a browser: from the
// clock's survey to its counts, back into the survey, to the drawing, the part
// and its line in the originality ledger, the files for the bench, and all of it
// taken back.
func TestLostWheelIsMade(t *testing.T) {
	b := openTab(t, openShop(t, true), phone)
	b.visit("/clocks/2/survey/train")
	b.presses("Find what is missing")
	b.shows("Filled in from the survey of")
	b.presses("Work it out")
	b.shows("The wheel of arbor 3: 56 teeth", "nothing else in range fits")
	b.presses("96/8 60/8 56?/7 30")
	b.holds(`location.pathname === "/clocks/2/survey/train" && document.querySelector("[name='going-arbors.3.wheel']").value === "56?"`)

	b.visit("/clocks/2/making")
	b.presses("the wheel of arbor 3: 56")
	b.presses("Teeth of the wheel of 56 with its pinion of 7")
	b.unfold()
	b.fills("distance", "21.4 ± 0.1 mm", "hole", "4 mm", "crossings", "4")
	b.presses("Work it out")
	b.fills("keep-title", "third wheel")
	b.presses("Put it into the file")
	b.shows("Kept in the clock’s file", "third wheel")
	sheet := b.at()
	if i := strings.IndexByte(sheet, '?'); i >= 0 {
		sheet = sheet[:i]
	}
	for kind, begins := range map[string]string{"dxf": "999", "pdf": "%PDF-"} {
		b.holds(`(async () => { const a = [...document.querySelectorAll("main a")].find(a => new RegExp("/drawing/wheel[^/]*[.]` + kind + `").test(a.href)); const r = await fetch(a.href); return r.ok && r.headers.get("Content-Disposition").includes("attachment") && (await r.text()).startsWith(` + quoted(begins) + `) })()`)
	}

	b.presses("The part is made: write it down")
	b.holds(`document.querySelector("[name=done]").value.includes("56 teeth") && document.querySelectorAll("[name=drawing]:checked").length > 0`)
	b.fills("found", "third wheel lost", "done", "new wheel cut, 56 teeth", "when", "2026-11-25")
	b.presses("Write down the part and its line")
	b.shows("Written down: the part", "third wheel", "Made by")
	part := strings.Split(b.at(), "?")[0]
	b.visit("/clocks/2/parts")
	b.shows("third wheel")
	b.visit("/clocks/2/interventions")
	b.shows("new wheel cut, 56 teeth")

	b.visit(sheet)
	b.presses("Take the part back")
	b.shows("Taken back")
	b.visit(part)
	b.shows("no such part")
	b.visit("/clocks/2/interventions")
	b.holds(`!document.body.innerText.includes("new wheel cut, 56 teeth")`)
}
