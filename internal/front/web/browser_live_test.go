package web

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// withMicrophone opens a window of a browser whose microphone hears a WAV,
// once, from when it is opened.
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

// comes waits longer than waits.
func (b *tab) comes(expression string, most time.Duration) {
	b.t.Helper()
	for end := time.Now().Add(most); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if js[bool](b, expression) {
			return
		}
	}
	b.t.Fatalf("at %s within %s it never came to be that %s; it shows %s", b.at(), most, expression, js[string](b, `document.body.innerText`))
}

// TestLiveMicrophone listens by a browser, by either way of its sound, until
// the rate is there; the true one lies in the stated limits.
func TestLiveMicrophone(t *testing.T) {
	wav := soundFile(t, seconds(50))
	ways := []string{"browser processor", "browser worklet"}
	if testing.Short() {
		ways = ways[:1]
	}
	for _, way := range ways {
		t.Run(way, func(t *testing.T) {
			t.Parallel()
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
			b.comes(`!document.getElementById("running").hidden`, 30*time.Second)
			b.holds(`document.activeElement.id === "stop"`)
			b.comes(`document.getElementById("level-words").innerText.includes("dB")`, 20*time.Second)
			b.comes(`document.getElementById("say").innerText.includes("gained")`, 40*time.Second)
			b.comes(`document.querySelector("#ribbon svg") !== null`, 40*time.Second)
			if n := js[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); n > 0 {
				t.Errorf("it scrolls sideways by %d px: %s", n, js[string](b, tooWide))
			}
			js[bool](b, axe+"; true")
			for _, f := range b.violations("tag", "wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice") {
				t.Error(f)
			}
			b.scheme("dark")
			for _, f := range b.violations("rule", "color-contrast") {
				t.Errorf("dark: %s", f)
			}
			b.tabsTo("#stop")
			b.enters()
			b.shows("What was heard", "gained")

			var a struct {
				Mean    meas.Interval[unit.Rate] `json:"mean"`
				Hearing beat.Hearing             `json:"hearing"`
				Going   *rate.Answer             `json:"going"`
			}
			v.get(b.at() + "/answer.json").want(200)
			if err := json.Unmarshal([]byte(v.page), &a); err != nil {
				t.Fatal(err)
			}
			v.get("/listen").want(200, "Fake")
			if a.Hearing.Verdict != beat.Regular || !a.Mean.Has(unit.Rate(40.0/86400)) {
				t.Errorf("%s: %+v does not have 40 s a day", a.Hearing.Verdict, a.Mean)
			}
			if a.Going == nil {
				t.Fatal("no rate by the recorder's clock")
			}
			if !a.Going.Mean.Has(unit.Rate(40.0 / 86400)) {
				t.Errorf("by the recorder's clock, which is true here: %s s/d", a.Going.Mean.Text("s/d"))
			}
			t.Logf("%s: %s over %.1f s, %d beats in %d runs, beat error %s", way, a.Going.Mean.Text("s/d"), float64(a.Going.Span), a.Going.Used, len(a.Hearing.Runs), a.Going.BeatError.Text("ms"))
		})
	}
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
			b.unfold()
			if n := js[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); n > 0 {
				t.Errorf("%s at %d scrolls sideways by %d px: %s", p, width, n, js[string](b, tooWide))
			}
			if width == phone {
				for _, s := range js[[]string](b, smallTargets) {
					t.Errorf("%s: %s", p, s)
				}
			}
			js[int](b, `[...document.querySelectorAll("tbody tr:nth-child(n+31)")].map(r => r.remove()).length`)
			js[bool](b, axe+"; true")
			b.scheme("light")
			found := b.violations("tag", "wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
			b.scheme("dark")
			for _, f := range append(found, b.violations("rule", "color-contrast")...) {
				t.Errorf("%s at %d: %s", p, width, f)
			}
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
	b.loads(chromedp.Click(chromedp.CSS("form[data-upload] button")))
	b.comes(`document.querySelector("h1")?.innerText === "What was heard"`, 30*time.Second)
	b.shows("telephone.m4a.wav", "gained", "48,000 samples a second")
}
