package web

import (
	"math"
	"testing"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/shop"
)

// lastLook is the reading written down last.
func lastLook(t *testing.T, sh *shop.Shop, want int) regulate.Reading {
	t.Helper()
	x, err := sh.Trial(t.Context(), 1)
	if err != nil || len(x.Query.Readings) != want {
		t.Fatalf("%d readings, want %d: %v", len(x.Query.Readings), want, err)
	}
	return x.Query.Readings[want-1]
}

// TestLookInABrowser: the time of day runs, is held by the first step or key,
// and what is saved is of that moment; by taps, by Enter, and by what the
// hands show.
func TestLookInABrowser(t *testing.T) {
	atEachWidth(t, func(t *testing.T, width int64) {
		sh := openEmpty(t)
		v := visitShop(t, sh, false)
		path := v.addOne("1", "Regulator") + "/trial"
		b := openTab(t, v, width)
		b.visit(path)
		b.waits(`!document.querySelector("[data-hold]").hidden`)
		if width == phone {
			b.waits(`document.querySelector("[data-look]").getBoundingClientRect().top < 60`)
		}
		before := js[string](b, `document.querySelector("[data-running]").innerText`)
		b.waits(`document.querySelector("[data-running]").innerText !== ` + quoted(before))

		// By taps: right, one more, and two less.
		for _, step := range []string{"0", "1", "-1", "-1"} {
			b.taps(`[data-step="` + step + `"]`)
		}
		b.holds(`document.querySelector("#f-seen").value === "1 s slow"`)
		held := js[string](b, `document.querySelector("[data-running]").innerText`)
		b.clicks("[data-look] [value=read]")
		b.shows("Written down.", "1\u00a0s slow")
		r := lastLook(t, sh, 1)
		if r.Error != -1 || math.Abs(r.At.Sub(wallOf(t, held, r.At)).Seconds()) > 1.5 {
			t.Errorf("%g s at %v, held at %s", float64(r.Error), r.At, held)
		}

		// The next begins from the last, and goes by Enter.
		b.waits(`!document.querySelector("[data-hold]").hidden`)
		b.taps(`[data-step="-5"]`)
		b.holds(`document.querySelector("#f-seen").value === "6 s slow"`)
		b.taps("#f-temperature")
		b.types("17.5")
		b.loads(pressing("\r"))
		b.shows("Written down.", "6\u00a0s slow", "17.5")
		lastLook(t, sh, 2)

		// What the hands show, at the moment that was held by the button.
		b.waits(`!document.querySelector("[data-hold]").hidden`)
		b.taps("[data-hold]")
		b.holds(`document.activeElement === document.querySelector("#f-seen")`)
		held = js[string](b, `document.querySelector("[data-running]").innerText`)
		at := wallOf(t, held, time.Now())
		b.types(at.Add(7 * time.Second).Format("15:04:05"))
		time.Sleep(1200 * time.Millisecond) // a slow hand, which must not count
		b.loads(pressing("\r"))
		b.shows("Written down.")
		if r := lastLook(t, sh, 3); math.Abs(float64(r.Error)-6.5) > 1 {
			t.Errorf("%g s fast, want 7", float64(r.Error))
		}
		b.unfold()
		b.looksRight(path)
	})
}

// wallOf is the instant near another at which a wall clock of here showed a
// time.
func wallOf(t *testing.T, shown string, near time.Time) time.Time {
	t.Helper()
	x, err := time.ParseInLocation(time.TimeOnly, shown, near.Location())
	if err != nil {
		t.Fatal(err)
	}
	near = near.Local()
	return time.Date(near.Year(), near.Month(), near.Day(), x.Hour(), x.Minute(), x.Second(), 0, near.Location())
}
