package shop

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
)

// demoPhotos puts two drawn pictures into an invented clock's file: its dial as
// it was found, with marks, and the same with the hands off.
func (s *Shop) demoPhotos(ctx context.Context, clock int64) error {
	first, err := s.demoPhoto(ctx, drawnDial(true), PhotoAsk{Clock: clock, Part: "2", Stage: picture.Before, Area: "dial"}, "The dial as found: paint lifts at VII, the hands are bent", []picture.Mark{
		{Kind: picture.Ring, X: 297, Y: 443, X2: 354, Y2: 443}, {Kind: picture.Text, X: 27, Y: 567, Text: "paint lifts, iron shows"}, {Kind: picture.Arrow, X: 193, Y: 540, X2: 260, Y2: 483}})
	if err == nil {
		_, err = s.demoPhoto(ctx, drawnDial(false), PhotoAsk{Clock: clock, Part: "2", Stage: picture.During, Area: "dial", SameView: first.UID}, "The same with the hands off", nil)
	}
	s.lookSoon()
	return err
}

func (s *Shop) demoPhoto(ctx context.Context, m image.Image, ask PhotoAsk, caption string, marks []picture.Mark) (p picture.Photo, err error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		return p, err
	}
	held, err := s.ears.files.Hold(ctx, &b, picture.MaxBytes)
	if err != nil {
		return p, explain(err)
	}
	defer held.Close()
	t, err := s.keepPhoto(ctx, DemoName, held, "drawn for the demonstration.jpg", ask)
	if err != nil {
		return p, err
	}
	t.Photo.Caption, t.Photo.Marks = caption, marks
	err = s.store.Update(ctx, DemoName, func(tx *store.Tx) (err error) { p, err = tx.SavePhoto(t.Photo); return err })
	return p, explainPhoto(err)
}

// drawnDial is a painted dial on a bench, from above, with or without hands.
func drawnDial(hands bool) image.Image {
	const w, h, r = 800, 600, 266
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, dialAt(float64(x-w/2)/r, float64(y-h/2)/r, hands))
		}
	}
	return m
}

// dialAt is the colour of a place; the dial has the radius 1.
func dialAt(x, y float64, hands bool) color.RGBA {
	bench, paint, ink, iron := color.RGBA{112, 78, 46, 255}, color.RGBA{236, 228, 206, 255}, color.RGBA{30, 28, 26, 255}, color.RGBA{108, 92, 84, 255}
	far, turn := math.Hypot(x, y), math.Atan2(x, -y)/(2*math.Pi)*12 // in hours
	if far > 1 {
		bench.R += uint8(12 * math.Abs(math.Sin(40*y+3*math.Sin(3*x))))
		return bench
	}
	hour := math.Abs(turn - math.Round(turn))
	switch {
	case hands && (onHand(x, y, 10.2, .52, .03) || onHand(x, y, 2.05, .8, .022)), far < .05:
		return ink
	case math.Hypot(x+.39, y-.54) < .12+.02*math.Sin(5*math.Atan2(y-.54, x+.39)+1)+.01*math.Sin(8*x*y*9):
		return iron
	case far > .72 && far < .88 && hour*far < .055, math.Abs(far-.95) < .006, math.Abs(far-.91) < .006:
		return ink
	}
	return paint
}

// onHand tells whether a place lies on a hand that points to an hour.
func onHand(x, y, hour, long, wide float64) bool {
	sin, cos := math.Sincos(hour / 12 * 2 * math.Pi)
	along, across := x*sin-y*cos, x*cos+y*sin
	return along > 0 && along < long && math.Abs(across) < wide*(1-along/long/2)
}
