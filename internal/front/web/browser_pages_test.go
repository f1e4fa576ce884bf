package web

import (
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

// TestPages looks at every page at both widths, and listens to what the
// browser asks for and complains of meanwhile: nothing may be asked for
// elsewhere, no policy be broken, no script fail.
func TestPages(t *testing.T) {
	v := openShop(t, true)
	atEachWidth(t, func(t *testing.T, width int64) {
		h := &overheard{asked: map[string]bool{}}
		b := openTab(t, v, width, chromedp.WithListener(h.listen))
		send(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
			Source: `addEventListener("securitypolicyviolation", e => console.error("policy", e.violatedDirective, e.blockedURI))`})
		look := func(where string) { b.looksRight(where) }
		b.walk(look)
		js[int](b, `(document.getElementById("keys").showModal(), 0)`)
		look("the dialog of keys")
		b.visit("/clocks")
		b.do(chromedp.SendKeys(chromedp.ID("find"), "clock"))
		b.waits(`document.querySelector("#found").innerText.includes("found")`)
		h.staysHere(b)
	})
}

// TestAxeFindsFaults makes sure that the test above can fail.
func TestAxeFindsFaults(t *testing.T) {
	b := openTab(t, openShop(t, true), phone)
	b.visit("/clocks/1")
	b.unfold()
	if found := b.faults(); len(found) > 0 {
		t.Fatal(found)
	}
	js[bool](b, `document.querySelector("#find").labels[0].remove(), document.documentElement.lang = "", [...document.querySelectorAll("main dd.note")].at(-1).style.color = "light-dark(#999, #444)", true`)
	found := strings.Join(b.faults(), "\n")
	for _, rule := range []string{"label:", "html-has-lang:", "light: color-contrast:", "dark: color-contrast:"} {
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

// staysHere wants nothing to have been asked for elsewhere and nothing to have
// been complained of.
func (h *overheard) staysHere(b *tab) {
	b.t.Helper()
	h.mu.Lock()
	if len(h.asked) < len(browserPages()) {
		b.t.Errorf("only %d requests were seen", len(h.asked))
	}
	fonts, lists := 0, 0
	for u := range h.asked {
		if !strings.HasPrefix(u, b.base+"/") && !strings.HasPrefix(u, "data:") {
			b.t.Errorf("a page asks for %s", u)
		}
		fonts += strings.Count(u, ".woff2")
		lists += strings.Count(u, "/clocks/found")
	}
	if fonts == 0 || lists == 0 {
		b.t.Errorf("%d fonts and %d found lists were asked for; they are not watched", fonts, lists)
	}
	for _, c := range h.complaints {
		if !answered(c) {
			b.t.Error(c)
		}
	}
	h.complaints = nil
	h.mu.Unlock()

	// The ears work: what the policy forbids is heard.
	js[bool](b, `new Promise(done => { const i = new Image(); i.onerror = () => done(true); i.src = "http://127.0.0.2:9/x.png"; })`)
	h.mu.Lock()
	defer h.mu.Unlock()
	if !strings.Contains(strings.Join(h.complaints, "\n"), "img-src") {
		b.t.Errorf("a breach of the policy is not heard: %q", h.complaints)
	}
}

// TestWithoutScript does the main job where script is off.
func TestWithoutScript(t *testing.T) {
	atEachWidth(t, func(t *testing.T, width int64) {
		b := openTab(t, openShop(t, false), width)
		send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		press := func(selector string) { t.Helper(); b.clicks(selector) }
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
		b.taps(folded + " > summary")
		b.waits(fmt.Sprintf(`document.querySelectorAll("%s").length === %d`, folded, n-1))

		b.do(chromedp.SendKeys(chromedp.ID("find"), "bracket"))
		press("form.find button")
		b.shows("1 found", "Bracket clock")
		if got := b.at(); got != "/clocks?find=bracket" {
			t.Errorf("the found list stands at %s", got)
		}
	})
}
