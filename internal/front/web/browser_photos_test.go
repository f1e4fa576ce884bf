package web

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
	"seatboard/internal/shop"
)

// noisyShots writes photographs that do not pack, of about 1.2 MB each.
func noisyShots(t *testing.T, n int) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i := range n {
		r := rand.New(rand.NewPCG(uint64(i), 7))
		m := image.NewGray(image.Rect(0, 0, 1300, 1000))
		for j := range m.Pix {
			m.Pix[j] = byte(r.Uint32())
		}
		var b bytes.Buffer
		if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 92}); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, filepath.Join(dir, fmt.Sprintf("IMG_%04d.jpg", i)))
		if err := os.WriteFile(paths[i], b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return paths
}

// upTo lets so many bytes a second go to the server.
func (b *tab) upTo(rate float64) {
	b.t.Helper()
	send(b, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{{DownloadThroughput: -1, UploadThroughput: rate}}})
}

const safeShots = `document.querySelectorAll("[data-shot=safe]").length`

// TestTwentyPhotographsOverABadNetwork chooses twenty photographs at once on a
// phone; the network goes in between and comes back, the page is loaded anew
// in the middle, and all are safe, each once, as they were.
func TestTwentyPhotographsOverABadNetwork(t *testing.T) {
	t.Parallel()
	startChromium(t)
	sh := openEmpty(t)
	v := visitShop(t, sh, false)
	path := v.addOne("2026-014", "Longcase clock")
	files := noisyShots(t, 20)
	b := openTab(t, v, phone)
	b.visit(path + "/photos?part=2")
	b.do(chromedp.Evaluate[chromedp.Void](`(() => { const s = document.querySelector("#f-stage"); s.value = "before"; s.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.taps("#f-area")
	b.types("dial")
	b.upTo(4e6)
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#f-library"), files))
	b.waits(safeShots + " >= 3")
	b.dead(true)
	b.waits(`document.querySelector("[data-queue]").innerText.includes("does not answer")`)
	b.holds(safeShots + ` < 20 && document.querySelector("[data-told]").innerText.includes("not there yet")`)
	b.upTo(4e6)
	b.waits(safeShots + " >= 8")
	b.loads(chromedp.Reload())
	b.holds(`location.search.includes("stage=before") && location.search.includes("area=dial") && location.search.includes("part=2")`)
	b.holds(`document.querySelector("#f-stage").value === "before" && document.querySelector("#f-area").value === "dial"`)
	b.waits(`document.querySelector("[data-queue]").dataset.open === "0"`)
	b.shows("safe on the shop’s disk")

	l, err := sh.Photos(t.Context(), store.PhotoPlace{Clock: 1, Part: "2"}, 0)
	if err != nil || l.Total != len(files) {
		t.Fatal(l.Total, err)
	}
	names := map[string]picture.Photo{}
	for _, p := range l.Photos {
		names[p.Name] = p
	}
	for _, file := range files {
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p := names[filepath.Base(file)]
		if p.Stage != picture.Before || p.Area != "dial" {
			t.Errorf("%s: %+v", file, p)
		}
		f, err := sh.PhotoFile(p)
		if err != nil {
			t.Fatal(err)
		}
		got := make([]byte, len(want)+1)
		n, _ := f.Read(got)
		if f.Close() != nil || !bytes.Equal(got[:n], want) {
			t.Errorf("%s is not as it was sent", file)
		}
	}
	b.waits(`document.querySelectorAll("[data-list] img").length === 20`)
	b.loads(chromedp.Reload())
	b.holds(`document.querySelector("[data-queue]").hidden && localStorage.getItem("seatboard-unsent") === null`)
}

func openEmpty(t *testing.T) *shop.Shop {
	t.Helper()
	sh, err := shop.Open(t.Context(), t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	return sh
}

// onPhoto is the place on the screen of a place on the photograph, as shares of
// its sides.
func (b *tab) onPhoto(x, y float64) (float64, float64) {
	b.t.Helper()
	js[bool](b, `document.querySelector("[data-marked]").scrollIntoView({block: "center", behavior: "instant"}), true`)
	b.rests("[data-marked]")
	r := js[[]float64](b, `(r => [r.x, r.y, r.width, r.height])(document.querySelector("[data-marked]").getBoundingClientRect())`)
	return r[0] + x*r[2], r[1] + y*r[3]
}

func (b *tab) tapsPhoto(x, y float64) {
	b.t.Helper()
	b.do(chromedp.MouseClickXY(b.onPhoto(x, y)))
}

// TestMarksAreDrawn draws with taps, a drag, and keys alone, and takes off
// what was last.
func TestMarksAreDrawn(t *testing.T) {
	t.Parallel()
	startChromium(t)
	for _, width := range widths {
		sh := openEmpty(t)
		v := visitShop(t, sh, false)
		took, err := sh.TakePhoto(t.Context(), "A", "dial.jpg", bytes.NewReader(pictureOf(t, 180)), shop.PhotoAsk{}) // 640 by 480
		if err != nil {
			t.Fatal(err)
		}
		b := openTab(t, v, width)
		send(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}}) // no scrolling under the finger
		b.visit("/photos/" + took.UID)
		choose := func(kind string) {
			b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#f-mark").open = true, document.querySelector("[name=kind][value=` + kind + `]").click()`))
		}
		choose("arrow")
		b.tapsPhoto(.25, .25)
		b.shows("Now tap where its head is")
		x, y := b.onPhoto(.5, .5)
		b.loads(chromedp.MouseClickXY(x, y))
		b.shows("Marks on it: 1")
		choose("ring")
		if width == desktop {
			x, y = b.onPhoto(.5, .5)
			b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, chromedp.Button("left")))
			x, y = b.onPhoto(.75, .5)
			b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y, chromedp.Button("left")))
			b.loads(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x, y, chromedp.Button("left")))
		} else {
			b.tapsPhoto(.5, .5)
			x, y = b.onPhoto(.75, .5)
			b.loads(chromedp.MouseClickXY(x, y))
		}
		choose("number")
		js[bool](b, `document.querySelector("[data-marked]").focus(), true`)
		b.types(kb.ArrowLeft)
		b.types(kb.ArrowUp)
		b.loads(pressing(kb.Enter))
		choose("text")
		b.taps("#f-text")
		b.types("worn <hole>")
		x, y = b.onPhoto(.1, .9)
		b.loads(chromedp.MouseClickXY(x, y))
		choose("number")
		x, y = b.onPhoto(.9, .9)
		b.loads(chromedp.MouseClickXY(x, y))
		b.shows("Marks on it: 5", "number 2")
		b.clicks("#f-mark > form:not([data-draw]) button")
		b.shows("Marks on it: 4")

		p, err := sh.Photo(t.Context(), took.UID)
		if err != nil {
			t.Fatal(err)
		}
		want := []picture.Mark{{Kind: picture.Arrow, X: 160, Y: 120, X2: 320, Y2: 240}, {Kind: picture.Ring, X: 320, Y: 240, X2: 480, Y2: 240},
			{Kind: picture.Number, X: 307, Y: 227, N: 1}, {Kind: picture.Text, X: 64, Y: 432, Text: "worn <hole>"}}
		if len(p.Marks) != len(want) {
			t.Fatalf("%+v", p.Marks)
		}
		for i, m := range p.Marks {
			const near = 3 // pixels: the screen has fewer than the photograph
			d := max(math.Abs(m.X-want[i].X), math.Abs(m.Y-want[i].Y), math.Abs(m.X2-want[i].X2), math.Abs(m.Y2-want[i].Y2))
			if m.Kind != want[i].Kind || m.N != want[i].N || m.Text != want[i].Text || d > near {
				t.Errorf("at %d px: %+v, want %+v", width, m, want[i])
			}
		}
		b.sound("the marks")
		send(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		b.holds(`document.querySelector(".marks").getBoundingClientRect().width > 100`)
	}
}

