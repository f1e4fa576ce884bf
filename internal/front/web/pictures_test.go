package web

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestPictures writes the pictures of the README where SEATBOARD_PICTURES
// names a folder:
//
//	SEATBOARD_PICTURES=../../../docs/img go test ./internal/front/web -run Pictures
func TestPictures(t *testing.T) {
	dir := os.Getenv("SEATBOARD_PICTURES")
	if dir == "" {
		t.Skip("SEATBOARD_PICTURES names no folder")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	v := openShop(t, true)
	for _, p := range []struct {
		name, path, scheme string
		top                string // what stands at the top of the picture, the page's own top where empty
		width, height      int64
		scale              float64
	}{
		{"clock.png", "/clocks/2", "light", "", desktop, 1400, 1},
		{"drive.png", "/clocks/2/survey/drive", "light", ".leaf:has(.plate)", desktop, 1300, 1},
		{"train-phone.png", "/clocks/2/survey/train", "light", ".leaf:has(.plate)", phone, 1200, 1.5},
		{"train-dark.png", "/clocks/2/survey/train", "dark", ".leaf:has(.plate)", desktop, 1300, 1},
	} {
		b := openTab(t, v, p.width)
		opts := []chromedp.EmulateViewportOption{chromedp.EmulateScale(p.scale)}
		if p.width == phone {
			opts = append(opts, chromedp.EmulateMobile)
		}
		b.scheme(p.scheme)
		b.do(chromedp.EmulateViewport(p.width, p.height, opts...))
		b.visit(p.path)
		js[bool](b, `document.fonts.ready.then(() => true)`)
		if p.top != "" {
			js[bool](b, `(document.querySelector(`+quoted(p.top)+`).scrollIntoView({behavior: "instant"}), true)`)
		}
		png := call(b, chromedp.CaptureScreenshot())
		if len(png) > 300_000 {
			t.Errorf("%s is %d bytes, more than 300 kB", p.name, len(png))
		}
		if err := os.WriteFile(filepath.Join(dir, p.name), png, 0o644); err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d bytes", p.name, len(png))
	}
}
