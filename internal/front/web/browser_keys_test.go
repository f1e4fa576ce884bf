package web

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// tabsTo presses Tab until the focus is on what the selector names.
func (b *tab) tabsTo(selector string) {
	b.t.Helper()
	const most = 150
	for range most {
		b.types(kb.Tab)
		if js[bool](b, `document.activeElement.matches(`+quoted(selector)+`)`) {
			b.waits(`(r => r.bottom > 0 && r.top < innerHeight)(document.activeElement.getBoundingClientRect())`)
			return
		}
	}
	b.t.Fatalf("at %s %d presses of Tab never reached %s", b.at(), most, selector)
}

// on wants the focus in a field.
func (b *tab) on(name string) {
	b.t.Helper()
	if got := js[string](b, `document.activeElement.name ?? document.activeElement.outerHTML.slice(0, 200)`); got != name {
		b.t.Fatalf("the focus is on %s, want %s", got, name)
	}
}

func (b *tab) enters() { b.t.Helper(); b.loads(pressing(kb.Enter)) }

// TestKeyboardAlone takes a clock in and enters its train without a pointer.
func TestKeyboardAlone(t *testing.T) {
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, openShop(t, false), width)
		b.visit("/")
		b.tabsTo(`main a[href="/clocks/new"]`)
		b.enters()
		b.tabsTo(`[name=number]`)
		b.tabsTo(`[name=title]`)
		b.types("Longcase, eight days")
		b.enters()
		b.shows("Longcase, eight days", "2026-001")
		b.tabsTo(`a[href$="/survey"]`)
		b.enters()
		b.tabsTo(`main a[href$="/survey/train"]`)
		b.enters()

		b.tabsTo(`[name="going-arbors.1.wheel"]`)
		b.types("96")
		b.types(kb.Tab, chromedp.ModifierShift)
		b.on("going-arbors.1.pinion")
		for _, s := range []struct{ key, to, text string }{
			{kb.Enter, "going-arbors.2.pinion", "8"}, {kb.Tab, "going-arbors.2.wheel", "60"},
			{kb.Enter, "going-arbors.3.wheel", "56"}, {"", "", ""},
			{kb.Enter, "going-arbors.4.pinion", "7"}, {kb.Tab, "going-arbors.4.wheel", "30"},
		} {
			if s.key == "" { // back to the pinion of the third arbor
				b.types(kb.Tab, chromedp.ModifierShift)
				b.on("going-arbors.3.pinion")
				b.types("8")
				continue
			}
			b.types(s.key)
			b.on(s.to)
			b.types(s.text)
		}
		b.types(kb.Enter, chromedp.ModifierShift)
		b.on("going-arbors.3.wheel")
		b.types(kb.Enter)
		b.on("going-arbors.4.wheel")
		b.enters() // in the last row it saves
		b.shows("Saved.", "3600")
		b.holds(`document.querySelector(".facts").innerText.includes("3600")`)
	})
}

// TestTextTrain types the train as the handbooks print it.
func TestTextTrain(t *testing.T) {
	atEachWidth(t, func(t *testing.T, width int64) {
		v := openShop(t, false)
		path := v.addOne("1", "Clock")
		b := openTab(t, v, width)
		b.visit(path + "/survey/train")
		b.do(chromedp.SendKeys(chromedp.CSS("[name=going]"), "96/8 60/8 56/7 30"))
		b.clicks("form.inputs button")
		b.shows("Saved.", "3600")
		want := []string{"/96", "8/60", "8/56", "7/30"}
		got := js[[]string](b, `[1, 2, 3, 4].map(n => ["pinion", "wheel"].map(c => document.getElementsByName("going-arbors." + n + "." + c)[0].value).join("/"))`)
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("arbor %d stands in the table as %q, want %q", i+1, got[i], want[i])
			}
		}
	})
}

