package web

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// strip tells whether the strip of hours says something.
func (b *tab) strip(words string) {
	b.t.Helper()
	b.waits(`document.querySelector("[data-work]").innerText.includes(` + quoted(words) + `)`)
}

// TestWorkBegunHereIsStoppedThere: one tap begins work where one is, without
// losing what is typed; another window stops it; what was forgotten is asked
// about.
func TestWorkBegunHereIsStoppedThere(t *testing.T) {
	startChromium(t)
	now := time.Date(2026, 11, 25, 16, 0, 0, 0, time.UTC)
	v := timedShop(t, &now)
	path := v.addOne("7", "Clock")
	b := openTab(t, v, phone)
	b.visit(path + "/parts/new")
	b.types("third wheel")
	b.taps("[data-work] form button")
	b.strip("At work: 7")
	b.holds(`document.querySelector("[name=name]").value === "third wheel"`)
	b.holds(`document.activeElement.textContent === "Stop"`)

	now = now.Add(25 * time.Minute)
	other := openTab(t, v, desktop)
	other.visit("/desk")
	other.strip("0:25")
	other.taps("[data-work] form button")
	other.strip("Stopped: 7 0:25")

	b.do(chromedp.Evaluate[chromedp.Void](`document.activeElement.blur(), document.dispatchEvent(new Event("visibilitychange"))`))
	b.strip("Begin work on 7")
	b.taps("[data-work] form button")
	b.strip("At work: 7")

	now = now.Add(16 * time.Hour)
	b.visit("/")
	b.strip("When did the work end?")
	b.clicks("[data-work] a")
	b.shows("Nothing is cut short", "over midnight")
	b.clicks("[name=offered]")
	b.shows("Written down with that end.", "6:00")
	b.strip("Begin work on 7")
}
