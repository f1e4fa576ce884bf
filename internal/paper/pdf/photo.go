package pdf

import (
	"bytes"
	"image/jpeg"

	"codeberg.org/go-pdf/fpdf"

	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/theme"
)

// Photographs stand two in a row, in millimetres.
const (
	photoApart = 6
	photoHigh  = 90 // at most
	photoFrame = 40 // height of the frame of one that is not there
)

// shot is a photograph as it is set.
type shot struct {
	doc.Photo
	file []byte // nil for none
	w, h float64
	said []string // its caption in lines
}

// photos sets photographs with their captions; a row is not cut.
func (w *writer) photos(b doc.Photos) {
	wide := (w.wide() - photoApart) / 2
	caption := w.soft(noteSize)
	shots := b.Shots
	for len(shots) > 0 {
		row := make([]shot, min(2, len(shots)))
		high, said := 0.0, 0
		for i := range row {
			row[i] = w.shot(shots[i], wide)
			row[i].said = w.lines(shots[i].Caption, wide, caption)
			high, said = max(high, row[i].h), max(said, len(row[i].said))
		}
		shots = shots[len(row):]
		w.gap(3)
		w.need(high + 1 + float64(said)*caption.leading())
		for i, s := range row {
			x := sideMargin + float64(i)*(wide+photoApart)
			w.draw(s, x, w.y)
			for j, l := range s.said {
				w.put(x, w.y+s.h+1+float64(j+1)*caption.leading()-0.3*caption.mm(), l, caption)
			}
		}
		w.y += high + 1 + float64(said)*caption.leading()
	}
}

// shot finds a photograph and how large it is set.
func (w *writer) shot(p doc.Photo, wide float64) shot {
	s := shot{Photo: p, w: wide, h: photoFrame}
	if p.Name == "" {
		s.h = 0
		return s
	}
	if w.photo == nil {
		return s
	}
	file := w.photo(p.Name)
	size, err := jpeg.DecodeConfig(bytes.NewReader(file))
	if err != nil || size.Width <= 0 || size.Height <= 0 {
		return s
	}
	s.file, s.h = file, wide*float64(size.Height)/float64(size.Width)
	if s.h > photoHigh {
		s.w, s.h = s.w*photoHigh/s.h, photoHigh
	}
	return s
}

// draw sets a photograph with its marks, or a frame in its place.
func (w *writer) draw(s shot, x, y float64) {
	switch {
	case s.Name == "":
		return
	case s.file == nil:
		w.ink(theme.Soft, 0.15)
		w.f.Rect(x, y, s.w, s.h, "D")
		words := w.soft(noteSize)
		w.put(x+3, y+s.h/2, "The photograph is in the record; it is not here to print.", words)
		return
	}
	o := fpdf.ImageOptions{ImageType: "JPEG"}
	if w.f.GetImageInfo(s.Name) == nil {
		w.f.RegisterImageOptionsReader(s.Name, o, bytes.NewReader(s.file))
	}
	w.f.ImageOptions(s.Name, x, y, s.w, s.h, false, o, 0, "")
	if s.W > 0 && s.H > 0 {
		k := s.w / s.W
		placed{w: w, x: x, y: y, k: k, px: mmPerPx}.items(s.Marks)
	}
}
