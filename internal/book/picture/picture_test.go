package picture

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"seatboard/internal/book/parts"
)

func good() Photo {
	return Photo{
		UID: strings.Repeat("a1", 8), SHA256: strings.Repeat("0f", 32), Size: 1, Kind: JPEG, Width: 4000, Height: 3000, Small: Made, Received: time.Unix(1, 0),
		ClockID: 1, Parts: []parts.Number{"12", "12.3"}, Stage: During, Caption: "Third wheel,\nback plate", SameView: strings.Repeat("b2", 8),
		Marks: []Mark{{Kind: Arrow, X: 1, Y: 1, X2: 50, Y2: 60}, {Kind: Ring, X: 9, Y: 9, X2: 30, Y2: 9}, {Kind: Number, X: 4000, Y: 3000, N: 7}, {Kind: Text, Text: "worn"}},
	}
}

func TestCheck(t *testing.T) {
	if f := good().Check(); len(f) > 0 {
		t.Fatal(f)
	}
	for field, spoil := range map[string]func(*Photo){
		"uid":         func(p *Photo) { p.UID = "../etc" },
		"sha256":      func(p *Photo) { p.SHA256 = strings.ToUpper(p.SHA256) },
		"size":        func(p *Photo) { p.Size = MaxBytes + 1 },
		"kind":        func(p *Photo) { p.Kind = "SVG" },
		"orientation": func(p *Photo) { p.Orientation = 9 },
		"width":       func(p *Photo) { p.Height = MaxSide + 1 },
		"small":       func(p *Photo) { p.Small = "" },
		"stage":       func(p *Photo) { p.Stage = "later" },
		"caption":     func(p *Photo) { p.Caption = "a\x00b" },
		"area":        func(p *Photo) { p.Area = strings.Repeat("x", MaxArea+1) },
		"same_view":   func(p *Photo) { p.SameView = p.UID },
		"parts":       func(p *Photo) { p.Parts = []parts.Number{"12/3"} },
		"marks":       func(p *Photo) { p.Marks = slices.Repeat(p.Marks[:1], MaxMarks+1) },
		"marks[0]":    func(p *Photo) { p.Marks = []Mark{{Kind: Arrow, X: 1, Y: 1, X2: 1, Y2: 1}} },
		"marks[1]":    func(p *Photo) { p.Marks[1].X = 4001 },
		"marks[2]":    func(p *Photo) { p.Marks[2].X = math.NaN() },
		"marks[3]":    func(p *Photo) { p.Marks[3].Text = "" },
	} {
		p := good()
		spoil(&p)
		f := p.Check()
		if len(f) != 1 || f[0].Field != field {
			t.Errorf("%s: %v", field, f)
		}
	}
	p := good()
	p.ClockID = 0
	if f := p.Check(); len(f) != 1 || f[0].Field != "parts" {
		t.Errorf("parts without a clock: %v", f)
	}
}

func TestMarksInWords(t *testing.T) {
	var words []string
	for _, m := range good().Marks {
		words = append(words, m.Words())
	}
	if got, want := strings.Join(words, "; "), "arrow from 1, 1 to 50, 60; ring of 21 pixels about 9, 9; number 7 at 4000, 3000; “worn” at 0, 0"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if n := NextNumber(good().Marks); n != 8 {
		t.Errorf("the next number is %d", n)
	}
	if n := NextNumber(nil); n != 1 {
		t.Errorf("the first number is %d", n)
	}
}

func TestReadParts(t *testing.T) {
	if got, want := ReadParts("2026-014", " 10, 2026-014.2;2.1 2 10"), []parts.Number{"2", "2.1", "10"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestCleanName(t *testing.T) {
	for name, want := range map[string]string{
		`../../etc/passwd`: "passwd", `C:\Photos\dial.jpg`: "dial.jpg", "": "photograph", "..": "photograph", "a\x00\nb\u202egpj.exe": "abgpj.exe", "Zifferblatt ü.JPG": "Zifferblatt ü.JPG",
	} {
		if got := CleanName(name); got != want {
			t.Errorf("%q is %q, want %q", name, got, want)
		}
	}
}

func FuzzCleanName(f *testing.F) {
	f.Add("../x\xff")
	f.Fuzz(func(t *testing.T, name string) {
		got := CleanName(name)
		if got == "" || strings.ContainsAny(got, "/\\\n\x00") || utf8.RuneCountInString(got) > MaxName || !utf8.ValidString(got) {
			t.Errorf("%q is %q", name, got)
		}
	})
}
