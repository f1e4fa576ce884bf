package labelsheet

import (
	"fmt"
	"image"
	"image/color"

	go_qr "github.com/piglig/go-qr"

	"seatboard/internal/kit/pic"
)

// Cells of a code in millimetres, and how many the quiet zone is broad.
const (
	goodCell  = 0.4  // read by any telephone
	worstCell = 0.25 // two dots of a printer with 203 to the inch: less is not printed
	quiet     = 4
	mostSide  = 22 // larger helps nobody
)

// code is a QR code in its two strengths: with some of it to spare against
// dirt (level M), and plain (level L), which has fewer cells.
type code struct {
	text        string
	firm, plain [][]bool
}

func newCode(text string) (c code, err error) {
	c.text = text
	if c.firm, err = symbol(text, go_qr.Medium); err == nil {
		c.plain, err = symbol(text, go_qr.Low)
	}
	return c, err
}

// symbol makes a code and reads it back.
func symbol(text string, level go_qr.Ecc) ([][]bool, error) {
	q, err := go_qr.EncodeText(text, level)
	if err != nil {
		return nil, fmt.Errorf("labelsheet: code of %q: %w", text, err)
	}
	dark := make([][]bool, q.Size())
	for y := range dark {
		dark[y] = make([]bool, q.Size())
		for x := range dark[y] {
			dark[y][x] = q.Module(x, y)
		}
	}
	if got, err := go_qr.Decode(raster(dark)); err != nil || got != text {
		return nil, fmt.Errorf("%w: %q, %v", ErrUnread, text, err)
	}
	return dark, nil
}

// raster is a code as a camera would have it at its best.
func raster(dark [][]bool) image.Image {
	const dots = 3
	side := dots * (len(dark) + 2*quiet)
	img := image.NewGray(image.Rect(0, 0, side, side))
	for y := range side {
		for x := range side {
			cy, cx := y/dots-quiet, x/dots-quiet
			v := color.Gray{Y: 255}
			if cy >= 0 && cx >= 0 && cy < len(dark) && cx < len(dark) && dark[cy][cx] {
				v.Y = 0
			}
			img.SetGray(x, y, v)
		}
	}
	return img
}

// code sets the code into the upper left of a box, within a side, and gives
// back how much it takes with its quiet zone; 0 where it had to be left out.
func (l *layer) code(x Label, c code, in box, side float64) ([]pic.Item, float64) {
	side = min(side, mostSide)
	dark := c.firm
	cell := side / float64(len(dark)+2*quiet)
	if cell < goodCell {
		dark = c.plain
		cell = side / float64(len(dark)+2*quiet)
	}
	switch {
	case cell < worstCell:
		l.warns.add(noCode, x, fmt.Sprintf("%.2f mm", max(cell, 0)))
		return nil, 0
	case cell < goodCell:
		l.warns.add(smallCode, x, fmt.Sprintf("%.2f mm", cell))
	}
	return []pic.Item{pic.Cells{Min: pic.Pt{X: in.x + quiet*cell, Y: in.y + quiet*cell}, Side: cell, Dark: dark}}, side
}
