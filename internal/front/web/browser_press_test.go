package web

import (
	"context"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// rests waits until the page has all it asked for and what the selector names
// stands still: a finger that goes down on it comes up on it.
func (b *tab) rests(selector string) {
	b.t.Helper()
	b.waits(`document.readyState === "complete" && document.fonts.status === "loaded" && document.querySelector(` + quoted(selector) + `) !== null`)
	for before := ""; ; time.Sleep(30 * time.Millisecond) {
		at := js[string](b, `JSON.stringify(document.querySelector(`+quoted(selector)+`)?.getBoundingClientRect() ?? "")`)
		if at == before {
			return
		}
		before = at
	}
}

// reaches brings what the selector names into view, where it comes to rest.
func (b *tab) reaches(selector string) {
	b.t.Helper()
	b.rests(selector)
	b.do(chromedp.ScrollIntoView(chromedp.CSS(selector)))
	b.rests(selector) // pictures that come into view may have moved it
}

// taps presses what the selector names.
func (b *tab) taps(selector string) {
	b.t.Helper()
	b.reaches(selector)
	b.do(chromedp.Click(chromedp.CSS(selector)))
}

// clicks presses what the selector names and waits for the page that it leads
// to.
func (b *tab) clicks(selector string) {
	b.t.Helper()
	b.reaches(selector)
	b.loads(chromedp.Click(chromedp.CSS(selector)))
}

// types presses keys, one after the other, as a keyboard does: a key that the
// page takes for itself writes nothing.
func (b *tab) types(keys string, modifiers ...chromedp.Modifier) {
	b.t.Helper()
	b.do(pressing(keys, modifiers...))
}

func pressing(keys string, modifiers ...chromedp.Modifier) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		for _, r := range keys {
			for _, p := range kb.Encode(r) {
				if p.Type == input.DispatchKeyEventTypeChar {
					continue // the key that goes down writes it
				}
				for _, m := range modifiers {
					p.Modifiers |= int64(m)
				}
				if k := kb.Keys[r]; k != nil && k.Text != "" && p.Type != input.DispatchKeyEventTypeKeyUp {
					p.Type, p.Text, p.UnmodifiedText = input.DispatchKeyEventTypeKeyDown, k.Text, k.Unmodified
				}
				if _, err := cdp.Call(ctx, t, input.DispatchKeyEvent, *p); err != nil {
					return chromedp.Void{}, err
				}
			}
		}
		return chromedp.Void{}, nil
	}
}
