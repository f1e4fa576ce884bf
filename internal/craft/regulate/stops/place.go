package stops

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// link is what lies between a stop and the one before it.
type link struct {
	by, u  float64 // s, the hands were set by, and its doubt
	known  bool    // by is known
	run    float64 // s of the train since then, less whole turns of the dial
	turns  int     // of the dial
	sure   bool    // turns is known
	set    bool    // the hands were moved at all
	going  time.Time
	before bool // there is a stop before
}

// spot is one stop while it is worked on.
type spot struct {
	Stop
	dial    float64   // s
	stopped time.Time // zero where it was not said when it was found
	link    link
	wound   float64 // s since winding, NaN where not known
	after   string
}

const (
	early   = 10 * time.Minute // a clock may be ahead of the true time by so much
	day     = float64(unit.Day)
	setBy   = 15.0           // s, doubt of hands set by eye, where none was stated
	wander  = 60.0 / 86400   // s/s, of an error that was read some time before
	recent  = 48 * time.Hour // a reading before a setting tells what the clock was wrong by
	slack   = 20 * 60.0      // s, on the time that a train can have run
	soon    = 24 * time.Hour // after a touch
	airNear = 3 * time.Hour  // the air of a stop
	coarse  = 1.0 / 6        // of a turn: a greater doubt tells nothing
	airMost = 90             // readings of the air that stops are held against
	unset   = time.Duration(0)
)

// spots lays the stops in the order in which they came, with what lies
// between them.
func (s *solver) lay() {
	s.spots = make([]spot, len(s.q.Stops))
	dated := true
	for i, x := range s.q.Stops {
		s.spots[i] = spot{Stop: x, dial: math.Mod(x.Hands.Dial(), s.turn), wound: math.NaN()}
		dated = dated && !x.Found.IsZero()
	}
	if dated {
		slices.SortStableFunc(s.spots, func(a, b spot) int { return a.Found.Compare(b.Found) })
	}
	s.touches = slices.Clone(s.q.Touches)
	slices.SortStableFunc(s.touches, func(a, b regulate.Touch) int { return a.At.Compare(b.At) })
	s.readings = slices.DeleteFunc(slices.Clone(s.q.Readings), func(r regulate.Reading) bool { return r.Out || !r.From.IsZero() })
	slices.SortStableFunc(s.readings, func(a, b regulate.Reading) int { return a.At.Compare(b.At) })
	for i := range s.spots {
		p := &s.spots[i]
		p.stopped = s.stoppedAt(p.Found, p.dial)
		if !p.Going.IsZero() && p.stopped.Before(p.Going.Add(-early)) && !p.stopped.IsZero() {
			s.say(meas.Doubt, "hands-wrong", fmt.Sprintf("Stop %d: the hands stand at %s, yet it was seen going at %s: the clock was not showing the right time, or a time is written wrongly.", p.ID, p.Hands, when(p.Going)), "Look at the times again; the place on the train is used as it stands.")
		}
		if i > 0 {
			s.join(i)
		}
		s.sinceWinding(p)
	}
}

// stoppedAt is the last moment before found at which a clock that is right
// shows the dial, in the location of found.
func (s *solver) stoppedAt(found time.Time, dial float64) time.Time {
	if found.IsZero() {
		return found
	}
	back := math.Mod(s.civil(found)+early.Seconds()-dial+2*s.turn, s.turn)
	return found.Add(early - time.Duration(back*float64(time.Second)))
}

// civil is the time of day on the dial, in s.
func (s *solver) civil(t time.Time) float64 {
	return math.Mod(float64(t.Hour()*3600+t.Minute()*60+t.Second())+float64(t.Nanosecond())/1e9, s.turn)
}

// near brings a difference of dials to half a turn either way.
func (s *solver) near(d float64) float64 {
	return (circular.Wrap(d/s.turn+0.5) - 0.5) * s.turn
}

// join finds what lies between stop i and the one before.
func (s *solver) join(i int) {
	a, b := &s.spots[i-1], &s.spots[i]
	l := &b.link
	l.before, l.known, l.going = true, true, a.Found
	switch b.Set.How {
	case Left:
	case Moved:
		l.known, l.set = false, true
	case By:
		l.by, l.u, l.set = float64(b.Set.By.Value), setBy, true
		if b.Set.By.HasU {
			l.u = float64(b.Set.By.U)
		}
	default:
		s.byTouches(a, b)
	}
	l.run = circular.Wrap((b.dial-a.dial-l.by)/s.turn) * s.turn
	if a.Found.IsZero() || b.Found.IsZero() || !l.known {
		return
	}
	most := b.Found.Sub(l.going).Seconds() + slack
	fewest := 0.0
	if !b.Going.IsZero() {
		fewest = b.Going.Sub(l.going).Seconds() - slack
	}
	var fits []int
	for k := max(0, int((fewest-l.run)/s.turn)); float64(k)*s.turn+l.run <= most && len(fits) < 2; k++ {
		if float64(k)*s.turn+l.run >= fewest {
			fits = append(fits, k)
		}
	}
	switch len(fits) {
	case 0:
		l.known = false
		s.say(meas.Clash, "cannot-run", fmt.Sprintf("By its hands the train ran %s (or that and whole turns of the dial) from stop %d to stop %d, and the times written down do not leave room for it.", span(l.run), a.ID, b.ID), "Look at both times, and whether the hands were set between; the two stops are not compared on the train.")
	case 1:
		l.turns, l.sure = fits[0], true
	}
}

