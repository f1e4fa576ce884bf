package present

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/rate"
)

// column is the beats of a short time, condensed: none of them is hidden,
// for the farthest out on either side are kept by themselves.
type column struct {
	from, to     float64 // seconds, of its first and last beat
	stretch      int     // columns of one unbroken stretch have one number
	beats        int
	low, high    float64 // where the beats lie that are not far out; 95 of 100 of them where there are many
	median       float64
	path         float64 // where the clock itself is thought to be, mean
	under, over  float64 // limits of the path, the widest of the column
	band         float64 // half its 95 % band, mean
	earliest     float64 // of the beats far out; NaN where there is none
	latest       float64
	farOut       int
	earlyAt, lAt float64 // seconds
}

// middle is the time of a column.
func (c column) middle() float64 { return (c.from + c.to) / 2 }

// farBeyond is how many standard deviations of all beats make one far out.
const farBeyond = 5

// condense gathers beats into so many columns at most; a break of the record
// ends a column.
func condense(all []rate.Residual, runs []beat.Run, most int) []column {
	if len(all) == 0 {
		return nil
	}
	most = max(1, min(most, len(all)/6))
	start := float64(all[0].At)
	wide := (float64(all[len(all)-1].At) - start) / float64(most)
	if !(wide > 0) {
		wide = 1
	}
	fence := farBeyond * spreadOf(all)
	var out []column
	var held []rate.Residual
	stretch, run, slot := 0, 0, 0
	for i, r := range all {
		was := run
		for run < len(runs)-1 && r.At > runs[run].To {
			run++
		}
		broken := run != was || i > 0 && r.N <= all[i-1].N
		if now := min(int((float64(r.At)-start)/wide), most-1); now != slot || broken {
			if len(held) > 0 {
				out = append(out, gathered(held, stretch, fence))
			}
			held, slot = held[:0], now
		}
		if broken && i > 0 {
			stretch++
		}
		held = append(held, r)
	}
	return append(out, gathered(held, stretch, fence))
}

// spreadOf is the standard deviation of the beats about the path, by their
// median deviation, which a few wild ones do not move.
func spreadOf(all []rate.Residual) float64 {
	d := make([]float64, len(all))
	for i, r := range all {
		d[i] = math.Abs(float64(r.Off - r.Smooth))
	}
	slices.Sort(d)
	return 1.4826 * d[len(d)/2]
}

// gathered condenses the beats of one column.
func gathered(beats []rate.Residual, stretch int, fence float64) column {
	c := column{from: float64(beats[0].At), to: float64(beats[len(beats)-1].At), stretch: stretch, beats: len(beats),
		earliest: math.NaN(), latest: math.NaN(), under: math.Inf(1), over: math.Inf(-1)}
	near := make([]float64, 0, len(beats))
	for _, b := range beats {
		off, smooth, band := float64(b.Off), float64(b.Smooth), float64(b.Band)
		c.path += smooth / float64(len(beats))
		c.band += band / float64(len(beats))
		c.under, c.over = math.Min(c.under, smooth-band), math.Max(c.over, smooth+band)
		if !b.Odd && math.Abs(off-smooth) <= fence {
			near = append(near, off)
			continue
		}
		c.farOut++
		if off < smooth && !(off >= c.earliest) {
			c.earliest, c.earlyAt = off, float64(b.At)
		}
		if off >= smooth && !(off <= c.latest) {
			c.latest, c.lAt = off, float64(b.At)
		}
	}
	if len(near) == 0 {
		c.low, c.high, c.median = c.path, c.path, c.path
		return c
	}
	slices.SortFunc(near, cmp.Compare)
	c.low, c.high, c.median = near[0], near[len(near)-1], near[len(near)/2]
	if cut := len(near) / 40; cut > 0 {
		c.low, c.high = near[cut], near[len(near)-1-cut]
	}
	return c
}
