package web

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

func TestGatesOnThePage(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	at := path + "/trial/gates"
	v.get(at).want(200, "A week right on the stand has not begun", "Begin: A week right on the stand", "Common practice")
	v.post(at, "do", "begin", "gate", "stand", "seen", "0", "begin-from", "soon").want(422, "soon", `href="#f-begin-from"`, `value="soon"`)
	v.get(at).post(at, "do", "begin", "gate", "stand", "seen", "0").want(200, "day 1 of 7", "Sign it though not all is right", "7\u00a0days on end")
	v.post(at, "do", "sign", "gate", "stand", "seen", "0", "sign-why", "x").want(409, "You have written of this meanwhile")
	v.get(at).post(at, "do", "sign", "gate", "stand", "seen", "2").want(422, "Not all is right", `href="#f-sign-why"`)
	v.post(at, "do", "anew", "gate", "stand", "seen", "2", "anew-from-stand", "2020-01-01 10:00").want(422, "Say why it begins anew", "The gate began only later", `href="#f-anew-why-stand"`, `value="2020-01-01 10:00"`)
	v.get(at).post(at, "do", "anew", "gate", "stand", "seen", "2", "anew-why-stand", "it was <moved>").want(200, "it was &lt;moved&gt;", "Why it began anew")
	v.get(at + ".pdf").want(200)

	v.get(path).post(path+"/stage", "stage", "trial").want(200)
	v.get(path).post(path+"/stage", "stage", "going-home").want(422, "has not passed its gates", "Send it home without")
	v.post(at, "do", "waive", "seen", "3").want(422, "Say why it goes home without", `href="#f-waive-why"`)
	v.get(at).post(at, "do", "sign", "gate", "stand", "seen", "3", "sign-why", "the owner hears no difference").want(200, "Signed, with your name", "Signed though not all was right: the owner hears no difference", "A week right in the case has not begun")
	v.get(at).post(at, "do", "waive", "seen", "4", "waive-why", "its case is elsewhere").want(200, "Gates were given up", "its case is elsewhere", "Going home</span><span class=\"visually-hidden\"> (the clock is here)")
}

func TestWhatCountsAsRight(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	at := path + "/trial/gates/aim"
	v.get(at).want(200, "Begin with what is common", `value="5"`, "A week right in the case")
	v.post(at, "seen", "0", "rate", "fast", "band", "", "beat_error", "-1", "promise", "by Easter", "gates[0].n", "1", "gates[0].name", "A month", "gates[0].days", "long", "gates[0].least", "some", "gates[0].gap", "3", "home.latitude", "north").want(422,
		`href="#f-rate"`, `href="#f-gates-0--days"`, `href="#f-gates-0--least"`, `href="#f-home-latitude"`, "whole number", "by Easter", `value="A month"`, `value="fast"`)
	v.post(at, "seen", "0", "band", "0", "gates[0].n", "1", "gates[0].name", "A month", "gates[0].days", "30").want(422, "above nought")
	v.get(at).post(at, "seen", "0", "rate", "+2", "band", "30 s/wk", "beat_error", "12", "strikes", "yes", "promise", "right to a minute", "gates[0].n", "1", "gates[0].name", "A month", "gates[0].days", "30", "gates[0].least", "9", "gates[0].gap", "3,5",
		"gates[1].n", "2", "gates[1].name", "", "gates[1].days", "", "home.place", "Quay Lane", "home.latitude", "51° 28′ N", "home.temperature", "19").want(200, "Saved.", "A month has not begun", "right to a minute")
	if strings.Contains(v.page, "A week right in the case") {
		t.Error("a gate that was emptied is still asked")
	}
	v.get(at).want(200, `value="51° 28′ N"`, `value="3.5"`, `value="12"`, "checked", "Begin again with what is common")
	v.post(at, "seen", "1", "kind", "turret").want(200, "A week right in the tower", "A week right on the stand has not begun")
	v.get(at).want(200, `value="Quay Lane"`, "checked", "right to a minute")
	v.post(at, "seen", "0", "kind", "regulator").want(409, "You have written of this meanwhile")
}

// TestGatesOnAPhone begins a gate with a thumb and signs it with a reason by
// the keyboard; the pages are sound.
func TestGatesOnAPhone(t *testing.T) {
	t.Parallel()
	startChromium(t)
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	b := openTab(t, v, phone)
	b.visit(path + "/trial/gates/aim")
	b.looksRight("what counts as right")
	b.visit(path + "/trial/gates")
	b.clicks("button[value=begin]")
	b.shows("day 1 of 7")
	b.taps("details:has(#f-sign-why) summary")
	b.do(chromedp.Focus(chromedp.CSS("#f-sign-why")))
	b.types("the owner is content")
	b.do(chromedp.Focus(chromedp.CSS("button[value=sign]")))
	b.loads(chromedp.KeyEvent("\r"))
	b.shows("Signed by", "the owner is content")
	b.looksRight("the gates")
}

// TestSetForHomeOnThePage takes what the home does into the advice, and out of
// it again, by one button.
func TestSetForHomeOnThePage(t *testing.T) {
	v := openShop(t, true)
	at := "/clocks/1/trial"
	v.get(at).want(200, "A home is written down: by going there its rate changes by", "Set it for home", "The advice is for here")
	v.post(at, "do", "home-now", "read", "9999").want(200, "Saved.", "It is set for home: by going there", "Regulate it for here", "To aim at here, for home", "At home, left alone", "Rate to aim at here, for home", "set for its home from now on")
	v.get(at+"/gates").want(200, "which is right at home")
	v.get(at+"/home").want(200, "Rate to aim at here")
	v.get(at).post(at, "do", "home-now", "read", "9999").want(409, "written down already")
	v.post(at, "do", "home-never", "read", "9999").want(200, "Set it for home", "not set for its home here")
}

// TestWindingIsAsked on the page, with what most clocks go in the field.
func TestWindingIsAsked(t *testing.T) {
	v := openShop(t, false)
	at := v.addOne("1", "Clock") + "/trial"
	v.get(at).post(at, "do", "read", "seen", "3 s fast", "read", "0").want(200, "When was it wound last?", "most go eight days (common practice, no source)", `value="8 d"`)
	v.post(at, "do", "winding", "read", "9", "wound", "some day", "goes", "30 h").want(422, "some day", `value="30 h"`, `href="#f-wound"`)
	v.post(at, "do", "winding", "read", "9", "wound", "yesterday 17:40", "goes", "30 h").want(200, "Saved.")
	if strings.Contains(v.page, "When was it wound last?") {
		t.Error("it is asked though it was said")
	}
}