// TestRefusedAndConvertedPhotographs: what is not taken in says why and can be
// left out; a HEIC that the browser can show gets a JPEG beside it; a page from
// before the program was last started gets itself a new token.
func TestRefusedAndConvertedPhotographs(t *testing.T) {
	t.Parallel()
	startChromium(t)
	sh := openEmpty(t)
	v := visitShop(t, sh, false)
	path := v.addOne("7", "Clock")
	dir := t.TempDir()
	var files []string
	for name, content := range map[string]string{
		"dial.heic": "\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + strings.Repeat("x", 3000), "empty.jpg": "",
		"script.jpg": `<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`, "good.jpg": string(pictureOf(t, 9)),
	} {
		files = append(files, filepath.Join(dir, name))
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	b := openTab(t, v, phone)
	b.visit(path + "/photos")
	b.waits(`document.querySelector("[data-send]").hidden`)
	// This browser has no decoder of HEIC: it is given one that makes grey of it.
	b.do(chromedp.Evaluate[chromedp.Void](`(() => {
		const real = window.createImageBitmap;
		window.createImageBitmap = (file, options) => options ? real(file, options) : real(new ImageData(new Uint8ClampedArray(4 * 5000 * 4000).fill(99), 5000, 4000));
		document.querySelector("form[data-photos] [name=token]").value = "stale";
	})()`))
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#f-library"), files))
	b.waits(safeShots + ` === 3 && document.querySelectorAll("[data-shot=failed]").length === 2`)
	b.shows("script.jpg is not a photograph", "empty.jpg is empty", "dial.heic.jpg", "3 of 5 safe", "2 not taken in", "Again", "Leave it out")
	b.waits(`document.querySelector("[data-queue] [data-said]").textContent === "2 not taken in"`)
	b.sound("the queue")
	b.visit(path + "/photos/write")
	b.waits(`document.activeElement === document.querySelector("[name=caption]")`)
	b.sound("the series")
	b.visit(path) // another page says that some wait
	b.shows("2 photographs are not on the shop’s disk yet")
	b.visit(path + "/photos")
	b.waits(`document.querySelectorAll("[data-shot=failed]").length === 2`)
	b.do(chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll("[data-shot=failed] button")].filter(x => x.textContent === "Leave it out").forEach(x => x.click())`))
	b.waits(`document.querySelectorAll("[data-shot]").length === 0`)
	b.loads(chromedp.Reload())
	b.holds(`document.querySelector("[data-queue]").hidden`)

	l, err := sh.Photos(t.Context(), store.PhotoPlace{Clock: 1}, 0)
	if err != nil || l.Total != 3 {
		t.Fatal(l.Total, err)
	}
	named := map[string]picture.Photo{}
	for _, p := range l.Photos {
		named[p.Name] = p
	}
	if made, from := named["dial.heic.jpg"], named["dial.heic"]; made.Kind != picture.JPEG || from.Kind != picture.HEIC || made.SameView != from.UID || made.Width*made.Height > 16_000_000 {
		t.Errorf("%+v, %+v", made, from)
	}
}
