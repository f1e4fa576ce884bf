package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// withMicrophone opens a window of a browser of its own whose microphone hears
// a WAV, once, from when it is opened.
func withMicrophone(t *testing.T, v *visit, wav string, width int64) *tab {
	t.Helper()
	startChromium(t) // skips where there is none
	path, err := findChromium()
	if err != nil {
		t.Skip(err)
	}
	opts := append(flags(path), chromedp.Flag("use-fake-device-for-media-stream", true), chromedp.Flag("use-fake-ui-for-media-stream", true),
		chromedp.Flag("use-file-for-fake-audio-capture", wav+"%noloop"), chromedp.UserDataDir(t.TempDir()))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	t.Cleanup(stop)
	browser, end := chromedp.NewContext(alloc)
	t.Cleanup(end)
	if err := chromedp.Do(browser); err != nil {
		t.Fatal(err)
	}
	return openTabOf(t, browser, v, width)
}

// listenings is how often a microphone is listened to before it is said that
// this machine loses sound.
const listenings = 3

// TestLiveMicrophone listens by a browser, by either way of its sound, until
// the rate is there; the true one lies in the stated limits. A browser to which
// the machine leaves too little time loses sound: where the record says so and
// has no rate for it, another listens anew. It is alone for the same reason:
// no other test runs beside it.
func TestLiveMicrophone(t *testing.T) {
	if os.Getenv("SEATBOARD_MICROPHONE") == "no" {
		t.Skip("SEATBOARD_MICROPHONE is no: a browser does not listen this time")
	}
	wav := soundFile(t, seconds(150))
	ways := []string{"browser processor", "browser worklet"}
	if testing.Short() {
		ways = ways[:1]
	}
	for _, way := range ways {
		t.Run(way, func(t *testing.T) {
			for n := range listenings {
				lost := true
				t.Run(fmt.Sprintf("listening %d", n+1), func(t *testing.T) {
					defer func() { lost = t.Skipped() }()
					hearsClock(t, wav, way)
				})
				if !lost {
					return
				}
			}
			t.Skipf("not looked at: this machine lost sound in each of %d listenings, as one with too much to do does", listenings)
		})
	}
}

// hearsClock listens once. It is skipped where sound was lost and no rate, or
// a wrong one, was found for it.
func hearsClock(t *testing.T, wav, way string) {
	v := openShop(t, false)
	v.addOne("2026-001", "Bracket clock")
	width := int64(desktop)
	if way == "browser worklet" {
		width = phone
	}
	b := withMicrophone(t, v, wav, width)
	if way == "browser worklet" {
		send(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `delete window.MediaStreamTrackProcessor`})
	}
	b.visit("/listen/live")
	b.tabsTo("[name=beats]")
	b.types("7200")
	b.tabsTo("#begin")
	b.types("\r")
	b.waits(`!document.getElementById("running").hidden`)
	b.holds(`document.activeElement.id === "stop"`)
	b.waits(`document.getElementById("level-words").innerText.includes("dB")`)
	const shown = `document.getElementById("say").innerText.includes("gained") && document.querySelector("#ribbon svg") !== null`
	b.waits(shown + ` || /Sound of (4[5-9]|[5-9]\d|\d{3,}) s/.test(document.getElementById("far").innerText)`) // so much is enough for a rate
	var wrong []string
	if js[bool](b, shown) {
		b.sound("/listen/live")
	} else {
		wrong = append(wrong, "the page had no rate and no drawing")
	}
	said := js[string](b, `document.getElementById("running").innerText`)
	b.tabsTo("#stop")
	b.enters()
	b.shows("What was heard")
	v.get("/listen").want(200, "Fake")

	lost := lostWord.FindAllString(said, -1)
	if v.get(b.at() + "/answer.json"); v.status == http.StatusNotFound {
		wrong = append(wrong, "there is no answer, as where no beat was found")
	} else {
		v.want(200)
		faults, marked := heardRight(t, v.page)
		wrong, lost = append(wrong, faults...), append(lost, marked...)
	}
	switch {
	case len(wrong) > 0 && len(lost) > 0:
		t.Skipf("sound was lost (%s): %s", strings.Join(lost, ", "), strings.Join(wrong, "; "))
	case len(wrong) > 0:
		t.Errorf("no sound was lost, and %s; the page said\n%s", strings.Join(wrong, "; "), said)
	default:
		b.shows("gained")
	}
}

