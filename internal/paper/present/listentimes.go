package present

import (
	"strconv"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// BeatsTable lists every beat heard with its time by the recorder's clock,
// for a spreadsheet; the first column can be read again as beat times. Late
// and Path are against the mean rate, Band is half the 95 % band of Path.
func BeatsTable(a listen.Answer) doc.Table {
	t := doc.Table{Caption: "Every beat", Columns: []doc.Column{{Head: "At", Unit: "s", Number: true}, {Head: "Standard uncertainty", Unit: "s", Number: true}, {Head: "Number", Number: true},
		{Head: "Stretch", Number: true}, {Head: "Side"}, {Head: "Strength", Number: true}, {Head: "Late", Unit: "µs", Number: true}, {Head: "Path", Unit: "µs", Number: true},
		{Head: "Band", Unit: "µs", Number: true}, {Head: "Odd"}}}
	var off []rate.Residual
	if a.Going != nil {
		off = a.Going.Residuals
	}
	for _, b := range a.Hearing.Beats {
		for len(off) > 0 && off[0].At < b.At {
			off = off[1:]
		}
		side, late, path, band, odd := "tick", "", "", "", ""
		if b.Tock() {
			side = "tock"
		}
		if len(off) > 0 && off[0].At == b.At {
			late, path, band = micros(off[0].Off), micros(off[0].Smooth), micros(off[0].Band)
			if off[0].Odd {
				odd = "odd"
			}
		}
		t.Rows = append(t.Rows, []string{unit.Number(float64(b.At), 9), unit.Number(float64(b.U), 9), strconv.FormatInt(b.N, 10),
			strconv.Itoa(b.Run + 1), side, unit.Number(float64(b.Strength), 3), late, path, band, odd})
	}
	return t
}

func micros(d unit.Duration) string { return unit.Number(float64(d)*1e6, 3) }