// TestGridPaste spreads a copied column and a copied table over the cells.
func TestGridPaste(t *testing.T) {
	b := openTab(t, openShop(t, false), desktop)
	b.visit("/desk/train")
	paste := func(cell, text string) bool {
		return js[bool](b, `(() => {
			const data = new DataTransfer();
			data.setData("text/plain", `+quoted(text)+`);
			const cell = document.getElementsByName(`+quoted(cell)+`)[0];
			cell.focus();
			return cell.dispatchEvent(new ClipboardEvent("paste", {clipboardData: data, bubbles: true, cancelable: true}));
		})()`)
	}
	value := func(cell string) string {
		return js[string](b, `document.getElementsByName(`+quoted(cell)+`)[0].value`)
	}
	if paste("going-arbors.1.wheel", "96\r\n60\r\n56\r\n30\r\n99\r\n") {
		t.Error("the browser pastes the column as well")
	}
	if paste("going-arbors.2.pinion", "8\t60\t9.8\n8\t 56 \t9.6\n7\t30") {
		t.Error("the browser pastes the table as well")
	}
	if !paste("going-arbors.1.name", "great") {
		t.Error("a single word is not left to the browser")
	}
	for cell, want := range map[string]string{"1.wheel": "96", "2.wheel": "60", "3.wheel": "56", "4.wheel": "30", "1.pinion": "", "2.pinion": "8", "3.pinion": "8", "4.pinion": "7",
		"2.pinion-diameter": "9.8", "3.pinion-diameter": "9.6", "4.pinion-diameter": ""} {
		if got := value("going-arbors." + cell); got != want {
			t.Errorf("%s holds %q, want %q", cell, got, want)
		}
	}
	// A size as it was measured is seen whole in its cell.
	const depth = `document.getElementsByName("going-arbors.2.depth")[0]`
	js[string](b, depth+`.value = "30 ± 2 mm"`)
	b.holds(depth + `.scrollWidth <= ` + depth + `.clientWidth`)
	js[string](b, depth+`.value = ""`)
	b.clicks("form.inputs button")
	b.shows("3600")
}

// TestFindAsYouType types into the find box: a list follows without another
// page.
func TestFindAsYouType(t *testing.T) {
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, openShop(t, true), width)
		b.visit("/desk")
		js[int](b, `window.stays = 1`)
		b.taps("#find")
		b.types("2026-012")
		b.waits(`document.querySelectorAll("#find-panel li").length === 1`)
		b.holds(`document.querySelector("#find-panel a").checkVisibility()`)
		b.types(kb.ArrowDown)
		b.holds(`document.activeElement.matches("#find-panel a[href='/clocks/2']")`)
		b.taps("#find")
		b.types(kb.Escape)
		b.waits(`document.querySelector("#find-panel").childNodes.length === 0`)
		b.holds(`window.stays === 1`)

		b.visit("/clocks")
		js[int](b, `window.stays = 1`)
		b.holds(`document.querySelectorAll("#found li").length === 4`)
		b.taps("#find")
		b.types("2026-012")
		b.waits(`document.querySelectorAll("#found li").length === 1`)
		b.types("x")
		b.waits(`document.querySelector("#found").innerText.includes("Nothing in the book")`)
		b.holds(`window.stays === 1`)
	})
}

// TestKeys presses the single keys.
func TestKeys(t *testing.T) {
	b := openTab(t, openShop(t, true), desktop)
	b.visit("/desk")
	const open, finding = `document.getElementById("keys").open`, `document.activeElement.id === "find"`
	b.types("?")
	b.holds(open)
	b.types(kb.Escape)
	b.waits("!" + open + " && document.activeElement === document.body")
	b.types("/")
	b.holds(finding)
	b.types("?/")
	b.holds("!" + open)
	b.holds(`document.getElementById("find").value === "?/"`)
	b.visit("/desk/train")
	b.taps("[name=going]")
	b.types("96/8?")
	b.holds(`document.activeElement.value === "96/8?" && !` + open)

	b.visit("/desk")
	b.types("?")
	b.taps("[data-keys-off]")
	b.types(kb.Escape)
	b.waits("!" + open + " && document.activeElement === document.body")
	for range 2 { // at once, and on the next page
		b.types("?/")
		b.holds("!" + open)
		b.holds("!(" + finding + ")")
		b.visit("/sources")
	}
	js[int](b, `(document.getElementById("keys").showModal(), 0)`)
	b.holds(`document.querySelector("[data-keys-off]").checked`)
	b.taps("[data-keys-off]")
	b.types(kb.Escape)
	b.waits("!" + open + " && document.activeElement === document.body")
	b.types("?")
	b.holds(open)
}
