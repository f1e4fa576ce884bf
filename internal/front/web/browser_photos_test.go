package web

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

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
	startChromium(t)
	sh, err := shop.Open(t.Context(), t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	v := visitShop(t, sh, false)
	path := v.addOne("2026-014", "Longcase clock")
	files := noisyShots(t, 20)
	b := openTab(t, v, phone)
	b.visit(path + "/photos?part=2")
	b.do(chromedp.Evaluate[chromedp.Void](`(() => { const s = document.querySelector("#f-stage"); s.value = "before"; s.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.do(chromedp.Click(chromedp.CSS("#f-area")))
	b.types("dial")
	b.upTo(4e6)
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#f-library"), files))
	b.comes(safeShots+" >= 3", time.Minute)
	b.dead(true)
	b.comes(`document.querySelector("[data-queue]").innerText.includes("does not answer")`, time.Minute)
	b.holds(safeShots + ` < 20 && document.querySelector("[data-told]").innerText.includes("not there yet")`)
	b.upTo(4e6)
	b.comes(safeShots+" >= 8", time.Minute)
	b.loads(chromedp.Reload())
	b.holds(`location.search.includes("stage=before") && location.search.includes("area=dial") && location.search.includes("part=2")`)
	b.holds(`document.querySelector("#f-stage").value === "before" && document.querySelector("#f-area").value === "dial"`)
	b.comes(`document.querySelector("[data-queue]").dataset.open === "0"`, time.Minute)
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
	b.comes(`document.querySelectorAll("[data-list] img").length === 20`, time.Minute)
	b.loads(chromedp.Reload())
	b.holds(`document.querySelector("[data-queue]").hidden && localStorage.getItem("seatboard-unsent") === null`)
}