// byTouches goes through the settings of the hands from stop a to stop b.
func (s *solver) byTouches(a, b *spot) {
	l := &b.link
	if a.Found.IsZero() || b.Found.IsZero() {
		return
	}
	stands, dial, doubt := true, a.dial, a.doubt()
	var last *regulate.Touch // the last that says what the clock was wrong by
	for k := range s.touches {
		t := &s.touches[k]
		if t.At.Before(a.Found.Add(-early)) || !t.At.Before(b.Found) || (t.Kind != regulate.Started && t.Kind != regulate.HandsSet) {
			continue
		}
		u := math.Max(float64(t.U), setBy/3)
		switch {
		case !t.HasError && t.Kind == regulate.HandsSet:
			l.known, l.set = false, true
		case t.HasError && stands:
			to := s.civil(t.At) + float64(t.Error)
			if by := s.near(to - dial); math.Abs(by) > u+doubt {
				l.by, l.u, l.set = l.by+by, math.Hypot(l.u, math.Hypot(u, doubt)), true
			}
			dial, doubt, last = to, u, t
		case t.HasError:
			was, wasU, ok := s.errorBefore(t.At, last)
			if !ok {
				l.known = false
			}
			l.by, l.u, l.set = l.by+float64(t.Error)-was, math.Hypot(l.u, math.Hypot(u, wasU)), true
			last = t
		}
		if t.Kind == regulate.Started {
			stands, l.going = false, t.At
		}
	}
}

// errorBefore is what the clock was wrong by just before an instant, by the
// last reading or the last setting.
func (s *solver) errorBefore(at time.Time, set *regulate.Touch) (was, u float64, ok bool) {
	var from time.Time
	if set != nil && at.Sub(set.At) <= recent {
		from, was, u, ok = set.At, float64(set.Error), float64(set.U), true
	}
	i, _ := slices.BinarySearchFunc(s.readings, at, func(r regulate.Reading, t time.Time) int { return r.At.Compare(t) })
	if i > 0 {
		if r := s.readings[i-1]; at.Sub(r.At) <= recent && r.At.After(from) {
			from, was, u, ok = r.At, float64(r.Error), r.U, true
		}
	}
	return was, math.Hypot(u, at.Sub(from).Seconds()*wander), ok
}

// sinceWinding finds when the clock was wound last and touched last.
func (s *solver) sinceWinding(p *spot) {
	if p.stopped.IsZero() {
		return
	}
	wound := p.Wound
	for _, t := range s.touches {
		gap := p.stopped.Sub(t.At)
		if gap < unset {
			break
		}
		if t.Kind == regulate.Wound && t.At.After(wound) {
			wound = t.At
		}
		if name := touchName(t.Kind); name != "" && gap <= soon {
			p.after = name
		}
	}
	if !wound.IsZero() {
		p.wound = math.Max(0, p.stopped.Sub(wound).Seconds())
	}
}

// touchName is a touch that may stop a clock, as spoken of; "" for the rest.
func touchName(k regulate.Kind) string {
	return map[regulate.Kind]string{
		regulate.NutTurned: "the nut was turned", regulate.OnTray: "weight was put on the tray or taken off", regulate.Moved: "it was moved",
		regulate.Levelled: "it was levelled or put in beat", regulate.Oiled: "it was oiled", regulate.Wound: "it was wound", regulate.Worked: "it was worked on",
	}[k]
}

// places writes down how each stop was taken.
func (s *solver) places() []Place {
	out := make([]Place, len(s.spots))
	for i, p := range s.spots {
		out[i] = Place{Stop: p.ID, Dial: unit.Duration(p.dial), Stopped: p.stopped, Joined: p.link.before && p.link.known,
			By: unit.Duration(p.link.by), U: unit.Duration(p.link.u), After: p.after}
		if p.link.sure {
			out[i].Ran = unit.Duration(p.link.run + float64(p.link.turns)*s.turn)
		}
		if !math.IsNaN(p.wound) {
			out[i].Wound = unit.Duration(p.wound)
		}
	}
	return out
}

// hands is the doubt of the hands in general: the middle one, in s.
func (s *solver) hands() float64 {
	u := make([]float64, len(s.spots))
	for i, p := range s.spots {
		u[i] = p.doubt()
	}
	slices.SortFunc(u, cmp.Compare[float64])
	return u[len(u)/2]
}

// steps are those in which minute hand and seconds hand were read, in s: five
// minutes where four stops and more are all multiples of it, else minutes,
// halves, or any. Chance is drawn in the same steps, for places that were
// rounded agree more often than places that were not.
func (s *solver) steps() (minute, second float64) {
	all := func(step float64, of func(spot) float64) bool {
		return !slices.ContainsFunc(s.spots, func(p spot) bool { return math.Abs(math.Remainder(of(p), step)) > 1e-6 })
	}
	dial := func(p spot) float64 { return p.dial }
	for _, step := range [...]float64{300, 60, 30} {
		if all(step, dial) && (step < 300 || len(s.spots) > least) {
			minute = step
			break
		}
	}
	if all(1, func(p spot) float64 { return float64(p.Hands.Second.Value) }) {
		second = 1
	}
	return minute, second
}
