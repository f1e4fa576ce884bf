package trial

import "seatboard/internal/kit/unit"

// Preset is what is commonly asked of a kind of clock. The figures are common
// practice and have no source: they are a beginning, to be set for each clock.
type Preset struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Aim  Aim    `json:"aim"`
}

// PresetWords says where the figures of the presets are from.
const PresetWords = "Common practice, no source: a full week right on the stand, then a full week in the case. Set them as you and the owner think right."

// Presets lists the kinds of clock, the closest first. One that is not in the
// list is begun with the second.
func Presets() []Preset {
	kind := func(key, name string, band float64, beat unit.Duration, gates []Gate) Preset {
		return Preset{key, name, Aim{Band: unit.RatePerDay(band), BeatError: beat, Gates: gates}}
	}
	return []Preset{
		kind("regulator", "Regulator", 1, 0.020, twoWeeks("in the case")),
		kind("longcase", "Longcase or wall clock", 5, 0.030, twoWeeks("in the case")),
		kind("bracket", "Bracket or table clock", 15, 0.030, twoWeeks("in the case")),
		kind("turret", "Turret clock", 2, 0.030, twoWeeks("in the tower")),
	}
}

// For is what is common for the kind, in place of what counted until now: the
// rate to aim at, what was promised, the strike and the home stay.
func (p Preset) For(was Aim) Aim {
	now := was
	now.Band, now.BeatError, now.Gates = p.Aim.Band, p.Aim.BeatError, p.Aim.Gates
	return now
}

// DefaultAim is what a clock begins with.
func DefaultAim() Aim { return Presets()[1].Aim }

// twoWeeks is a week on the stand and another where the clock goes in the end.
// The longest time without a reading is that of a shop closed from Friday
// evening to Monday morning.
func twoWeeks(then string) []Gate {
	return []Gate{
		{Key: "stand", Name: "A week right on the stand", Days: 7, Least: 4, Gap: 3},
		{Key: "case", Name: "A week right " + then, Days: 7, Least: 4, Gap: 3},
	}
}
