package web

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"seatboard/internal/io/audio"
	"seatboard/internal/io/photo"
)

// The two widths every page is looked at in: a screen on the bench, a phone.
const (
	desktop = 1280
	phone   = 390
)

var widths = []int64{desktop, phone}

// One browser serves all tests; it starts with the first that asks for it.
var chromium struct {
	once sync.Once
	ctx  context.Context
	stop []context.CancelFunc
	err  error
}

// TestMain lets the test binary be the child that decodes sound, too.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == audio.ChildCommand {
		os.Exit(audio.Serve(os.Stdin, os.Stdout))
	}
	if len(os.Args) == 2 && os.Args[1] == photo.ChildCommand {
		os.Exit(photo.Serve(os.Stdin, os.Stdout))
	}
	code := m.Run()
	for i := len(chromium.stop) - 1; i >= 0; i-- {
		chromium.stop[i]()
	}
	os.Exit(code)
}

// startChromium gives the context of the browser. Where there is none, or
// SEATBOARD_BROWSER is "no", the test is skipped; where CI is set a missing
// browser fails it.
func startChromium(t *testing.T) context.Context {
	t.Helper()
	if os.Getenv("SEATBOARD_BROWSER") == "no" {
		t.Skip("SEATBOARD_BROWSER is no: the pages are not looked at in a browser this time")
	}
	chromium.once.Do(func() {
		path, err := findShell()
		if err != nil {
			chromium.err = err
			return
		}
		alloc, stop := chromedp.NewExecAllocator(context.Background(), flags(path)...)
		ctx, end := chromedp.NewContext(alloc)
		chromium.stop = append(chromium.stop, stop, end)
		chromium.ctx = ctx
		if err := chromedp.Do(ctx); err != nil {
			chromium.err = fmt.Errorf("%s does not start: %w", path, err)
		}
	})
	switch {
	case chromium.err == nil:
	case os.Getenv("CI") == "true":
		t.Fatal(chromium.err)
	default:
		t.Skip(chromium.err)
	}
	return chromium.ctx
}

// noFeatures are those that cost time and show nothing: the browser's own pages
// for its address bar follow every step, though nobody sees them.
const noFeatures = "Translate,WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup,AiModeOmniboxEntryPoint"

func flags(path string) []chromedp.ExecAllocatorOption {
	return append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("headless", "new"), chromedp.Flag("disable-features", noFeatures), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
}

func findChromium() (string, error) {
	return findBrowser("chromium", "chromium-browser", "google-chrome")
}

// findShell prefers the browser without windows, which takes less of the
// machine; it has no microphone.
func findShell() (string, error) {
	if path, err := findBrowser("chromium-headless-shell"); err == nil {
		return path, nil
	}
	return findChromium()
}

func findBrowser(names ...string) (string, error) {
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("no %s in PATH: the pages were not looked at in a browser", strings.Join(names, ", "))
}

// tab is a window of the browser on one shop.
type tab struct {
	t     *testing.T
	ctx   context.Context
	base  string
	width int64 // px
	left  int   // pages that loads has left
}

// openTab opens a window of that width on a shop. On a phone it is as high as
// phones are and its scroll bars lie over the page.
func openTab(t *testing.T, v *visit, width int64, opts ...chromedp.ContextOption) *tab {
	t.Helper()
	return openTabOf(t, startChromium(t), v, width, opts...)
}

// openTabOf opens it in a browser of its own.
func openTabOf(t *testing.T, browser context.Context, v *visit, width int64, opts ...chromedp.ContextOption) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser, opts...)
	t.Cleanup(stop)
	b := &tab{t: t, ctx: ctx, base: v.base, width: width}
	if err := chromedp.Do(ctx); err != nil { // opens the window, which lasts as long as ctx
		t.Fatal(err)
	}
	if end, limited := t.Deadline(); limited { // before it, what hangs is said by the test that hangs
		within, cancel := context.WithDeadline(ctx, end.Add(-20*time.Second))
		t.Cleanup(cancel)
		b.ctx = within
	}
	if width < 800 {
		b.do(chromedp.EmulateViewport(width, 844, chromedp.EmulateMobile, chromedp.EmulateTouch))
	} else {
		b.do(chromedp.EmulateViewport(width, 900))
	}
	send(b, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	send(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: axe})
	return b
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	for _, s := range steps {
		call(b, s)
	}
}

// call runs a step that gives a value. One that never ends fails the test and
// says what the page showed.
func call[T any](b *tab, a chromedp.Action[T]) T {
	b.t.Helper()
	within, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(within, a)
	if err != nil {
		shown, _ := chromedp.Run(b.ctx, chromedp.Evaluate[string](`location.href + ": " + document.body.innerText`))
		b.t.Fatalf("%v at %s", err, shown)
	}
	return v
}

// send gives the browser a command of its protocol.
func send[P, R any](b *tab, command cdp.Command[P, R], params P) {
	b.t.Helper()
	if _, err := chromedp.Call(b.ctx, command, params); err != nil {
		b.t.Fatal(err)
	}
}

// js gives the value of an expression in the page. While one page gives way to
// another there may be nothing yet to ask it of: then it is asked again.
func js[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := answer(b, patience, expression, func(T) bool { return true })
	if err != nil {
		b.t.Fatalf("%.80s: %v", expression, err)
	}
	return v
}

