package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/picture"
)

// TestMain lets the test binary be the child too.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 {
		switch os.Args[1] {
		case ChildCommand:
			os.Exit(Serve(os.Stdin, os.Stdout))
		case "take-memory":
			limitProcess()
			var all [][]byte
			for range 8 {
				b := make([]byte, 1<<30)
				for i := 0; i < len(b); i += 1 << 20 {
					b[i] = 1
				}
				all = append(all, b)
			}
			os.Exit(len(all)) // the limit does not hold
		case "stand-still":
			time.Sleep(time.Hour)
		case "babble":
			_, _ = os.Stdout.WriteString(answerMark + "2 -1 99999999\n{}")
			os.Exit(0)
		}
	}
	os.Exit(m.Run())
}

// corners is a picture whose corners are red, green, blue and white in the
// order of reading.
func corners(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := []color.RGBA{{255, 0, 0, 255}, {0, 255, 0, 255}, {0, 0, 255, 255}, {255, 255, 255, 255}}
			m.SetRGBA(x, y, c[2*(2*y/h)+2*x/w])
		}
	}
	return m
}

// corner names the colour of each corner: "RGBW" for corners.
func corner(m image.Image) string {
	b := m.Bounds()
	var out strings.Builder
	for _, p := range []image.Point{{b.Min.X + 2, b.Min.Y + 2}, {b.Max.X - 3, b.Min.Y + 2}, {b.Min.X + 2, b.Max.Y - 3}, {b.Max.X - 3, b.Max.Y - 3}} {
		r, g, bl, _ := m.At(p.X, p.Y).RGBA()
		out.WriteByte("?BGCRMYW"[4*(r>>15)+2*(g>>15)+bl>>15])
	}
	return out.String()
}

const secretPlace = "GPSSECRET"

// exif is the EXIF of a camera: orientation, time, and a place.
func exif(orientation int) []byte {
	be := binary.BigEndian
	entry := func(tag, kind uint16, count, value uint32) []byte {
		b := be.AppendUint16(be.AppendUint16(nil, tag), kind)
		b = be.AppendUint32(b, count)
		if kind == 3 {
			return be.AppendUint16(be.AppendUint16(b, uint16(value)), 0)
		}
		return be.AppendUint32(b, value)
	}
	b := []byte("MM\x00*\x00\x00\x00\x08\x00\x03")
	b = append(b, entry(0x112, 3, 1, uint32(orientation))...)
	b = append(b, entry(0x8769, 4, 1, 50)...)
	b = append(b, entry(0x8825, 4, 1, 88)...)
	b = append(b, 0, 0, 0, 0) // 50
	b = append(b, 0, 1)
	b = append(b, entry(0x9003, 2, 20, 68)...)
	b = append(b, 0, 0, 0, 0)
	b = append(b, "2026:11:25 10:31:00\x00"...) // 68 to 88
	b = append(b, 0, 1)
	b = append(b, entry(0x1b, 7, uint32(len(secretPlace)), 106)...)
	b = append(b, 0, 0, 0, 0)
	return append(b, secretPlace...)
}

// jpegOf is a JPEG as a telephone writes it: EXIF, a comment, and something
// behind the end.
func jpegOf(t testing.TB, m image.Image, orientation int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	content := append([]byte("Exif\x00\x00"), exif(orientation)...)
	app1 := binary.BigEndian.AppendUint16([]byte("\xff\xd8\xff\xe1"), uint16(len(content)+2))
	out := append(append(app1, content...), "\xff\xfe\x00\x0bGPSSECRET"...)
	out = append(out, "\xff\xe2\x00\x14ICC_PROFILE\x00\x01\x01prof"...)
	out = append(out, b.Bytes()[2:]...)
	return append(out, "a film with its GPSSECRET"...)
}

