package labelsheet_test

import (
	"fmt"
	"image"
	"image/draw"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"seatboard/internal/book/label"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/labelsheet"
	"seatboard/internal/paper/pdf"
)

const (
	address = "http://192.168.178.20:7870"
	uid     = "8d3f00aa12345678"
)

func labels(n int) []labelsheet.Label {
	names := []string{"hands", "dial", "third arbor, without its wheel", "escape wheel", "pillars", ""}
	var out []labelsheet.Label
	for i := range n {
		part := parts.Number(fmt.Sprint(i + 1))
		out = append(out, labelsheet.Label{Clock: "2026-014", Part: string(part), Name: names[i%len(names)], Short: label.Short(uid, part)})
	}
	return out
}

func stock(t testing.TB, like string) label.Profile {
	t.Helper()
	for _, p := range label.Stock() {
		if strings.Contains(p.Name, like) {
			return p
		}
	}
	t.Fatalf("there is no profile like %q", like)
	return label.Profile{}
}

func lay(t testing.TB, o labelsheet.Order) labelsheet.Laid {
	t.Helper()
	if o.Address == "" {
		o.Address = address
	}
	if o.Copies == 0 {
		o.Copies = 1
	}
	if o.First == 0 {
		o.First = 1
	}
	laid, err := labelsheet.Lay(o)
	if err != nil {
		t.Fatal(err)
	}
	return laid
}

func cells(p pic.Picture) (out []pic.Cells) {
	for _, it := range p.Items {
		if c, ok := it.(pic.Cells); ok {
			out = append(out, c)
		}
	}
	return out
}

func words(p pic.Picture) (out []string) {
	for _, it := range p.Items {
		if x, ok := it.(pic.Text); ok {
			out = append(out, x.S)
		}
	}
	return out
}

// TestPositions: the first free position is kept, sheets follow one another,
// and what is free then is told.
func TestPositions(t *testing.T) {
	p := stock(t, "21 labels")
	laid := lay(t, labelsheet.Order{Profile: p, Labels: labels(10), Copies: 2, First: 20})
	if len(laid.Sheets) != 2 || laid.Labels != 20 || laid.Next != 19 {
		t.Fatalf("%d sheets, %d labels, next %d", len(laid.Sheets), laid.Labels, laid.Next)
	}
	if n := len(cells(laid.Sheets[0].Picture)); n != 2 {
		t.Errorf("%d labels on the sheet that was begun", n)
	}
	c := cells(laid.Sheets[0].Picture)[0]
	if x := 7.25 + 66; c.Min.X < x || c.Min.X > x+8 { // position 20 is in the middle column of the last row
		t.Errorf("label 20 begins at %.2f mm", c.Min.X)
	}
	if y := 15.15 + 6*38.1; c.Min.Y < y || c.Min.Y > y+15 {
		t.Errorf("label 20 begins %.2f mm down", c.Min.Y)
	}
	if full := lay(t, labelsheet.Order{Profile: p, Labels: labels(21)}); len(full.Sheets) != 1 || full.Next != 1 {
		t.Errorf("a full sheet: %d sheets, next %d", len(full.Sheets), full.Next)
	}
	many := lay(t, labelsheet.Order{Profile: stock(t, "189 labels"), Labels: labels(190)})
	if len(many.Sheets) != 2 || many.Next != 2 {
		t.Errorf("190 labels of 189 to the sheet: %d sheets, next %d", len(many.Sheets), many.Next)
	}
}

func TestMistakesInTheOrder(t *testing.T) {
	_, err := labelsheet.Lay(labelsheet.Order{Profile: stock(t, "21 labels"), Address: "x", Copies: 0, First: 22})
	faults, _ := err.(meas.Faults)
	var fields []string
	for _, f := range faults {
		fields = append(fields, f.Field)
	}
	if strings.Join(fields, " ") != "address part copies first" {
		t.Errorf("%v", err)
	}
	if _, err := labelsheet.Lay(labelsheet.Order{Profile: stock(t, "21 labels"), Address: address, Labels: labels(200), Copies: 99, First: 1}); err == nil {
		t.Error("19,800 labels at once")
	}
}

