package web

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp/kb"
)

// What the picture of every beat shows: the figures of its axis, and whether
// single beats are drawn.
const (
	zoomAxis  = `[...document.querySelectorAll(".zoom svg text")].map(t => t.textContent).join("|")`
	zoomEach  = `document.querySelector(".zoom [data-each]") !== null`
	zoomWords = `document.querySelector(".zoomed .status").textContent`
)

// TestEveryBeatIsLookedAtNearer looks nearer by keys and by the wheel, and
// sees the axis change; the page stays sound and prints the drawing.
func TestEveryBeatIsLookedAtNearer(t *testing.T) {
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, openShop(t, true), width)
		b.visit("/clocks/1/listening/1")
		js[bool](b, `document.querySelector('a[href*="/every-beat.svg"]').scrollIntoView(), true`)
		b.waits(`document.querySelector(".zoom svg text") !== null`)
		b.waits(zoomWords + `.includes("beats, hatched")`)
		b.holds(`getComputedStyle(document.querySelector(".zoomed .wide")).display === "none" && getComputedStyle(document.querySelector(".zoomed .narrow")).display === "none"`)
		if zoomed := js[bool](b, zoomEach); zoomed {
			t.Error("single beats are drawn of the whole")
		}
		b.holds(zoomAxis + `.includes("late, µs") && ` + zoomAxis + `.includes("from the start")`)

		all := js[string](b, zoomAxis)
		changes := func() { // and is drawn, of whatever moved it
			t.Helper()
			b.waits(zoomAxis + ` !== ` + quoted(all))
			all = js[string](b, `new Promise(r => requestAnimationFrame(() => requestAnimationFrame(() => r(`+zoomAxis+`))))`)
		}
		isWhole := func(whole string) {
			t.Helper()
			b.waits(zoomAxis + ` === ` + quoted(whole))
			all = whole
		}
		b.tabsTo(".zoom[tabindex]")
		whole := all
		b.types("++++++")
		changes()
		b.waits(zoomEach)
		b.waits(zoomWords + `.includes("each drawn")`)
		b.types(kb.ArrowRight + kb.ArrowRight)
		changes()
		b.types(kb.Escape)
		isWhole(whole)

		for range 3 {
			b.wheel(".zoom svg", -200)
		}
		changes()
		js[bool](b, `document.activeElement.blur(), true`)
		b.wheel(".zoom svg", 120)
		b.waits(`scrollY > window.before`)
		if now := js[string](b, zoomAxis); now != all {
			t.Error("a page that is scrolled past it changes the view")
		}
		js[bool](b, `[...document.querySelectorAll(".zoom button")].find(x => x.textContent === "All").click(), true`)
		isWhole(whole)

		if width == phone {
			b.pinch(".zoom svg", 20, 120)
			changes()
			js[bool](b, `document.querySelector(".zoom").focus(), true`)
			b.types(kb.Escape)
			isWhole(whole)
		}

		b.sound("every beat")
		send(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		b.holds(`getComputedStyle(document.querySelector(".zoom")).display === "none" && getComputedStyle(document.querySelector(".zoomed .wide")).display === "block"`)
	})
}

// wheel turns the wheel over the middle of something.
func (b *tab) wheel(selector string, down float64) {
	b.t.Helper()
	js[bool](b, `document.querySelector(`+quoted(selector)+`).scrollIntoView({block: "center", behavior: "instant"}), window.before = scrollY, true`)
	b.rests(selector)
	at := js[[]float64](b, `(r => [r.x + r.width / 2, r.y + r.height / 2])(document.querySelector(`+quoted(selector)+`).getBoundingClientRect())`)
	send(b, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: at[0], Y: at[1], DeltaX: 1e-3, DeltaY: down})
}

// pinch moves two fingers apart over something, from so many pixels either
// side of its middle to so many.
func (b *tab) pinch(selector string, near, far float64) {
	b.t.Helper()
	js[bool](b, `document.querySelector(`+quoted(selector)+`).scrollIntoView({block: "center", behavior: "instant"}), true`)
	b.rests(selector)
	at := js[[]float64](b, `(r => [r.x + r.width / 2, r.y + r.height / 2])(document.querySelector(`+quoted(selector)+`).getBoundingClientRect())`)
	one, two := 1.0, 2.0
	fingers := func(apart float64) []*input.TouchPoint {
		return []*input.TouchPoint{{X: at[0] - apart, Y: at[1], ID: &one}, {X: at[0] + apart, Y: at[1], ID: &two}}
	}
	send(b, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchStart, TouchPoints: fingers(near)})
	for x := near + 10; x <= far; x += 10 {
		send(b, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchMove, TouchPoints: fingers(x)})
	}
	send(b, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}})
}
