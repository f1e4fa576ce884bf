package qr

import (
	"image"
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"

	goqr "github.com/piglig/go-qr"
)

var run = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-\d+z`)
var box = regexp.MustCompile(`viewBox="0 0 (\d+) (\d+)"`)

// drawn is a code as a camera would have it, from what was drawn.
func drawn(t *testing.T, svg string) image.Image {
	t.Helper()
	n := func(s string) int {
		v, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	const dots = 4
	side := n(box.FindStringSubmatch(svg)[1])
	img := image.NewGray(image.Rect(0, 0, side*dots, side*dots))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for _, m := range run.FindAllStringSubmatch(svg, -1) {
		x, y, long := n(m[1]), n(m[2]), n(m[3])
		for dy := range dots {
			for dx := range long * dots {
				img.SetGray(x*dots+dx, y*dots+dy, color.Gray{})
			}
		}
	}
	return img
}

// TestReadsBack: what is drawn is read as what was said.
func TestReadsBack(t *testing.T) {
	for _, text := range []string{"http://192.168.1.5:7950/", "https://192.168.178.123:7900/pair#ABCDEFGHIJKLMNOPQRSTUVWXYZ", "https://[fd00::1234:5678]:7900/pair#" + strings.Repeat("2", 26)} {
		svg, err := SVG(text, "an <address>", 240)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := goqr.Decode(drawn(t, svg)); err != nil || got != text {
			t.Errorf("%q is read as %q, %v", text, got, err)
		}
		if strings.Contains(svg, "style") || strings.Contains(svg, "<address>") {
			t.Errorf("%q: %.200s", text, svg)
		}
	}
	if _, err := SVG(strings.Repeat("x", 5000), "", 240); err == nil {
		t.Error("a text that is too long is drawn")
	}
}