// patience is how long is waited for what must come. It is far longer than
// anything takes, as a machine with much to do takes long; a wait ends as soon
// as what it waits for is there.
const patience = 2 * time.Minute

// answer asks for the value of an expression until it is right or the time is
// up, and gives the last value, or what the page threw instead of one.
func answer[T any](b *tab, within time.Duration, expression string, right func(T) bool) (T, error) {
	until, cancel := context.WithTimeout(b.ctx, within)
	defer cancel()
	for ; ; time.Sleep(20 * time.Millisecond) {
		v, err := chromedp.Run(until, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
		if err == nil && right(v) || until.Err() != nil {
			return v, err
		}
	}
}

// it is the answer that waits and holds look for.
func it(holds bool) bool { return holds }

func (b *tab) visit(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.base + path))
}

// loads runs a step that leads to another page and waits for that page. The
// page that is left is marked: where it was itself still loading, its own end
// is not taken for that of the next.
func (b *tab) loads(step chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	b.left++
	b.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`window.leftAs = %d`, b.left)))
	call(b, chromedp.WaitEvent(page.LoadEventFired, nil, step))
	b.waits(fmt.Sprintf(`window.leftAs !== %d && document.readyState === "complete"`, b.left))
}

// waits until an expression in the page holds.
func (b *tab) waits(expression string) {
	b.t.Helper()
	if held, err := answer(b, patience, expression, it); err != nil || !held {
		b.t.Fatalf("at %s it never came to be that %s (%v); it shows %s", b.at(), expression, err, js[string](b, `document.body.innerText`))
	}
}

// holds wants an expression in the page to hold, now or soon: what was just
// pressed may not have been heeded yet. Unlike waits it lets the test go on.
func (b *tab) holds(expression string) {
	b.t.Helper()
	const soon = 20 * time.Second
	if held, err := answer(b, soon, expression, it); err != nil || !held {
		b.t.Errorf("at %s it does not hold that %s (%v)", b.at(), expression, err)
	}
}

func (b *tab) at() string {
	b.t.Helper()
	return strings.TrimPrefix(call(b, chromedp.Location()), b.base)
}

// shows wants words on the page where they can be read, now or soon.
func (b *tab) shows(words ...string) {
	b.t.Helper()
	missing := words
	_, err := answer(b, patience, `document.body.innerText`, func(text string) bool {
		missing = slices.DeleteFunc(slices.Clone(words), func(w string) bool { return strings.Contains(text, w) })
		return len(missing) == 0
	})
	if err != nil || len(missing) > 0 {
		b.t.Errorf("%q cannot be read at %s (%v)", missing, b.at(), err)
	}
}

// scheme sets what the visitor prefers: "light" or "dark".
func (b *tab) scheme(name string) {
	b.t.Helper()
	send(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
}

// atEachWidth runs a test beside the other.
func atEachWidth(t *testing.T, test func(t *testing.T, width int64)) {
	startChromium(t)
	for _, w := range widths {
		t.Run(fmt.Sprint(w), func(t *testing.T) {
			t.Parallel()
			test(t, w)
		})
	}
}

// browserPages are the pages that a browser shows as pages: all of everyPage
// but files and the fragment, and the survey of all clocks of the
// demonstration. With -short a few stand for all.
func browserPages() []string {
	if testing.Short() {
		return []string{"/", "/clocks", "/clocks/new", "/clocks/2", "/clocks/2/taking-in", "/clocks/2/survey/train", "/desk", "/sources"}
	}
	var pages []string
	for _, p := range everyPage {
		address, _, _ := strings.Cut(p, "?")
		if ext := path.Ext(address); ext != ".json" && ext != ".pdf" && ext != ".svg" && ext != ".csv" && ext != ".ics" && !strings.HasPrefix(p, "/clocks/found") && !strings.HasPrefix(p, "/hours/strip") {
			pages = append(pages, p)
		}
	}
	for id := 2; id <= 4; id++ {
		for _, part := range []string{"train", "pendulum", "drive"} {
			pages = append(pages, fmt.Sprintf("/clocks/%d/survey/%s", id, part))
		}
	}
	return append(pages, "/clocks/2") // whose record and survey have open questions
}

// walk visits every page, each with all that folds opened, and two answers to
// forms with mistakes.
func (b *tab) walk(look func(page string)) {
	b.t.Helper()
	for _, p := range browserPages() {
		b.visit(p)
		b.unfold()
		look(p)
	}
	b.visit("/clocks/new")
	b.loads(chromedp.Evaluate[chromedp.Void](`document.getElementById("f-number").value = "", document.querySelector("main form").requestSubmit()`))
	b.shows("There is a problem")
	look("/clocks/new with a mistake")
	b.visit("/desk/train")
	b.unfold()
	b.loads(chromedp.Evaluate[chromedp.Void](`
		document.querySelector("[name=going]").value = "sixty 60/",
		document.querySelector("[name=pendulum]").value = "39.14 kg",
		document.querySelector("[name='strike-arbors.1.wheel']").value = "1.5",
		document.querySelector("main form").requestSubmit()`))
	b.shows("There is a problem")
	b.unfold()
	look("/desk/train with mistakes")
}

func (b *tab) unfold() {
	b.t.Helper()
	js[int](b, `[...document.querySelectorAll("details")].map(d => d.open = true).length`)
}