// lookAt looks into a file in a child.
func lookAt(t testing.TB, file []byte, o Options) Seen {
	t.Helper()
	name := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(name, file, 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	s, err := Look(t.Context(), f, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func picOf(t testing.TB, b []byte) image.Image {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// upOf is how corners stands upright when a camera wrote each orientation
// (EXIF 2.32, 4.6.5): row 0 and column 0 of the file are, for 1, top and
// left; 2 top, right; 3 bottom, right; 4 bottom, left; 5 left, top; 6 right,
// top; 7 right, bottom; 8 left, bottom.
var upOf = []string{"RGBW", "RGBW", "GRWB", "WBGR", "BWRG", "RBGW", "BRWG", "WGBR", "GWRB", "RGBW"}

func TestEveryOrientation(t *testing.T) {
	for o, want := range upOf {
		s := look(jpegOf(t, corners(64, 40), o))
		w, h := 64, 40
		if o >= 5 && o <= 8 {
			w, h = 40, 64
		}
		if s.Why != "" || s.Width != w || s.Height != h || s.Taken != "2026-11-25 10:31:00" {
			t.Fatalf("%d: %d × %d, %q, %s", o, s.Width, s.Height, s.Taken, s.Why)
		}
		for _, b := range [][]byte{s.Small, s.Middle} {
			if got := corner(picOf(t, b)); got != want {
				t.Errorf("orientation %d stands %s, want %s", o, got, want)
			}
			if bytes.Contains(b, []byte("Exif")) {
				t.Errorf("orientation %d: there is EXIF in a small picture", o)
			}
		}
	}
}

func TestLookInAChild(t *testing.T) {
	s := lookAt(t, jpegOf(t, corners(3000, 2000), 6), Options{})
	if s.Why != "" || s.Kind != picture.JPEG || s.Width != 2000 || s.Height != 3000 || s.Orientation != 6 {
		t.Fatalf("%+v", s)
	}
	if b := picOf(t, s.Middle).Bounds(); b.Dx() != 1067 || b.Dy() != 1600 {
		t.Errorf("middle: %v", b)
	}
	if b := picOf(t, s.Small).Bounds(); b.Dx() != 213 || b.Dy() != 320 {
		t.Errorf("small: %v", b)
	}
	if got := corner(picOf(t, s.Small)); got != "BRWG" {
		t.Error(got)
	}
}

func TestSeeThroughStandsOnWhite(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewNRGBA(image.Rect(0, 0, 20, 20))); err != nil {
		t.Fatal(err)
	}
	s := lookAt(t, b.Bytes(), Options{})
	if s.Why != "" || corner(picOf(t, s.Small)) != "WWWW" || s.Kind != picture.PNG {
		t.Errorf("%+v", s.Why)
	}
}

// header is a PNG that says its size and has nothing else.
func header(w, h uint32) []byte {
	b := binary.BigEndian.AppendUint32(nil, w)
	b = append(binary.BigEndian.AppendUint32(b, h), 8, 6, 0, 0, 0)
	return append([]byte("\x89PNG\r\n\x1a\n"), append(pngChunk("IHDR", b), pngChunk("IDAT", []byte("x"))...)...)
}

func TestWhatCannotBeDecoded(t *testing.T) {
	whole := jpegOf(t, corners(64, 40), 1)
	huge := bytes.Clone(whole)
	i := bytes.Index(huge, []byte("\xff\xc0"))
	copy(huge[i+5:], "\xff\xff\xff\xff") // 65,535 × 65,535
	for name, x := range map[string]struct {
		file []byte
		o    Options
		why  string
	}{
		"JPEG of 4 thousand million pixels": {huge, Options{}, "65535 × 65535"},
		"PNG of 900 million":                {header(30_000, 30_000), Options{}, "30000 × 30000"},
		"PNG long on one side":              {header(30_001, 1), Options{}, "30001 × 1"},
		"PNG without pixels":                {header(10, 10), Options{}, "damaged or cut short"},
		"JPEG cut short":                    {whole[:i+30], Options{}, "damaged or cut short"},
		"HEIC":                              {[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic...."), Options{}, "HEIC"},
		"SVG":                               {[]byte("<svg onload=alert(1)>"), Options{}, "no JPEG"},
		"one that takes memory":             {whole, Options{Child: []string{os.Args[0], "take-memory"}}, ""}, // it may end in other ways than saying so
		"one that stands still":             {whole, Options{Child: []string{os.Args[0], "stand-still"}, Wait: 200 * time.Millisecond}, "not ready"},
		"one that babbles":                  {whole, Options{Child: []string{os.Args[0], "babble"}}, "fails"},
	} {
		s := lookAt(t, x.file, x.o)
		if s.Why == "" || !strings.Contains(s.Why, x.why) || len(s.Small)+len(s.Middle) > 0 || s.Kind != Sniff(x.file) {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// TestFaultyFiles looks into files that were made to hurt decoders.
func TestFaultyFiles(t *testing.T) {
	all, err := filepath.Glob("../../../../shared/data/faulty/*")
	if err != nil || len(all) == 0 {
		t.Skip("the faulty files are not here: they were not looked into")
	}
	for _, name := range all {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		began := time.Now()
		s := lookAt(t, b, Options{})
		t.Logf("%s: %q %q in %v", filepath.Base(name), s.Kind, s.Why, time.Since(began).Round(time.Millisecond))
		if s.Kind == "" && s.Why == "" {
			t.Errorf("%s is taken for a picture", name)
		}
		_, _ = Export(b, 6) // it does not panic
	}
}

func TestSniff(t *testing.T) {
	for head, want := range map[string]picture.Kind{
		"\xff\xd8\xff\xe0": picture.JPEG, "\x89PNG\r\n\x1a\nxx": picture.PNG, "RIFF\x00\x00\x00\x00WEBPVP8 ": picture.WebP,
		"\x00\x00\x00\x18ftypmif1\x00\x00\x00\x00mif1heic": picture.HEIC, "\x00\x00\x00\x14ftypmp42\x00\x00\x00\x00isom": "",
		"": "", "RIFF": "", "<html>": "", "GIF89a": "", "%PDF-1.7": "", "\x00\x00\x00\xffftyp": "",
	} {
		if got := Sniff([]byte(head)); got != want {
			t.Errorf("%q is %q, want %q", head, got, want)
		}
	}
}