// TestEveryLabelIsOneValue: what stands in words on a label is what its code
// says, on every label of every profile, read by a second reader.
func TestEveryLabelIsOneValue(t *testing.T) {
	for _, p := range label.Stock() {
		for _, x := range labels(12) {
			laid := lay(t, labelsheet.Order{Profile: p, Labels: []labelsheet.Label{x}})
			page := laid.Sheets[0].Picture
			text := strings.Join(words(page), "|")
			if whole := strings.ReplaceAll(text, "|.", "."); !strings.Contains(whole, x.Clock+"."+x.Part) || !strings.Contains(text, x.Short) {
				t.Errorf("%s: %s is not on its label: %s", p.Name, x.Part, text)
			}
			codes := cells(page)
			if len(codes) == 0 {
				if len(laid.Warnings) == 0 {
					t.Errorf("%s: there is no code and no word about it", p.Name)
				}
				continue
			}
			if got := read(t, drawn(codes[0])); got != address+"/p/"+x.Short {
				t.Errorf("%s: the code of %s says %s", p.Name, x.Part, got)
			}
			if codes[0].Side < 0.4 && !strings.Contains(strings.Join(laid.Warnings, ""), "0.4 mm") {
				t.Errorf("%s: cells of %.2f mm without a word", p.Name, codes[0].Side)
			}
			inside(t, p, page)
		}
	}
}

// inside holds every word and code within its label, quiet zone and all.
func inside(t *testing.T, p label.Profile, page pic.Picture) {
	t.Helper()
	w, h, x0, y0 := page.W, page.H, 0.0, 0.0
	if p.Kind == label.Sheet {
		w, h, x0, y0 = p.Width.Value.MM(), p.Height.Value.MM(), p.Left.Value.MM(), p.Top.Value.MM()
	}
	r, err := pdf.NewRuler()
	if err != nil {
		t.Fatal(err)
	}
	for _, it := range page.Items {
		left, top, right, bottom := 0.0, 0.0, 0.0, 0.0
		switch it := it.(type) {
		case pic.Cells:
			side := it.Side * float64(len(it.Dark))
			left, top, right, bottom = it.Min.X-4*it.Side, it.Min.Y-4*it.Side, it.Min.X+side+4*it.Side, it.Min.Y+side+4*it.Side
		case pic.Text:
			left, top, right, bottom = it.P.X, it.P.Y-0.72*it.Size, it.P.X+r.Width(it.S, it.Size, it.Style == pic.Name), it.P.Y+0.2*it.Size
		}
		const e = 0.01
		if left < x0-e || top < y0-e || right > x0+w+e || bottom > y0+h+e {
			t.Errorf("%s: %#v runs out of its label: %.2f to %.2f, %.2f to %.2f", p.Name, it, left-x0, right-x0, top-y0, bottom-y0)
		}
	}
}

// drawn is a code alone with its quiet zone.
func drawn(c pic.Cells) image.Image {
	const dots = 4
	n := len(c.Dark) + 8
	img := image.NewGray(image.Rect(0, 0, n*dots, n*dots))
	for i := range img.Pix {
		x, y := i%(n*dots)/dots-4, i/(n*dots)/dots-4
		img.Pix[i] = 255
		if y >= 0 && x >= 0 && y < len(c.Dark) && x < len(c.Dark) && c.Dark[y][x] {
			img.Pix[i] = 0
		}
	}
	return img
}

func read(t testing.TB, img image.Image) string {
	t.Helper()
	b, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	got, err := qrcode.NewQRCodeReader().Decode(b, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return "nothing: " + err.Error()
	}
	return got.GetText()
}

