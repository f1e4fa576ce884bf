package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/jpeg"
	"image/png"
	"testing"

	"seatboard/internal/book/picture"
)

// same fails unless two files decode to the same picture.
func same(t *testing.T, a, b []byte) {
	t.Helper()
	x, _, err := image.Decode(bytes.NewReader(a))
	if err != nil {
		t.Fatal(err)
	}
	y, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if x.Bounds() != y.Bounds() {
		t.Fatal(x.Bounds(), y.Bounds())
	}
	for j := range x.Bounds().Dy() {
		for i := range x.Bounds().Dx() {
			if x.At(i, j) != y.At(i, j) {
				t.Fatalf("pixel %d, %d differs", i, j)
			}
		}
	}
}

func TestExportOfJPEG(t *testing.T) {
	for o := range 9 {
		file := jpegOf(t, corners(64, 40), o)
		before := bytes.Clone(file)
		out, err := Export(file, o)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(file, before) {
			t.Error("the file itself was changed")
		}
		if bytes.Contains(out, []byte(secretPlace)) || bytes.Contains(out, []byte("2026:11:25")) {
			t.Errorf("%d: the place is still in it", o)
		}
		if !bytes.Contains(out, []byte("ICC_PROFILE")) {
			t.Errorf("%d: the colour profile is gone", o)
		}
		same(t, file, out)
		if s := look(out); corner(picOf(t, s.Middle)) != upOf[o] || s.Taken != "" {
			t.Errorf("%d: it does not stand as it did", o)
		}
	}
}

func TestExportOfPNG(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, corners(64, 40)); err != nil {
		t.Fatal(err)
	}
	file := b.Bytes()
	i := bytes.Index(file, []byte("IDAT")) - 4
	beside := append(pngChunk("eXIf", exif(6)), pngChunk("tEXt", []byte("Comment\x00"+secretPlace))...)
	file = append(append(bytes.Clone(file[:i]), beside...), file[i:]...)
	file = append(file, secretPlace...)
	out, err := Export(file, 6)
	if err != nil || bytes.Contains(out, []byte(secretPlace)) {
		t.Fatal("the place is still in it", err)
	}
	same(t, file, out)
	for _, f := range [][]byte{file, out} {
		if s := look(f); s.Orientation != 6 || corner(picOf(t, s.Small)) != "BRWG" {
			t.Errorf("orientation %d, %s", s.Orientation, s.Why)
		}
	}
}

// tinyWebP is a lossless WebP of one pixel.
const tinyWebP = "RIFF\x1a\x00\x00\x00WEBPVP8L\x0d\x00\x00\x00\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00"

func TestExportOfWebP(t *testing.T) {
	s := look([]byte(tinyWebP))
	if s.Why != "" || s.Width != 1 || s.Height != 1 {
		t.Fatalf("%+v", s)
	}
	chunk := func(name string, content []byte) []byte {
		b := binary.LittleEndian.AppendUint32([]byte(name), uint32(len(content)))
		if b = append(b, content...); len(content)%2 == 1 {
			b = append(b, 0)
		}
		return b
	}
	body := append([]byte("WEBP"), chunk("VP8X", []byte{webpEXIF | webpXMP, 0, 0, 0, 0, 0, 0, 0, 0, 0})...)
	body = append(body, tinyWebP[12:]...)
	body = append(append(body, chunk("EXIF", exif(6))...), chunk("XMP ", []byte(secretPlace))...)
	file := append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
	if s := look(file); s.Orientation != 6 {
		t.Fatalf("%+v", s)
	}
	for _, o := range []int{0, 6} {
		out, err := Export(append(bytes.Clone(file), secretPlace...), o)
		if err != nil || bytes.Contains(out, []byte(secretPlace)) {
			t.Fatal("the place is still in it", err)
		}
		if s := look(out); s.Why != "" || s.Orientation != o {
			t.Errorf("%+v", s)
		}
	}
}

func TestExportRefuses(t *testing.T) {
	whole := jpegOf(t, corners(64, 40), 1)
	for name, file := range map[string][]byte{
		"HEIC": []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), "nothing": nil, "SVG": []byte("<svg>"), "JPEG cut in its head": whole[:30], "PNG cut": header(1, 1),
	} {
		if out, err := Export(file, 1); !errors.Is(err, ErrExport) || out != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzExport(f *testing.F) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, corners(8, 8), nil); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes(), 6)
	f.Add(header(1, 1), 0)
	f.Add([]byte(tinyWebP), 3)
	f.Fuzz(func(t *testing.T, file []byte, orientation int) {
		out, err := Export(file, orientation)
		if err != nil {
			return
		}
		if Sniff(out) != Sniff(file) || len(out) > len(file)+60 {
			t.Fatalf("%q became %q", file, out)
		}
		again, err := Export(out, orientation)
		if err != nil || Sniff(file) == picture.JPEG && !bytes.Equal(again, out) {
			t.Fatalf("a copy of the copy differs: %v\n%q\n%q", err, out, again)
		}
	})
}
