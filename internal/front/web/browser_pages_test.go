package web

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

//go:embed testdata/axe.min.js
var axe string // axe-core, MPL-2.0, only for tests

// quoted writes a text as a literal of the script.
func quoted(s string) string {
	b, _ := json.Marshal(s)
	return string(b)
}

// violations lists what axe-core finds wrong: the rules with those tags, or
// the named rules alone.
func (b *tab) violations(kind string, values ...string) []string {
	b.t.Helper()
	list, _ := json.Marshal(values)
	return js[[]string](b, `axe.run(document, {preload: false, resultTypes: ["violations"], runOnly: {type: `+quoted(kind)+`, values: `+string(list)+`}}).then(r =>
		r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.target.join(" ") + ": " + (n.any.concat(n.all, n.none)[0]?.message ?? v.help))))`)
}

// TestPages looks at every page at both widths: with axe-core, on the phone by
// WCAG 2.2 AA and its best practices, on the screen by the rules that hang on
// the layout, and at its colours light and dark; whether it scrolls sideways;
// and on the phone at the size of all that can be pressed.
func TestPages(t *testing.T) {
	v := openShop(t, true)
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, v, width)
		look := func(where string) { b.looksRight(where, width) }
		b.walk(look)
		js[int](b, `(document.getElementById("keys").showModal(), 0)`)
		look("the dialog of keys")
	})
}

// looksRight looks at the page that is open as TestPages says.
func (b *tab) looksRight(where string, width int64) {
	b.t.Helper()
	b.staysWithin(where)
	if width == phone {
		for _, s := range js[[]string](b, smallTargets) {
			b.t.Errorf("%s: %s", where, s)
		}
	}
	js[int](b, `[...document.querySelectorAll("tbody tr:nth-child(n+31)")].map(r => r.remove()).length`) // the rows of a long table are alike
	js[bool](b, axe+"; true")
	b.scheme("light")
	var found []string
	if width == phone {
		found = b.violations("tag", "wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
	} else {
		found = b.violations("rule", "color-contrast", "scrollable-region-focusable", "target-size", "aria-hidden-focus")
		b.scheme("dark")
		for _, f := range b.violations("rule", "color-contrast") {
			found = append(found, "dark: "+f)
		}
	}
	for _, f := range found {
		b.t.Errorf("%s: %s", where, f)
	}
}

// TestAxeFindsFaults makes sure that the test above can fail.
func TestAxeFindsFaults(t *testing.T) {
	b := openTab(t, openShop(t, false), desktop)
	b.visit("/clocks/new")
	js[bool](b, axe+`; document.querySelector("label[for=f-number]").remove(); document.documentElement.lang = ""; true`)
	found := strings.Join(b.violations("tag", "wcag2a", "wcag2aa"), "\n")
	for _, rule := range []string{"label:", "html-has-lang:"} {
		if !strings.Contains(found, rule) {
			t.Errorf("axe-core does not say %s\n%s", rule, found)
		}
	}
}

// overheard collects what a window asked for and what it complained of.
type overheard struct {
	mu         sync.Mutex
	asked      map[string]bool
	complaints []string
}

func (h *overheard) listen(ev any) {
	h.mu.Lock()
	defer h.mu.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		h.asked[ev.Request.URL] = true
	case *network.EventWebSocketCreated:
		h.asked[ev.URL] = true
	case *log.EventEntryAdded:
		h.complaints = append(h.complaints, fmt.Sprintf("%s %s: %s (%s)", ev.Entry.Source, ev.Entry.Level, ev.Entry.Text, ev.Entry.URL))
	case *runtime.EventConsoleAPICalled:
		text := string(ev.Type)
		for _, a := range ev.Args {
			text += " " + string(a.Value)
		}
		h.complaints = append(h.complaints, "console "+text)
	case *runtime.EventExceptionThrown:
		h.complaints = append(h.complaints, "exception: "+ev.ExceptionDetails.Text)
	}
}

// answered tells a complaint that only repeats the status of a page that was
// asked for: a page that is not there, a form with mistakes.
func answered(complaint string) bool {
	nothing := strings.Contains(complaint, "/nothing") || strings.Contains(complaint, "/p/")
	return strings.Contains(complaint, "status of 404") && nothing || strings.Contains(complaint, "status of 422")
}

