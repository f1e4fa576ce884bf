package identify

import (
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// What a thing is.
const (
	Screw     = "screw"      // the diameter over the crests
	Hole      = "hole"       // a tapped hole or nut: the diameter of its bore
	WoodScrew = "wood-screw" // the shank
	Wire      = "wire"
	Sheet     = "sheet" // the thickness
	Drill     = "drill"
	Pin       = "pin" // parallel, or the small end of a taper
)

// kinds lists them.
func kinds() []string { return []string{Screw, Hole, WoodScrew, Wire, Sheet, Drill, Pin} }

// Query is what was measured of a screw, wire, drill or pin.
type Query struct {
	What       string                    `json:"what"`
	Diameter   meas.Reading[unit.Length] `json:"diameter"`
	Pitch      meas.Reading[unit.Pitch]  `json:"pitch"`
	Threads    int                       `json:"threads,omitempty"` // counted over a length
	Over       meas.Reading[unit.Length] `json:"over"`
	Angle      meas.Reading[unit.Angle]  `json:"angle"` // between the flanks
	Worn       bool                      `json:"worn"`  // crests are worn, or filed
	Year       int                       `json:"year,omitempty"`
	Engagement meas.Reading[unit.Ratio]  `json:"engagement"` // of the thread's depth, for the tapping drill
}

// threaded tells whether a thing of this kind has a thread.
func (q Query) threaded() bool { return q.What == Screw || q.What == Hole || q.What == WoodScrew }

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	say := func(field, text string, args ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(text, args...)})
	}
	if !slices.Contains(kinds(), q.What) {
		say("what", "Choose what it is: %s", strings.Join(kinds(), ", "))
	}
	if !q.Diameter.Set {
		say("diameter", "Enter the diameter that was measured")
	} else if d := q.Diameter.Value.MM(); d < .01 || d > 200 {
		say("diameter", "The diameter must be between 0.01 and 200 mm; “%s” was entered", q.Diameter)
	}
	if d := q.Diameter; d.Set && q.threaded() && d.Bare() && d.Value.MM() < leastScrew && d.Value.MM() > 0 {
		say("diameter", "“%s” is too thin for a screw in mm; write the unit: %s in is %s", d.Entered, d.Entered, unit.Text(unit.Inches(d.Value.MM()), "mm", 3))
	}
	q.checkPitch(say)
	if q.Angle.Set && (q.Angle.Value.Degrees() < 20 || q.Angle.Value.Degrees() > 100) {
		say("angle", "The angle between the flanks must be between 20° and 100°; “%s” was entered", q.Angle)
	}
	if q.Year != 0 && (q.Year < 1300 || q.Year > 2100) {
		say("year", "The year of the clock must be between 1300 and 2100; %d was entered", q.Year)
	}
	if e := q.Engagement; e.Set && !(e.Value >= .3 && e.Value <= 1) {
		say("engagement", "The engagement must be between 30 %% and 100 %% of the depth; “%s” was entered", e)
	}
	return f
}

// leastScrew is the thinnest screw that is thought of, in mm.
const leastScrew = .5

func (q Query) checkPitch(say func(field, text string, args ...any)) {
	switch {
	case q.Pitch.Set && (q.Threads > 0 || q.Over.Set):
		say("pitch", "The pitch and the threads over a length say the same thing; enter one of them")
	case q.Threads > 0 && !q.Over.Set:
		say("over", "Enter the length that %d threads take", q.Threads)
	case q.Over.Set && q.Threads == 0:
		say("threads", "Enter how many threads that length has")
	case q.Over.Set && !(q.Over.Value > 0):
		say("over", "The length must be more than nought; “%s” was entered", q.Over)
	case q.Pitch.Set && q.Pitch.Value*1000 > 7 && q.Pitch.Bare():
		say("pitch", "A pitch of %s mm is too much for a clock; write “%s tpi” if it is threads to the inch", q.Pitch.Entered, q.Pitch.Entered)
	case q.Pitch.Set && !(q.Pitch.Value*1000 >= .05 && q.Pitch.Value*1000 <= 12):
		say("pitch", "The pitch must be between 0.05 and 12 mm; “%s” was entered", q.Pitch)
	case q.What != "" && !q.threaded() && (q.Pitch.Set || q.Threads > 0 || q.Over.Set):
		say("pitch", "A %s has no thread; leave the pitch empty, or choose a screw", q.What)
	}
	if p, ok := q.pitch(); ok && q.Over.Set && !(p.Value*1000 >= .05 && p.Value*1000 <= 12) {
		say("over", "%d threads over %s are a pitch of %s; count again", q.Threads, q.Over, unit.Text(p.Value, "mm", 3))
	}
}

// pitch is the pitch as measured, or of threads counted over a length, with
// the doubt that was stated or is usual.
func (q Query) pitch() (meas.Reading[unit.Pitch], bool) {
	if q.Threads > 0 && q.Over.Set {
		n := float64(q.Threads)
		u := float64(q.Over.U)
		if !q.Over.HasU {
			u = usualOver
		}
		return meas.OfU(unit.Pitch(float64(q.Over.Value)/n), unit.Pitch(max(u/n, leastDoubt))), true
	}
	if !q.Pitch.Set {
		return meas.Reading[unit.Pitch]{}, false
	}
	u := q.Pitch.U
	if !q.Pitch.HasU {
		u = usualPitch * q.Pitch.Value
	}
	return meas.OfU(q.Pitch.Value, max(u, leastDoubt)), true
}

// What is taken where no doubt was stated; common practice, no source.
const (
	usualDiameter = 20e-6  // m, of a caliper
	usualOver     = 100e-6 // m, of a rule laid along the threads
	usualPitch    = .02    // of a pitch read with a gauge
	usualAngle    = 2      // degrees, by a gauge held against the light
	leastDoubt    = 1e-7   // m: nothing is measured better, whatever was stated
)

// diameterDoubt is the standard uncertainty of the diameter, in m.
func (q Query) diameterDoubt() float64 {
	if q.Diameter.HasU {
		return max(float64(q.Diameter.U), leastDoubt)
	}
	return usualDiameter
}
