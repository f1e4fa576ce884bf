package regulate

import (
	"math"
	"slices"
	"sort"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// weather is one quantity of the air through the trial, in its own unit less
// its mean, straight between the readings of it and level before and after.
type weather struct {
	name, unit string
	mean       float64
	t, v       []float64 // days, less the mean
	sum        []float64 // integral from the first to each
	belief     [2]float64
}

// leastAir is the number of readings of the air that make a column.
const leastAir = 4

// airs reads what the air was.
func airs(q *Query, zero time.Time) []*weather {
	kinds := []*weather{
		{name: Temperature, unit: "K", belief: q.Known.thermal()},
		{name: Pressure, unit: "hPa", belief: [2]float64{perHPa, perHPaU}},
		{name: Humidity, unit: "%", belief: [2]float64{perCent, perCentU}},
		{name: Arc, unit: "°", belief: [2]float64{perDegree, perDegreeU}},
	}
	for _, a := range q.Air {
		t := days(a.At, zero)
		put(kinds[0], t, a.Temperature, 1)
		put(kinds[1], t, a.Pressure, 100)
		put(kinds[2], t, a.Humidity, 0.01)
		put(kinds[3], t, a.Arc, math.Pi/180)
	}
	var out []*weather
	for _, w := range kinds {
		if w.settle() {
			out = append(out, w)
		}
	}
	return out
}

// thermal is what is held of a kelvin, s/day, and its doubt.
func (k Known) thermal() [2]float64 {
	if !k.PerKelvin.Set {
		return [2]float64{perKelvin, perKelvinU}
	}
	return [2]float64{perDay(k.PerKelvin.Value), math.Hypot(perDay(k.PerKelvin.U), kelvinAtU)}
}

func put[Q unit.Quantity](w *weather, t float64, r meas.Result[Q], one float64) {
	if v := float64(r.Value) / one; r.Set && !math.IsNaN(v) && !math.IsInf(v, 0) {
		w.t, w.v = append(w.t, t), append(w.v, v)
	}
}

// settle sorts the readings, takes their mean off and sums; false where there
// are too few or nothing changes.
func (w *weather) settle() bool {
	if len(w.t) < leastAir {
		return false
	}
	sort.Sort(w)
	for _, v := range w.v {
		w.mean += v / float64(len(w.v))
	}
	moved := 0.0
	for i := range w.v {
		w.v[i] -= w.mean
		moved += w.v[i] * w.v[i]
	}
	w.sum = make([]float64, len(w.t))
	for i := 1; i < len(w.t); i++ {
		w.sum[i] = w.sum[i-1] + (w.t[i]-w.t[i-1])*(w.v[i]+w.v[i-1])/2
	}
	return moved > 1e-9*float64(len(w.v))
}

func (w *weather) Len() int           { return len(w.t) }
func (w *weather) Less(i, j int) bool { return w.t[i] < w.t[j] }
func (w *weather) Swap(i, j int)      { w.t[i], w.t[j], w.v[i], w.v[j] = w.t[j], w.t[i], w.v[j], w.v[i] }

// at is the quantity at a time, and its integral from the first reading of it.
func (w *weather) at(t float64) (v, sum float64) {
	n := len(w.t)
	i := sort.SearchFloat64s(w.t, t)
	switch {
	case i == 0:
		return w.v[0], w.v[0] * (t - w.t[0])
	case i == n:
		return w.v[n-1], w.sum[n-1] + w.v[n-1]*(t-w.t[n-1])
	}
	dt := t - w.t[i-1]
	v = w.v[i-1] + (w.v[i]-w.v[i-1])*dt/(w.t[i]-w.t[i-1])
	return v, w.sum[i-1] + dt*(w.v[i-1]+v)/2
}

// mean of the quantity from a time to another.
func (w *weather) between(a, b float64) float64 {
	_, x := w.at(a)
	_, y := w.at(b)
	return (y - x) / (b - a)
}

// unsure is how far the quantity may be now from what was read last: by as
// much as readings that lie as far apart have differed.
func (w *weather) unsure(now float64) float64 {
	n := len(w.t)
	gap := math.Max(now-w.t[n-1], 1.0/24)
	often := map[string][2]float64{Temperature: {0.3, 1.5}, Pressure: {0.5, 5}, Humidity: {2, 8}, Arc: {0.02, 0.05}}[w.name]
	u := square(often[0]) + square(often[1])*(1-math.Exp(-4*gap)) // it has come round to most within a quarter of a day
	var sum, pairs float64
	for i := max(0, n-lately); i < n; i++ {
		for j := i + 1; j < n && w.t[j]-w.t[i] <= 2*gap; j++ {
			if w.t[j]-w.t[i] >= gap/2 {
				sum += square(w.v[j] - w.v[i])
				pairs++
			}
		}
	}
	const weight = 4 // of what is held beforehand, in pairs
	return math.Sqrt((weight*u + sum) / (weight + pairs))
}

// dayNight is by how much, in s/day, the clock may go otherwise in the hours
// in which people look at it than over the whole day, beyond what a straight
// line between readings of the temperature says: the nights between them are
// cooler, and nobody read by how much. Without a thermometer none of the day
// is seen.
func dayNight(air []*weather, k [2]float64) float64 {
	size := math.Hypot(k[0], k[1]) * nights
	for _, w := range air {
		if w.name == Temperature {
			gaps := make([]float64, 0, len(w.t)-1)
			for i := 1; i < len(w.t); i++ {
				gaps = append(gaps, w.t[i]-w.t[i-1])
			}
			slices.Sort(gaps)
			return size * math.Max(0.01, math.Min(1, 2*gaps[len(gaps)*3/4]))
		}
	}
	return size
}

// whole is a span in days from which on a mean rate takes in its nights.
const whole = 0.5

// lately is how many readings of the air are looked at for how it changes.
const lately = 300

// ahead is what to expect of the mean of the next so many days, and its
// doubt: that of the last as many, and how far such stretches have differed
// from the next.
func (w *weather) ahead(now, span float64) (v, u float64) {
	first := w.t[0]
	back := min(span, max(now-first, 1))
	v = w.between(now-back, now)
	u = map[string]float64{Temperature: otherWeek, Pressure: 8, Humidity: 8, Arc: 0.05}[w.name]
	var sum, n float64
	for t := now; t-back-span >= first; t -= span / 2 {
		d := w.between(t-span, t) - w.between(t-span-back, t-span)
		sum += d * d
		n++
	}
	const weight = 4 // of what is held beforehand, in such stretches
	return v, math.Sqrt((weight*u*u + sum) / (weight + n))
}
