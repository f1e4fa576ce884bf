package web

import (
	"math"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"seatboard/internal/shop"
)

// TestTapsInABrowser: the lower half of a phone is one target; taps with finger
// and space bar are stamped, shown as they come, taken away, outlive the page,
// and are saved as one reading.
func TestTapsInABrowser(t *testing.T) {
	t.Parallel()
	startChromium(t)
	sh, err := shop.Open(t.Context(), t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	v := visitShop(t, sh, false)
	v.addOne("1", "Regulator")
	b := openTab(t, v, phone)
	b.visit("/clocks/1/trial/tap")
	b.waits(`document.querySelector("[data-stamped]").textContent.includes("held against the shop’s computer to")`)
	b.waits(`(() => { const r = document.querySelector("[data-tap-here]").getBoundingClientRect(); return Math.abs(r.bottom - innerHeight) < 1 && r.height >= 0.45 * innerHeight && r.width > 0.85 * innerWidth })()`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#f-marks").value = "beat-1"`))
	began := time.Now()
	b.do(chromedp.Evaluate[chromedp.Void](`(() => {
		const here = document.querySelector("[data-tap-here]");
		const began = performance.now();
		for (let i = 0; i < 6; i++) setTimeout(() => {
			const e = i % 2 ? new KeyboardEvent("keydown", { key: " ", bubbles: true, cancelable: true }) : new PointerEvent("pointerdown", { bubbles: true, cancelable: true });
			Object.defineProperty(e, "timeStamp", { value: began + 500 + 1000 * i }); // however late a browser with much to do comes to it
			(i % 2 ? document.body : here).dispatchEvent(e);
		}, 500 + 1000 * i);
	})()`))
	b.waits(`/^6 taps: .* s (fast|slow), ± /.test(document.querySelector("[data-tapped]").textContent)`)
	b.holds(`document.querySelectorAll("[data-said] svg").length > 0`)
	b.taps("button[value=less]")
	b.waits(`/^5 taps: /.test(document.querySelector("[data-tapped]").textContent)`)
	b.visit("/clocks/1/trial/tap") // the page was left by mistake
	b.waits(`document.querySelector("[data-tapped]").textContent.startsWith("5 taps")`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#f-marks").value = "beat-1"`))
	b.clicks(`button[value=save]`)
	b.shows("Written down.")
	at, fast, u := lastReading(t, sh)
	if at.Before(began.Add(1500*time.Millisecond)) || at.After(time.Now()) || math.Abs(fast) > 0.6 || u <= 0 || u > 1 {
		t.Errorf("%g ± %g at %v, which is not while it was tapped from %v on", fast, u, at, began)
	}
	b.visit("/clocks/1/trial/tap")
	b.waits(`document.querySelector("[data-stamped]").textContent.includes("held against")`)
	b.holds(`document.querySelector("[data-tapped]").textContent.startsWith("Tap as the hand")`)
}
