package web

import (
	"fmt"
	"testing"
)

// TestSearchShowsRowsAndStops: a search of four arbors of which nothing is
// left shows the best so far before it ends, on the page where it was asked
// for; stopped, it says so and has them.
func TestSearchShowsRowsAndStops(t *testing.T) {
	b := openTab(t, openShop(t, false), phone)
	b.visit("/desk/missing")
	b.unfold()
	for name, v := range allLost {
		js[bool](b, fmt.Sprintf(`document.getElementById(%s).value = %s, true`, quoted(fieldID(name)), quoted(v[0])))
	}
	js[bool](b, `document.querySelector("form.inputs").requestSubmit(), true`)
	b.waits(`document.querySelectorAll("#rows tbody tr").length > 1`)
	b.holds(`location.search === "" && document.getElementById("share").value < 1`)
	b.shows("Searching. The best so far", "% of it", "found", "Stop and see the best so far")
	b.holds(`document.documentElement.scrollWidth <= innerWidth`)
	b.holds(`(points => points.every((x, i) => i === 0 || x >= points[i-1]))([...document.querySelectorAll("#rows tbody tr")].map(r => Number(r.children[[...document.querySelectorAll("#rows thead th")].findIndex(h => h.innerText.includes("Points"))].innerText)))`)
	first := js[string](b, `document.querySelector("#rows tbody tr").innerText`)
	if first == "" {
		t.Error("the first row is empty")
	}
	b.sound("a search under way")
	b.clicks(`#so-far button`)
	b.shows("was stopped at", "the best so far are listed", "What fits, the likeliest first")
	b.holds(`document.querySelector("[name=going]").value === ` + quoted(allLost.Get("going")))
}
