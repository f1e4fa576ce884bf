package photo

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"time"

	"github.com/bep/imagemeta"
	"golang.org/x/image/draw"
	"golang.org/x/image/webp"

	"seatboard/internal/book/picture"
)

// The sizes of small pictures: the longer side, pixels.
const (
	SmallSide  = 320  // for a list
	MiddleSide = 1600 // for a page
)

// Seen is what was found in a file.
type Seen struct {
	Kind          picture.Kind
	Width, Height int    // pixels, upright; 0 where not known
	Orientation   int    // as the camera wrote it, 1 to 8; 0 for none
	Taken         string // by the camera's own clock; "" for none
	Why           string // a clause: why there are no small pictures; "" where there are

	Small, Middle []byte `json:"-"` // JPEG, upright, without anything beside
}

const (
	answerMark = "seatboard picture 1\n"
	quality    = 82 // of small pictures
)

// Serve is the child: it limits its own process for good, looks into the file
// that is its input, and writes what it finds for [Look]. It answers the exit
// status. A program calls it from the hidden command and does nothing else.
func Serve(in io.Reader, out io.Writer) int {
	limitProcess()
	return serve(in, out)
}

func serve(in io.Reader, out io.Writer) int {
	file, err := io.ReadAll(io.LimitReader(in, picture.MaxBytes+1))
	if err != nil || len(file) > picture.MaxBytes {
		return 1
	}
	s := look(file)
	head, err := json.Marshal(s)
	if err != nil {
		return 1
	}
	if _, err := fmt.Fprintf(out, "%s%d %d %d\n", answerMark, len(head), len(s.Small), len(s.Middle)); err != nil {
		return 1
	}
	for _, b := range [][]byte{head, s.Small, s.Middle} {
		if _, err := out.Write(b); err != nil {
			return 1
		}
	}
	return 0
}

// look finds what there is in a file.
func look(file []byte) (s Seen) {
	defer func() {
		if recover() != nil { // the libraries fail on some damaged files
			s = Seen{Kind: s.Kind, Why: "the decoder fails on it"}
		}
	}()
	s.Kind = Sniff(file)
	s.Orientation, s.Taken = beside(file, s.Kind)
	switch s.Kind {
	case picture.HEIC:
		s.Why = "HEIC is kept but not decoded here; let the phone send JPEG"
		return s
	case "":
		s.Why = "it is no JPEG, PNG, WebP or HEIC"
		return s
	}
	if s.Why = s.size(file); s.Why != "" {
		return s
	}
	full, err := decode(file, s.Kind)
	if err != nil {
		s.Why = "it is damaged or cut short"
		return s
	}
	s.draw(full)
	return s
}

// draw makes the small pictures.
func (s *Seen) draw(full image.Image) {
	middle := upright(fit(full, MiddleSide), s.Orientation)
	s.Middle = encode(middle)
	s.Small = encode(fit(middle, SmallSide))
	if s.Middle == nil || s.Small == nil {
		s.Small, s.Middle, s.Why = nil, nil, "no small picture could be made of it"
	}
}

// size reads how large the picture says it is, and says why that is not
// decoded.
func (s *Seen) size(file []byte) (why string) {
	c, err := config(file, s.Kind)
	if err != nil {
		return "it is damaged or cut short"
	}
	if c.Width < 1 || c.Height < 1 {
		return "it says that it has no pixels"
	}
	if c.Width > picture.MaxSide || c.Height > picture.MaxSide || int64(c.Width)*int64(c.Height) > picture.MaxPixels {
		return fmt.Sprintf("it says that it has %d × %d pixels; at most %d million, and %d on a side, are decoded", c.Width, c.Height, picture.MaxPixels/1_000_000, picture.MaxSide)
	}
	s.Width, s.Height = c.Width, c.Height
	if s.Orientation >= 5 {
		s.Width, s.Height = c.Height, c.Width
	}
	return ""
}

var errKind = errors.New("photo: not decoded here")

func config(file []byte, k picture.Kind) (image.Config, error) {
	r := bytes.NewReader(file)
	switch k {
	case picture.JPEG:
		return jpeg.DecodeConfig(r)
	case picture.PNG:
		return png.DecodeConfig(r)
	case picture.WebP:
		return webp.DecodeConfig(r)
	}
	return image.Config{}, errKind
}

func decode(file []byte, k picture.Kind) (image.Image, error) {
	r := bytes.NewReader(file)
	switch k {
	case picture.JPEG:
		return jpeg.Decode(r)
	case picture.PNG:
		return png.Decode(r)
	case picture.WebP:
		return webp.Decode(r)
	}
	return nil, errKind
}

