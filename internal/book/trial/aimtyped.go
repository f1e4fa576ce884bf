package trial

import (
	"fmt"
	"strconv"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// AimTyped is what counts as right as a person types it: rates in s/d, the beat
// error in ms, where no unit is written.
type AimTyped struct {
	Rate, Band, BeatError, Promise string
	Strikes                        bool
	Home                           Home
	Gates                          []GateTyped
}

// GateTyped is a gate as it is typed.
type GateTyped struct {
	Was                    int // the gate it was, from 1; 0 for a new one
	Name, Days, Least, Gap string
}

// AimField is a field of what counts as right that has one value.
type AimField struct {
	Name  string // as a mistake in it is said of: "home.latitude"
	Label string
	Unit  string // of a bare figure, "" for words
	Hint  string
	To    *string
}

// Fields lists them: the rate, the band, the beat error, what was promised, and
// those of the home.
func (x *AimTyped) Fields() []AimField {
	h := &x.Home
	return []AimField{
		{"rate", "Rate to aim at", "s/d", "Empty for true; gaining is positive", &x.Rate},
		{"band", "Right within, each way", "s/d", "5; or 30 s/wk", &x.Band},
		{"beat_error", "Out of beat at the most", "ms", "From tick to tock less from tock to tick; empty where it is not asked", &x.BeatError},
		{"promise", "What the owner was told", "", "In words: right to a minute a week, by Christmas", &x.Promise},
		{"home.place", "Place", "", "", &h.Place},
		{"home.latitude", "Latitude", "", "51.5 or 51° 28′ N; south is S", &h.Latitude},
		{"home.height", "Height above the sea", "m", "", &h.Height},
		{"home.gravity", "Gravity, if it was measured", "m/s²", "", &h.Gravity},
		{"home.temperature", "The room there", "°C", "", &h.Temperature},
	}
}

// Typed writes what counts as right as a person would.
func (a Aim) Typed() AimTyped {
	x := AimTyped{Band: figure(a.Band.PerDay()), Promise: a.Promise, Strikes: a.Strikes}
	if a.Rate != 0 {
		x.Rate = figure(a.Rate.PerDay())
	}
	if a.BeatError != 0 {
		x.BeatError = figure(float64(a.BeatError) * 1e3)
	}
	if a.Home != nil {
		x.Home = *a.Home
	}
	for i, g := range a.Gates {
		x.Gates = append(x.Gates, GateTyped{i + 1, g.Name, figure(g.Days), strconv.Itoa(g.Least), figure(g.Gap)})
	}
	return x
}

func figure(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// Read is what counts as right in figures, with every mistake; was is what
// counted until now, of which stays what is not typed here.
func (x AimTyped) Read(was Aim) (Aim, meas.Faults) {
	var faults meas.Faults
	a := Aim{Strikes: x.Strikes, Promise: x.Promise, ForHome: was.ForHome, Goes: was.Goes}
	a.Rate = typedAs[unit.Rate](&faults, "rate", x.Rate, "s/d")
	a.Band = typedAs[unit.Rate](&faults, "band", x.Band, "s/d")
	a.BeatError = typedAs[unit.Duration](&faults, "beat_error", x.BeatError, "ms")
	h := x.Home
	if h != (Home{}) {
		a.Home = &h
	}
	typedAs[unit.Angle](&faults, "home.latitude", h.Latitude, "°")
	typedAs[unit.Length](&faults, "home.height", h.Height, "m")
	typedAs[unit.Acceleration](&faults, "home.gravity", h.Gravity, "m/s²")
	typedAs[unit.Temperature](&faults, "home.temperature", h.Temperature, "°C")
	for i, g := range x.Gates {
		at := func(name string) string { return fmt.Sprintf("gates[%d].%s", i, name) }
		to := Gate{Key: newKey(was, a.Gates), Name: g.Name, Days: float64(typedAs[unit.Ratio](&faults, at("days"), g.Days, "")), Gap: float64(typedAs[unit.Ratio](&faults, at("gap"), g.Gap, ""))}
		if g.Was >= 1 && g.Was <= len(was.Gates) {
			to.Key = was.Gates[g.Was-1].Key
		}
		least, err := strconv.Atoi(g.Least)
		if g.Least != "" && err != nil {
			faults = append(faults, meas.Fault{Field: at("least"), Text: "The number of readings must be a whole number, like 4"})
		}
		to.Least = least
		a.Gates = append(a.Gates, to)
	}
	return a, faults
}

// typedAs reads one figure; nothing typed is nought.
func typedAs[Q unit.Quantity](faults *meas.Faults, field, text, assumed string) Q {
	if text == "" {
		return 0
	}
	r, err := meas.Parse[Q](text, assumed)
	if err != nil {
		*faults = append(*faults, meas.Fault{Field: field, Text: err.Error()})
	}
	return r.Value
}

// newKey is a key that no gate has had.
func newKey(was Aim, now []Gate) string {
	for i := len(was.Gates) + len(now) + 1; ; i++ {
		key, free := "gate-"+strconv.Itoa(i), true
		for _, g := range append(was.Gates[:len(was.Gates):len(was.Gates)], now...) {
			free = free && g.Key != key
		}
		if free {
			return key
		}
	}
}
