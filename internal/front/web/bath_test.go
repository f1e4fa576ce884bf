package web

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/shop"
)

// openBathShop is a shop with one clock of three parts that lie in trays: a
// wheel, a spring, a dial of which nothing is said.
func openBathShop(t *testing.T) *visit {
	t.Helper()
	sh, err := shop.Open(t.Context(), t.TempDir(), func() time.Time { return time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC) })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	c, err := sh.AddClock(t.Context(), "tester", job.Clock{Number: "2026-014", Title: "Clock"})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []parts.Detail{{Name: "third wheel", Made: []clean.Material{clean.Brass}}, {Name: "click spring", Made: []clean.Material{clean.Steel}}, {Name: "dial"}} {
		if _, err := sh.RecordPart(t.Context(), "tester", c.ID, "", "", parts.Event{To: parts.Off, Count: 1, Detail: &d}, ""); err != nil {
			t.Fatal(err)
		}
	}
	return visitShop(t, sh, false)
}

const newBathPage = "/clocks/1/baths/new"

func TestBathPages(t *testing.T) {
	v := openBathShop(t)
	v.get("/clocks/1/baths").want(200, "No part of this clock")
	v.get(newBathPage).want(200, "third wheel", "it will be asked", "May they go in?")
	v.post(newBathPage, "do", "judge", "liquid", "water", "jar", "blue jar")
	v.want(422, "Tick the parts", `href="#f-part"`, `value="blue jar"`)
	v.get(newBathPage).post(newBathPage, "do", "begin", "part", "3", "liquid", "water")
	v.want(422, `href="#f-verdict"`, "To be answered first")
	v.get(newBathPage).post(newBathPage, "do", "begin", "part", "2", "liquid", "brass-liquid", "no-flash", "yes")
	v.want(422, "Why it is done all the same", "steel rusts", `href="#f-overrule-`)
	v.get(newBathPage).post(newBathPage, "do", "judge", "part", "1", "liquid", "water", "jar", "blue jar")
	v.want(200, "They go in now")
	v.post(newBathPage, "do", "begin", "part", "1", "liquid", "water", "jar", "blue jar", "time", "12 min")
	v.want(200, "the time runs", "12 min", "Bath blue jar", "They are out now")
	at := v.at
	v.get("/").want(200, "Bath 2026-014 blue jar", "12 min", "Wants a hand", "In the liquid until 09:42", `href="`+at+`"`)
	v.get("/clocks/1/parts").want(200, "Last, ", `<a class="go" href="`+at+`">Its bath</a>`)
	if strings.Contains(v.page, "Take it back") {
		t.Error("what a bath did is taken back on the list of parts")
	}
	v.get("/clocks/1/parts/1").want(200, "Its bath brings it out", `href="`+at+`"`)
	if strings.Contains(v.page, "Now it goes") || strings.Contains(v.page, "Take back entry 4") {
		t.Error("a part in the bath can be moved by hand")
	}
	v.post("/clocks/1/parts/1", "do", "move", "from", "in-bath", "to", "dry").want(422, "on the page of that bath")
	v.get("/clocks/1/parts").post("/clocks/1/parts/move", "part", "2", "to", "in-bath").want(422, "begin one under Baths")
	v.get("/clocks/1/parts").post("/clocks/1/parts/undo", "n", "4").want(422, "made by a bath")
	old := v.get(at).page
	v.post(at, "do", "close").want(422, "Not closed")
	v.get(at).post(at, "do", "longer", "minutes", "soon").want(422, "whole minutes", `value="soon"`)
	v.get(at).post(at, "do", "longer", "minutes", "300").want(422, "Write why")
	for _, s := range clean.Steps() {
		words := ""
		if s.Key == clean.InspectStep {
			v.get(at).post(at, "do", "tick", "step", s.Key).want(422, "Write what was seen", `href="#f-seen"`)
			words = "clean and counted"
		}
		v.get(at).post(at, "do", "tick", "step", s.Key, "seen", words).want(200, "Written down.")
	}
	v.page = old
	v.post(at, "do", "tick", "step", clean.BathStep).want(409, "Someone else wrote here meanwhile")
	v.get(at).post(at, "do", "close").want(200, "Closed at", "clean and counted")
	v.get("/clocks/1/parts").want(200, "dry")
	v.get("/alarm.json")
	var m struct{ Baths []bathLine }
	if err := json.Unmarshal([]byte(v.page), &m); err != nil || len(m.Baths) != 0 {
		t.Errorf("%v %s", err, v.page)
	}
	v.get("/baths/nothing").want(404, "no such batch")
	v.get(at).post("/alarm/test").want(404, "No alarm is kept by this run")
}

// TestBathInABrowser begins a bath of three seconds, sees the alarm on
// another page, ticks everything and closes it.
func TestBathInABrowser(t *testing.T) {
	t.Parallel()
	for _, width := range widths {
		v := openBathShop(t)
		b := openTab(t, v, width)
		b.visit(newBathPage)
		b.taps(`input[name="part"][value="1"]`)
		b.do(chromedp.SetValue(`#f-liquid`, "water"), chromedp.SetValue(`#f-time`, "3 s"), chromedp.SetValue(`#f-jar`, "blue jar"))
		b.clicks(`button[value="judge"]`)
		b.sound("a bath that was judged")
		b.clicks(`button[value="begin"]`)
		at := b.at()
		if !strings.HasPrefix(at, "/baths/") {
			t.Fatalf("at %s", at)
		}
		b.sound("a bath that runs")
		b.visit("/clocks")
		b.waits(`document.title.startsWith("Time is up")`)
		b.waits(`document.querySelector("#under-way .rings").innerText.includes("time is up")`)
		b.holds(`document.querySelector("[data-said]").textContent.includes("blue jar")`)
		b.holds(`!document.querySelector("[data-refused]").hidden`)
		b.sound("another page, while it rings")
		b.taps(`[data-unlock]`)
		b.waits(`document.querySelector("[data-refused]").hidden`) // the tap let it sound
		b.clicks(`#under-way li a`)
		for range 4 {
			b.clicks(`button[value="tick"]`)
		}
		b.do(chromedp.SendKeys(`#f-seen`, "clean and counted"))
		b.clicks(`button[value="tick"]`)
		b.clicks(`button[value="close"]`)
		b.shows("Closed at")
		b.waits(`document.querySelector("#under-way").hidden`)
		b.sound("a closed bath")
		b.t.Logf("%d px: begun, rung, ticked, closed at %s", width, strings.SplitN(at, "?", 2)[0])
	}
}