// TestNothingLeavesTheHost watches every request of every page, and what the
// browser complains of: a request elsewhere, a breach of the policy, an error
// of the script.
func TestNothingLeavesTheHost(t *testing.T) {
	t.Parallel()
	startChromium(t)
	v := openShop(t, true)
	h := &overheard{asked: map[string]bool{}}
	b := openTab(t, v, desktop, chromedp.WithListener(h.listen))
	send(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: `addEventListener("securitypolicyviolation", e => console.error("policy", e.violatedDirective, e.blockedURI))`})
	b.walk(func(string) {})
	b.visit("/clocks")
	b.do(chromedp.SendKeys(chromedp.ID("find"), "clock"))
	b.waits(`document.querySelector("#found").innerText.includes("found")`)

	h.mu.Lock()
	if len(h.asked) < len(browserPages()) {
		t.Errorf("only %d requests were seen", len(h.asked))
	}
	fonts, lists := 0, 0
	for u := range h.asked {
		if !strings.HasPrefix(u, v.base+"/") && !strings.HasPrefix(u, "data:") {
			t.Errorf("a page asks for %s", u)
		}
		fonts += strings.Count(u, ".woff2")
		lists += strings.Count(u, "/clocks/found")
	}
	if fonts == 0 || lists == 0 {
		t.Errorf("%d fonts and %d found lists were asked for; they are not watched", fonts, lists)
	}
	for _, c := range h.complaints {
		if !answered(c) {
			t.Error(c)
		}
	}
	h.complaints = nil
	h.mu.Unlock()

	// The ears work: what the policy forbids is heard.
	js[bool](b, `new Promise(done => { const i = new Image(); i.onerror = () => done(true); i.src = "http://127.0.0.2:9/x.png"; })`)
	h.mu.Lock()
	defer h.mu.Unlock()
	if !strings.Contains(strings.Join(h.complaints, "\n"), "img-src") {
		t.Errorf("a breach of the policy is not heard: %q", h.complaints)
	}
}

// TestWithoutScript does the main job where script is off.
func TestWithoutScript(t *testing.T) {
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, openShop(t, false), width)
		send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		press := func(selector string) { t.Helper(); b.loads(chromedp.Click(chromedp.CSS(selector))) }
		b.visit("/")
		press(`main a[href="/clocks/new"]`)
		b.do(chromedp.SendKeys(chromedp.CSS("[name=title]"), "Bracket clock"))
		press("main form button")
		press(`a[href$="/survey"]`)
		press(`main a[href$="/survey/train"]`)
		b.do(chromedp.SendKeys(chromedp.CSS("[name=going]"), "96/8 60/8 56/7 30"))
		press("form.inputs button")
		b.shows("Saved.", "3600")

		const folded = "form.inputs details:not([open])"
		n := js[int](b, `document.querySelectorAll("`+folded+`").length`)
		b.do(chromedp.Click(chromedp.CSS(folded + " > summary")))
		b.waits(fmt.Sprintf(`document.querySelectorAll("%s").length === %d`, folded, n-1))

		b.do(chromedp.SendKeys(chromedp.ID("find"), "bracket"))
		press("form.find button")
		b.shows("1 found", "Bracket clock")
		if got := b.at(); got != "/clocks?find=bracket" {
			t.Errorf("the found list stands at %s", got)
		}
	})
}

// smallTargets lists what can be pressed, is seen and is smaller than 24 by
// 24 px (WCAG 2.5.8), except links within a sentence.
const smallTargets = `[...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")].flatMap(e => {
	if (!e.checkVisibility({visibilityProperty: true}) || e.closest(".skip")) return [];
	if (e.localName === "a" && getComputedStyle(e).display === "inline") {
		const block = e.closest("p, li, dd, td, th, figcaption, div");
		if (block && block.innerText.trim() !== e.innerText.trim() && block.matches("p, li, dd")) return [];
	}
	const r = e.getBoundingClientRect();
	if (r.width >= 24 && r.height >= 24) return [];
	return [e.localName + " " + (e.id || e.getAttribute("href") || e.innerText).slice(0, 40) + " in " + e.parentElement.localName + "." + e.parentElement.className + ": " + Math.round(r.width) + " by " + Math.round(r.height)];
})`

// tooWide lists what reaches over the right edge of the page.
const tooWide = `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5 && !e.closest(".strip, .drawing, .visually-hidden"))
	.slice(0, 3).map(e => e.localName + "." + (e.className.baseVal ?? e.className) + "#" + e.id).join(", ")`

// staysWithin wants a page not to scroll sideways, folded and unfolded; it is
// left unfolded. Tables and drawings may move within their own strip.
func (b *tab) staysWithin(where string) {
	b.t.Helper()
	for _, open := range []bool{false, true} {
		n := js[int](b, fmt.Sprintf(`(() => {
			for (const d of document.querySelectorAll("details")) d.open = %t;
			return document.documentElement.scrollWidth - document.documentElement.clientWidth;
		})()`, open))
		if n > 0 {
			b.t.Errorf("%s scrolls sideways by %d px (unfolded %t): %s", where, n, open, js[string](b, tooWide))
		}
	}
}