// TestTooSmall: a label that is too small says so, and its number is whole.
func TestTooSmall(t *testing.T) {
	laid := lay(t, labelsheet.Order{Profile: stock(t, "189 labels"), Labels: []labelsheet.Label{{Clock: "2026-014", Part: "12.3.4", Name: "a very long name of a very small part 時", Short: label.Short(uid, "12.3.4")}}, Copies: 3})
	said := strings.Join(laid.Warnings, "\n")
	for _, want := range []string{"2026-014.12.3.4 has no code", "short id is printed", "is cut", "letters that cannot be printed: 時"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
	if text := strings.Join(words(laid.Sheets[0].Picture), " "); !strings.Contains(text, ".12.3.4") || !strings.Contains(text, label.Short(uid, "12.3.4")) || !strings.Contains(text, "…") {
		t.Error(text)
	}
}

func TestTapeIsAsLongAsItsWords(t *testing.T) {
	p := stock(t, "24 mm")
	short := lay(t, labelsheet.Order{Profile: p, Labels: []labelsheet.Label{{Clock: "7", Part: "1", Name: "key", Short: label.Short(uid, "1")}}}).Sheets[0].Picture
	long := lay(t, labelsheet.Order{Profile: p, Labels: labels(3)[2:]}).Sheets[0].Picture
	if short.H != 24 || long.H != 24 || !(short.W < long.W) || long.W > 130 {
		t.Errorf("%.1f × %.1f and %.1f × %.1f mm", short.W, short.H, long.W, long.H)
	}
}

// TestPrinterIsCorrected: a bar that came out at 99 mm is stretched.
func TestPrinterIsCorrected(t *testing.T) {
	p := stock(t, "21 labels")
	p.Right, p.BarAcross = meas.Of(unit.Millimetres(-1.5)), meas.Of(unit.Millimetres(99))
	s := lay(t, labelsheet.Order{Profile: p, Labels: labels(1)}).Sheets[0]
	if s.Right != -1.5 || s.Across != 100.0/99 || s.Upward != 1 {
		t.Errorf("%+v", s)
	}
	raw, err := labelsheet.TestSheet(p, false)
	if err != nil || raw.Across != 1 || raw.Right != 0 {
		t.Errorf("the test page is corrected before it is measured: %v %v", raw, err)
	}
	for _, p := range label.Stock() {
		for _, corrected := range []bool{false, true} {
			s, err := labelsheet.TestSheet(p, corrected)
			if err != nil || len(s.Picture.Items) == 0 {
				t.Errorf("%s: %v", p.Name, err)
			}
		}
	}
}

// TestPrintedCodesAreRead: the whole sheet as a printer of 203 or 300 dots to
// the inch would have it, every code read, every number taken out as text.
func TestPrintedCodesAreRead(t *testing.T) {
	ppm, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm is not on this computer: codes are not read from the printed sheet")
	}
	for _, dpi := range []int{203, 300} {
		for _, like := range []string{"21 labels", "65 labels", "30 labels", "24 mm"} {
			p := stock(t, like)
			n := min(max(p.OnSheet(), 3), 24)
			laid := lay(t, labelsheet.Order{Profile: p, Labels: labels(n)})
			b, err := pdf.Sheets("labels", time.Time{}, laid.Sheets...)
			if err != nil {
				t.Fatal(err)
			}
			dir := t.TempDir()
			name := filepath.Join(dir, "l.pdf")
			if err := os.WriteFile(name, b, 0o600); err != nil {
				t.Fatal(err)
			}
			if out, err := exec.Command(ppm, "-r", fmt.Sprint(dpi), "-png", "-mono", name, filepath.Join(dir, "p")).CombinedOutput(); err != nil || len(out) > 0 {
				t.Fatalf("%v %s", err, out)
			}
			checkPrinted(t, dir, laid, dpi, like)
			if out, err := exec.Command("pdftotext", name, "-").Output(); err == nil {
				for _, x := range labels(n) {
					if !strings.Contains(string(out), x.Short) {
						t.Errorf("%s: %s cannot be taken out as text", like, x.Short)
					}
				}
			}
		}
	}
}

func checkPrinted(t *testing.T, dir string, laid labelsheet.Laid, dpi int, like string) {
	t.Helper()
	pages, _ := filepath.Glob(filepath.Join(dir, "p*.png"))
	if len(pages) != len(laid.Sheets) {
		t.Fatalf("%s: %d pages of %d sheets", like, len(pages), len(laid.Sheets))
	}
	for i, page := range pages {
		f, err := os.Open(page)
		if err != nil {
			t.Fatal(err)
		}
		img, _, err := image.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		k := float64(dpi) / 25.4
		for j, c := range cells(laid.Sheets[i].Picture) {
			side := c.Side * float64(len(c.Dark)+8)
			at := image.Rect(int((c.Min.X-4*c.Side)*k), int((c.Min.Y-4*c.Side)*k), int((c.Min.X-4*c.Side+side)*k)+1, int((c.Min.Y-4*c.Side+side)*k)+1)
			part := image.NewGray(image.Rect(0, 0, at.Dx(), at.Dy()))
			draw.Draw(part, part.Rect, img, at.Min, draw.Src)
			at0 := i*max(len(cells(laid.Sheets[0].Picture)), 1) + j
			if want, got := address+"/p/"+labels(at0 + 1)[at0].Short, look(t, part); got != want {
				t.Errorf("%s at %d dpi, label %d with cells of %.2f mm: %s, want %s", like, dpi, at0+1, c.Side, got, want)
			}
		}
	}
}

// look reads a print from nearer and nearer, as a camera gets several
// pictures of it: the reader used here fails on one in a hundred of any.
func look(t *testing.T, print *image.Gray) (got string) {
	for k := 1; k <= 4; k++ {
		near := image.NewGray(image.Rect(0, 0, k*print.Rect.Dx(), k*print.Rect.Dy()))
		for i := range near.Pix {
			x, y := i%near.Stride, i/near.Stride
			near.Pix[i] = print.GrayAt(x/k, y/k).Y
		}
		if got = read(t, near); !strings.HasPrefix(got, "nothing") {
			return got
		}
	}
	return got
}

func BenchmarkFiveHundred(b *testing.B) {
	p := stock(b, "65 labels")
	all := labels(500)
	for b.Loop() {
		laid := lay(b, labelsheet.Order{Profile: p, Labels: all})
		if _, err := pdf.Sheets("labels", time.Time{}, laid.Sheets...); err != nil {
			b.Fatal(err)
		}
	}
}