// beside reads which way up the camera was held and when by its own clock the
// picture was taken; what cannot be read is not known.
func beside(file []byte, k picture.Kind) (orientation int, taken string) {
	format, ok := map[picture.Kind]imagemeta.ImageFormat{
		picture.JPEG: imagemeta.JPEG, picture.PNG: imagemeta.PNG, picture.WebP: imagemeta.TIFF, picture.HEIC: imagemeta.HEIF}[k]
	if k == picture.WebP {
		file = exifOfWebP(file)
	}
	if !ok || len(file) == 0 {
		return 0, ""
	}
	defer func() { _ = recover() }() // what was read by then stays
	when := map[string]string{}
	_, _ = imagemeta.Decode(imagemeta.Options{ // an error is a file without
		R: bytes.NewReader(file), ImageFormat: format, Sources: imagemeta.EXIF, Timeout: 2 * time.Second, LimitNumTags: 1000, LimitTagSize: 1000,
		Warnf:           func(string, ...any) {},
		ShouldHandleTag: func(t imagemeta.TagInfo) bool { return t.Tag == "Orientation" || isTime[t.Tag] },
		HandleTag: func(t imagemeta.TagInfo) error {
			if t.Tag != "Orientation" {
				when[t.Tag] = exifTime(t.Value)
				return nil
			}
			if n, ok := whole(t.Value); ok && n >= 1 && n <= 8 && t.Namespace == "IFD0" {
				orientation = n
			}
			return nil
		},
	})
	for _, tag := range []string{"DateTimeOriginal", "DateTimeDigitized", "CreateDate"} {
		if taken == "" {
			taken = when[tag]
		}
	}
	return orientation, taken
}

// exifOfWebP cuts the EXIF out of a WebP: the library loses its place behind a
// chunk of odd length.
func exifOfWebP(file []byte) []byte {
	const head, name = 12, 8
	for at := head; at+name <= len(file); {
		size := int64(binary.LittleEndian.Uint32(file[at+4:]))
		if size > int64(len(file)-at-name) {
			return nil
		}
		content := file[at+name : at+name+int(size)]
		if string(file[at:at+4]) == "EXIF" {
			return bytes.TrimPrefix(content, []byte("Exif\x00\x00"))
		}
		at += name + int(size+size&1)
	}
	return nil
}

var isTime = map[string]bool{"DateTimeOriginal": true, "DateTimeDigitized": true, "CreateDate": true}

func whole(v any) (int, bool) {
	switch n := v.(type) {
	case uint16:
		return int(n), true
	case uint32:
		return int(n), true
	case uint8:
		return int(n), true
	}
	return 0, false
}

// exifTime turns "2026:11:25 10:31:00" into the form that is kept, "" where
// it is none.
func exifTime(v any) string {
	s, _ := v.(string)
	t, err := time.Parse("2006:01:02 15:04:05", s)
	if err != nil || t.Year() < 1990 {
		return ""
	}
	return t.Format(time.DateTime)
}

// fit makes a picture smaller so that its longer side has at most so many
// pixels; on white, for JPEG has nothing to see through.
func fit(m image.Image, side int) *image.RGBA {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	if long := max(w, h); long > side {
		w, h = max(1, (w*side+long/2)/long), max(1, (h*side+long/2)/long)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	draw.CatmullRom.Scale(out, out.Bounds(), m, m.Bounds(), draw.Over, nil)
	return out
}

// upright turns a picture by the orientation of EXIF (2.32, 4.6.5: where the
// first row and the first column of the file lie in the picture).
func upright(m *image.RGBA, orientation int) *image.RGBA {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	var from func(x, y int) (int, int)
	switch orientation {
	case 2:
		from = func(x, y int) (int, int) { return w - 1 - x, y }
	case 3:
		from = func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }
	case 4:
		from = func(x, y int) (int, int) { return x, h - 1 - y }
	case 5:
		from = func(x, y int) (int, int) { return y, x }
	case 6:
		from = func(x, y int) (int, int) { return y, h - 1 - x }
	case 7:
		from = func(x, y int) (int, int) { return w - 1 - y, h - 1 - x }
	case 8:
		from = func(x, y int) (int, int) { return w - 1 - y, x }
	default:
		return m
	}
	size := image.Rect(0, 0, w, h)
	if orientation >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	out := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			out.SetRGBA(x, y, m.RGBAAt(from(x, y)))
		}
	}
	return out
}

func encode(m image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil
	}
	return b.Bytes()
}
