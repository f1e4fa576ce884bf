package web

import (
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
	"seatboard/internal/shop"
)

// keptPart wants the server to say that the part of the quick entry is kept.
func (b *tab) keptPart(whole string) {
	b.t.Helper()
	b.holds(`document.querySelector("[data-saved]")?.innerText.includes(` + quoted(whole) + `)`)
}

// photographs sends fifty small photographs of each of the first four parts,
// and wants each of them on the disk and at its part.
func (b *tab) photographs(sh *shop.Shop, path string, each int) {
	b.t.Helper()
	dir := b.t.TempDir()
	for part := 1; part <= 4; part++ {
		var files []string
		for i := range each {
			m := image.NewGray(image.Rect(0, 0, 16*(i+1), 80*part)) // no two are alike
			files = append(files, filepath.Join(dir, fmt.Sprintf("IMG_%d_%02d.jpg", part, i)))
			f, err := os.Create(files[i])
			if err != nil {
				b.t.Fatal(err)
			}
			if err := errors.Join(jpeg.Encode(f, m, nil), f.Close()); err != nil {
				b.t.Fatal(err)
			}
		}
		b.visit(fmt.Sprintf("%s/photos?part=%d", path, part))
		b.do(chromedp.SetUploadFiles(chromedp.CSS("#f-library"), files))
		b.waits(safeShots + " > 0 && document.querySelector(\"[data-queue]\").dataset.open === \"0\"")
		l, err := sh.Photos(b.t.Context(), store.PhotoPlace{Clock: 1, Part: parts.Number(fmt.Sprint(part))}, 0)
		if err != nil || l.Total != len(files) {
			b.t.Errorf("part %d has %d photographs: %v", part, l.Total, err)
		}
	}
	l, err := sh.Photos(b.t.Context(), store.PhotoPlace{Clock: 1}, 0)
	if err != nil || l.Total != 4*each {
		b.t.Errorf("the clock has %d photographs: %v", l.Total, err)
	}
}

// TestTakeDownOfAWholeClock records the parts of a small clock on a phone, by
// taps and keys at first, and photographs, moves the parts back on and
// reconciles the counts. With SEATBOARD_STUDY set it is a large one: 160 parts,
// 200 photographs.
func TestTakeDownOfAWholeClock(t *testing.T) {
	t.Parallel()
	startChromium(t)
	sh := openEmpty(t)
	v := visitShop(t, sh, false)
	path := v.addOne("2026-014", "Longcase clock")
	b := openTab(t, v, phone)
	b.visit(path + "/parts/new")
	parts, each := 40, 12
	if os.Getenv("SEATBOARD_STUDY") != "" {
		parts, each = 160, 50
	}
	const byHand, alike = 24, 4
	pieces := 0
	for i := 1; i <= parts; i++ {
		whole := fmt.Sprintf("2026-014.%d ", i)
		count := 1
		switch {
		case i == 1: // by taps alone
			b.taps("[data-offers] button")
			b.holds(`document.querySelector("[name=name]").value === "minute hand"`)
			for range alike - 1 {
				b.taps(`[data-step="1"]`)
			}
			b.holds(`document.activeElement !== document.querySelector("[name=count]")`)
			count = alike
			b.clicks("form[data-draft] .actions button")
			b.keptPart(whole + "minute hand")
		case i <= byHand:
			if i == 2 {
				b.taps("#f-place")
				b.types("tray 3")
				b.taps("#f-name")
			}
			b.types(fmt.Sprintf("part %d", i))
			b.enters()
			b.keptPart(fmt.Sprintf("%spart %d", whole, i))
			b.holds(`document.querySelector("[name=place]").value === "tray 3"`)
		default:
			count = 1 + i%3
			b.loads(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelector("[name=name]").value = "part %d", document.querySelector("[name=count]").value = "%d", document.querySelector("form[data-draft]").requestSubmit()`, i, count)))
			b.keptPart(whole)
		}
		pieces += count
	}
	b.photographs(sh, path, each)
	b.visit(path + "/close-out")
	b.shows(fmt.Sprintf("%d parts are not accounted for", parts))
	b.holds(fmt.Sprintf(`[...document.querySelectorAll(".facts > div")].some(d => d.innerText.startsWith("Came off") && d.innerText.includes("%d"))`, pieces))

	b.visit(path + "/parts?state=off")
	b.loads(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelectorAll("[name=part]").forEach(x => x.checked = x.value !== "%d"), document.querySelector("[name=to]").value = "back-on", document.querySelector("form[action$=move]").requestSubmit()`, parts)))
	b.shows("Moved.", fmt.Sprintf("%d parts: back on", parts-1))
	b.visit(path + "/close-out")
	b.shows("One part is not accounted for")
	b.do(chromedp.SendKeys(chromedp.CSS(fmt.Sprintf("[name=why-%d]", parts)), "waits for its spring"))
	b.clicks("form[action$=close-out] button")
	b.shows("the clock may go on trial")
	b.holds(fmt.Sprintf(`[...document.querySelectorAll(".facts > div")].some(d => d.innerText.startsWith("Back on") && d.innerText.includes("%d"))`, pieces-(1+parts%3)))
}

// TestWhatIsTypedOfAPartIsNotLost: a reload and a dead network leave it in
// the page, and what was kept does not come again.
func TestWhatIsTypedOfAPartIsNotLost(t *testing.T) {
	t.Parallel()
	startChromium(t)
	v := openShop(t, false)
	path := v.addOne("7", "Clock")
	b := openTab(t, v, phone)
	b.visit(path + "/parts/new")
	b.types("third wheel")
	b.taps("#f-mark")
	b.types("two dots")
	b.taps("[name=to][value=on-clock]")
	b.loads(chromedp.Reload())
	kept := `document.querySelector("[name=name]").value === "third wheel" && document.querySelector("[name=mark]").value === "two dots" && document.querySelector("[name=to][value=on-clock]").checked`
	b.holds(kept)
	b.shows("What you typed before is here again")

	b.dead(true)
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("form[data-draft]").requestSubmit()`))
	b.waits(`location.protocol.startsWith("chrome") || document.querySelector("form[data-draft]") === null`)
	b.dead(false)
	b.visit(path + "/parts/new")
	b.holds(kept)
	b.loads(chromedp.Evaluate[chromedp.Void](`document.querySelector("form[data-draft]").requestSubmit()`))
	b.keptPart("7.1 third wheel")
	b.holds(`document.querySelector("[name=name]").value === ""`)
	b.loads(chromedp.Reload())
	b.holds(`document.querySelector("[name=name]").value === ""`)
}

// dead cuts the network, or mends it.
func (b *tab) dead(off bool) {
	b.t.Helper()
	send(b, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{{DownloadThroughput: -1, UploadThroughput: -1, Offline: off}}})
}