// lostWord is what the page says while sound is being lost.
var lostWord = regexp.MustCompile(`Sound was lost[^.]*|exact silence at [^;.]*|thrown away by the browser at [^;.]*`)

// heardRight reads the answer of a live listening: what is wrong with its rate,
// and where the record says that sound was lost.
func heardRight(t *testing.T, answer string) (wrong, lost []string) {
	t.Helper()
	var a struct {
		Mean    meas.Interval[unit.Rate] `json:"mean"`
		Hearing beat.Hearing             `json:"hearing"`
		Going   *rate.Answer             `json:"going"`
	}
	if err := json.Unmarshal([]byte(answer), &a); err != nil {
		t.Fatal(err)
	}
	for _, m := range a.Hearing.Marks {
		switch m.Kind {
		case beat.Zeros, beat.Step, beat.Repeat, shop.Lost, shop.Thrown, shop.Shifted:
			lost = append(lost, fmt.Sprintf("%s at %.1f s", m.Kind, float64(m.At)))
		}
	}
	const true40 = unit.Rate(40.0 / 86400)
	if a.Hearing.Verdict != beat.Regular || !a.Mean.Has(true40) {
		wrong = append(wrong, fmt.Sprintf("%s: %+v does not have 40 s a day", a.Hearing.Verdict, a.Mean))
	}
	switch {
	case a.Going == nil:
		wrong = append(wrong, "there is no rate by the recorder's clock")
	case !a.Going.Mean.Has(true40):
		wrong = append(wrong, fmt.Sprintf("by the recorder's clock, which is true here, it is %s s/d", a.Going.Mean.Text("s/d")))
	default:
		t.Logf("%s over %.1f s, %d beats in %d runs, beat error %s; lost: %q", a.Going.Mean.Text("s/d"), float64(a.Going.Span), a.Going.Used, len(a.Hearing.Runs), a.Going.BeatError.Text("ms"), lost)
	}
	return wrong, lost
}

// TestHeardPages looks at the pages of something heard, with the sound of a
// recording in them, at both widths, light and dark.
func TestHeardPages(t *testing.T) {
	t.Parallel()
	startChromium(t)
	v := openShop(t, false)
	path := v.addOne("2026-001", "Bracket clock")
	v.send("bracket.wav", wavOf(t, seconds(60)), "beats", "7200").heardOut()
	at := v.at
	v.send("bracket.wav", wavOf(t, seconds(40)), "beats", "7200").heardOut()
	v.post(v.at+"/keep", "clock", "2026-001", "sound", "yes").want(200, "Kept in the clock")
	kept := v.at
	v.get("/listen/recorders")
	v.post("/listen/recorders/state", "device", "telephone", "error", "12 ± 3").want(200, "fast by 12")
	for _, width := range widths {
		b := openTab(t, v, width)
		for _, p := range []string{"/listen", "/listen/live", "/listen/recorders", at, path + "/listening", kept} {
			b.visit(p)
			b.looksRight(p)
		}
	}
}

// TestOtherFormatsAreDecodedByTheBrowser brings a recording under a name that
// the server does not take; what arrives is a WAV.
func TestOtherFormatsAreDecodedByTheBrowser(t *testing.T) {
	v := openShop(t, false)
	b := openTab(t, v, desktop)
	file := filepath.Join(t.TempDir(), "telephone.m4a")
	if err := os.WriteFile(file, wavOf(t, seconds(30)), 0o644); err != nil {
		t.Fatal(err)
	}
	b.visit("/listen")
	b.do(chromedp.SendKeys(chromedp.CSS("form[data-upload] [name=beats]"), "7200"), chromedp.SetUploadFiles(chromedp.ID("sound"), []string{file}))
	b.clicks("form[data-upload] button")
	b.waits(`document.querySelector("h1")?.innerText === "What was heard"`)
	b.shows("telephone.m4a.wav", "gained", "48,000 samples a second")
}
