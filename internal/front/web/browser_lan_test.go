package web

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// trustingTab opens the window of a phone that takes the computer's
// certificate of now, as one does that trusts the root. It gives a
// microphone to whoever may ask for it.
func (l *lan) trustingTab() *tab {
	l.t.Helper()
	startChromium(l.t) // skips where there is none
	path, err := findChromium()
	if err != nil {
		l.t.Skip(err)
	}
	opts := append(flags(path), chromedp.UserDataDir(l.t.TempDir()), chromedp.Flag("use-fake-device-for-media-stream", true), chromedp.Flag("use-fake-ui-for-media-stream", true))
	if a := l.s.Lan.Authority; a != nil {
		c, err := a.TLS().GetCertificate(nil)
		if err != nil {
			l.t.Fatal(err)
		}
		sum := sha256.Sum256(c.Leaf.RawSubjectPublicKeyInfo)
		opts = append(opts, chromedp.Flag("ignore-certificate-errors-spki-list", base64.StdEncoding.EncodeToString(sum[:])))
	}
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	l.t.Cleanup(stop)
	browser, end := chromedp.NewContext(alloc)
	l.t.Cleanup(end)
	if err := chromedp.Do(browser); err != nil {
		l.t.Fatal(err)
	}
	return openTabOf(l.t, browser, &visit{base: l.phones}, phone)
}

// TestPhoneInABrowser: a phone takes the code out of the address, comes in,
// reaches Today, is shut out and refused.
func TestPhoneInABrowser(t *testing.T) {
	t.Parallel()
	l := openLan(t, false)
	b := l.trustingTab()
	bench := openTab(t, l.computer, desktop)
	b.visit("/")
	b.shows("This phone is not let in", "Show a code")
	b.sound("refused")

	bench.visit("/phones")
	bench.sound("phones")
	bench.clicks(`form[action='/phones/code'] button`)
	bench.shows("lets in one phone")
	bench.sound("phones with a code")
	b.visit("/pair#" + l.s.pairing.Watch().Token)
	b.holds(`location.hash === "" && document.querySelector("[data-code-field]").hidden && document.activeElement.id === "f-name"`)
	b.sound("the way in")
	b.types("Anna")
	b.loads(chromedp.Evaluate[chromedp.Void](`document.querySelector("main form").requestSubmit()`))
	digits := js[string](b, `document.querySelector(".left").textContent`)
	b.sound("the figures")

	bench.waits(`document.querySelector("form[action='/phones/answer'] button")?.innerText.includes(` + quoted(digits) + `) ?? false`)
	bench.shows("Anna", digits)
	bench.sound("a phone asks")
	bench.clicks(`form[action='/phones/answer'] button[value=yes]`)
	b.waits(`document.querySelector("form[action='/pair/finish']") !== null`)
	b.clicks(`form[action='/pair/finish'] button`)
	b.shows("Anna is let in")
	b.holds(`isSecureContext && document.querySelector("[data-secure]").textContent.startsWith("Yes")`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("[data-try]").click()`))
	b.waits(`document.querySelector("[data-microphone]").textContent.startsWith("Yes")`)
	b.sound("this phone")
	b.visit("/")
	b.shows("Which clock is on the bench?", "This phone")

	bench.waits(`document.body.innerText.includes("Anna is in.")`)
	bench.sound("a phone is in")
	bench.clicks(`form[action$='/shut-out'] button`)
	bench.shows("Shut out")
	b.visit("/")
	b.shows("This phone is not let in")
}

// TestPhoneWithoutScript: the code is typed, and the pages look again by
// themselves.
func TestPhoneWithoutScript(t *testing.T) {
	l := openLan(t, true)
	b := l.trustingTab()
	send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	l.computer.get("/phones").post("/phones/code").want(200)
	typed := l.s.pairing.Watch().Typed
	b.visit("/pair")
	for selector, keys := range map[string]string{"#f-code": strings.ToLower(typed), "#f-name": "Anna"} {
		b.do(chromedp.Focus(selector))
		b.types(keys)
	}
	b.enters()
	b.shows("compare these figures", fmt.Sprint(l.s.pairing.Watch().Digits))
	l.computer.get("/phones").post("/phones/answer", "digits", l.s.pairing.Watch().Digits, "do", "yes").want(200)
	b.visit("/pair")
	b.shows("Open the shop")
}
