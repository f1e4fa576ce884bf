package regulate

import (
	"fmt"
	"math"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

const (
	sure     = 0.9  // chance of being right at which a clock is left alone
	worth    = 0.1  // by which a touch must better that chance
	much     = 0.6  // or to what part it must bring what the rate is off by
	settled  = 8    // readings from which on it can be said that more will not help
	easier   = 0.85 // part of a doubt that it must come down to for a reading to tell something
	k95      = 1.959963984540054
	horizon  = 28.0 // days, the farthest that is looked ahead
	quarter  = 0.25
	soonest  = 1.0 / 24
	fraction = 16 // of a turn, where the nut has no divisions
)

// band is what counts as right, each way, s/day.
func (w Wanted) band() float64 {
	if w.Band <= 0 {
		return 2
	}
	return w.Band.PerDay()
}

func (w Wanted) days() float64 {
	if w.Days <= 0 {
		return 7
	}
	return w.Days
}

// aim is the rate that the clock shall have here, s/day.
func (w Wanted) aim() float64 {
	if w.Move.Set {
		return (w.Rate - w.Move.Value).PerDay()
	}
	return w.Rate.PerDay()
}

// advise says what to do, and where the clock is set for its home why that is
// not what is right here.
func (f *fitted) advise(open []Question) Advice {
	a := f.plan(open)
	if f.line.q.Wanted.Move.Set {
		f.atHome(&a)
	}
	return a
}

// plan says what to do. Rates are those here; where the move is in what is
// wanted, its doubt is in every chance.
func (f *fitted) plan(open []Question) Advice {
	q := f.line.q
	aim, band, span, moved := q.Wanted.aim(), q.Wanted.band(), q.Wanted.days(), q.Wanted.moved()
	week := f.week(span, 0, 0)
	mean, _, _, u := week.limits()
	there := week.wider(moved)
	_, low, high, _ := there.limits()
	a := Advice{AsIs: there.within(aim-band, aim+band), Learn: f.learn()}
	turns, after := f.turnTo(aim, mean, span)
	turned := after.wider(moved)
	a.After, a.Right = after.rate(), turned.within(aim-band, aim+band)
	told := low > aim || high < aim // it is surely to one side
	gain := a.Right > a.AsIs+worth || turned.off(aim) < much*there.off(aim)
	best := there.within(mean-band, mean+band) // if a turn did just what it shall
	switch {
	case unsettled(open):
		a.Do, a.After, a.Right = Settle, week.rate(), a.AsIs
		a.Words = "Answer the questions first: what to do hangs on them."
		a.Next = f.line.q.Now
		return a
	case a.AsIs >= sure:
		a.Do, a.After, a.Right = Leave, week.rate(), a.AsIs
		a.Words = fmt.Sprintf("Leave it. It is right: %s in the next %.0f days, within %s each way%s.", meas.WithU(unit.RatePerDay(mean), unit.RatePerDay(u), "s/d"), span, unit.Number(band, 1)+" s/d", q.Wanted.ofAim())
		a.Next = f.when(func(h float64) bool { return f.errorIn(h).spread() > quarter*band*span }, span)
		return a
	case told && turns != 0 && (gain || f.worthATry(a.AsIs, best)) && f.ripe(turns, band):
		if gain {
			f.turnWords(&a, turns)
		} else {
			f.tryWords(&a, turns)
		}
		a.Next = f.told(func(h float64) float64 { return f.doubtAfter(h, turns) }, math.Max(band, quarter*math.Abs(mean-aim))/k95, horizon)
		a.Words += " " + until(a.Next, q.Now)
		return a
	case moved > 0 && f.ripe(0, band) && moved > f.doubtNow():
		a.Do, a.After, a.Right = Leave, week.rate(), a.AsIs
		a.Words = fmt.Sprintf("Leave it. Here it goes at %s, and what going home will do is not known well enough for a turn now: touch it there, after the first days.", meas.WithU(unit.RatePerDay(mean), unit.RatePerDay(u), "s/d"))
		a.Next = q.Now.Add(time.Duration(span * 24 * float64(time.Hour)))
		return a
	case !gain && f.ripe(0, band):
		a.Do, a.After, a.Right = Leave, week.rate(), a.AsIs
		a.Words = "Leave it. A turn of the nut would not make it surer: " + f.tooCoarse(best, a.AsIs) + "."
		a.Next = q.Now.Add(time.Duration(span * 24 * float64(time.Hour)))
		return a
	}
	a.After, a.Right = week.rate(), a.AsIs
	if f.line.seen() >= settled && f.stuck() {
		a.Do = Leave
		a.Words = fmt.Sprintf("Leave it. The rate is %s, and readings like these will not tell it better: %s.", meas.WithU(unit.RatePerDay(mean), unit.RatePerDay(u), "s/d"), f.unknowable())
		a.Next = q.Now.Add(time.Duration(span * 24 * float64(time.Hour)))
		return a
	}
	a.Do = Wait
	a.Next = f.told(f.doubtIn, easier*f.doubtNow(), span)
	a.Words = fmt.Sprintf("Wait. The rate is %s, and that does not tell yet whether to turn, or how far. %s", meas.WithU(unit.RatePerDay(mean), unit.RatePerDay(u), "s/d"), until(a.Next, q.Now))
	return a
}

// unknowable says why more readings of the kind tell no more.
func (f *fitted) unknowable() string {
	c, _ := f.here()
	if f.pace().common > c.ss/2 {
		recorder := 0.0
		if j := f.line.recorder; j >= 0 {
			push := make([]float64, len(f.line.columns))
			push[j] = 1
			recorder = square(f.of(asked{push: push}).spread())
		}
		if recorder > c.ss/2 {
			return "the clock of the recorder is in doubt by as much; hold it against a time that is kept right, or read the hands"
		}
		return "it is listened to by day alone, and may go otherwise by night; read the hands"
	}
	return "what is left is the clock’s own unsteadiness"
}

// ripe tells whether waiting before a turn would gain little: the doubt of the
// rate is within the band, or less than what the turn itself will bring in, or
// another reading in so many days will not lessen it, for the clock itself is
// not steadier.
func (f *fitted) ripe(turns, band float64) bool {
	now := f.doubtNow()
	return k95*now < band || now < math.Sqrt(f.line.spoils(turns)) || f.stuck()
}

// stuck tells whether the readings to come within the days that are wanted
// will not lessen the doubt of the rate.
func (f *fitted) stuck() bool {
	now := f.doubtNow()
	for _, x := range f.learn() {
		if float64(x.After) <= 86400*f.line.q.Wanted.days() && x.U.PerDay() < easier*now {
			return false
		}
	}
	return true
}

// off is by how much a number is off what it shall be, to be expected.
func (m mixture) off(aim float64) float64 {
	s := 0.0
	for i, w := range m.weight {
		d := math.Abs(m.mean[i] - aim)
		if m.sd[i] > 0 {
			z := d / m.sd[i]
			d = d*(1-2*num.NormalCDF(-z)) + m.sd[i]*math.Sqrt(2/math.Pi)*math.Exp(-z*z/2)
		}
		s += w * d
	}
	return s
}

// unsettled tells whether what to do hangs on open questions: something not
// written down has changed the clock, or the last reading is asked about.
func unsettled(open []Question) bool {
	for _, q := range open {
		if q.About == RateUnnoted || q.About == SetUnnoted {
			return true
		}
	}
	return false
}

// turnTo is the turn that brings the mean of the days to come to the aim, in
// steps that can be made.
func (f *fitted) turnTo(aim, mean, span float64) (turns float64, after mixture) {
	k, lost := f.nut()
	want := aim - mean
	back := f.line.back(want)
	turns = (want + math.Copysign(back*lost, want)) / k
	step := 1.0 / fraction
	if n := f.line.q.Known.Divisions; n > 0 {
		step = 1 / float64(n)
	}
	turns = math.Round(turns/step) * step
	return turns, f.week(span, turns, 0)
}

// nut is one turn and the lost motion by all that is known, s/day.
func (f *fitted) nut() (turn, lost float64) {
	l := f.line
	if l.nut < 0 {
		k, _ := l.turn()
		return k, k * l.lostTurns()
	}
	pick := func(j int) float64 {
		push := make([]float64, len(l.columns))
		push[j] = 1
		m, _ := f.of(asked{push: push}).moments()
		return m
	}
	return math.Max(pick(l.nut), 1e-3), math.Max(pick(l.lost), 0)
}

// turnWords says the turn, and the grams instead.
func (f *fitted) turnWords(a *Advice, turns float64) {
	a.Do = Turn
	a.Turns = meas.Interval[unit.Ratio]{Value: unit.Ratio(turns), Low: unit.Ratio(turns), High: unit.Ratio(turns), Set: true}
	way := "up"
	if turns < 0 {
		way = "down"
	}
	if n := f.line.q.Known.Divisions; n > 0 {
		a.Divisions = math.Round(turns * float64(n))
		a.Words = fmt.Sprintf("Turn the nut %s by %s of %d divisions (%s).", way, unit.Number(math.Abs(a.Divisions), 0), n, fractionOf(math.Abs(turns)))
	} else {
		a.Words = fmt.Sprintf("Turn the nut %s by %s.", way, fractionOf(math.Abs(turns)))
	}
	if l := f.line; l.back(turns) > 0 {
		a.Words += " It goes the other way than before, or the way before is not known: the lost motion is in this."
	}
	if per, _ := f.line.gram(); per > 0 {
		mean, _ := f.week(f.line.q.Wanted.days(), 0, 0).moments()
		grams := (f.line.q.Wanted.aim() - mean) / per
		a.Mass = unit.Mass(grams / 1000)
		if grams > 0 {
			a.Words += fmt.Sprintf(" Or lay %s g on the tray instead.", unit.Number(grams, 1))
		} else {
			a.Words += fmt.Sprintf(" Or take %s g off the tray instead.", unit.Number(-grams, 1))
		}
	}
}

// fractionOf names a share of a turn.
func fractionOf(turns float64) string {
	whole := math.Floor(turns)
	sixteenth := math.Round((turns - whole) * 16)
	if sixteenth == 16 {
		whole, sixteenth = whole+1, 0
	}
	names := []string{"", "1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"}
	if math.Abs(turns-whole-sixteenth/16) > 0.004 {
		return unit.Number(turns, 2) + " of a turn"
	}
	var parts []string
	if whole > 0 {
		parts = append(parts, fmt.Sprintf("%.0f", whole))
	}
	if sixteenth > 0 {
		parts = append(parts, names[int(sixteenth)])
	}
	switch {
	case len(parts) == 0:
		return "less than 1/16 of a turn"
	case whole == 0:
		return parts[0] + " of a turn"
	case whole == 1 && sixteenth == 0:
		return "one turn"
	}
	return strings.Join(parts, " ") + " turns"
}

// until says when to look again.
func until(next, now time.Time) string {
	h := next.Sub(now).Hours()
	switch {
	case h < 1.5:
		return "A reading in an hour tells something already."
	case h < 48:
		return fmt.Sprintf("A reading before %.0f hours have passed tells nothing.", math.Ceil(h))
	}
	return fmt.Sprintf("A reading before %.0f days have passed tells nothing.", math.Ceil(h/24))
}

// when is the first moment from now at which something holds, looked for in
// hours, then days; the end of so many days where it never does.
func (f *fitted) when(holds func(days float64) bool, most float64) time.Time {
	at := most
	for h := soonest; h < most; h *= 1.15 {
		if holds(h) {
			at = h
			break
		}
	}
	return f.line.q.Now.Add(time.Duration(at * 24 * float64(time.Hour)))
}

// told is the first moment from now at which a reading brings a doubt down to
// what is enough, or, where none does, nearly as far as any within so many
// days.
func (f *fitted) told(doubt func(days float64) float64, enough, most float64) time.Time {
	least := math.Inf(1)
	for h := soonest; h < most; h *= 1.5 {
		least = math.Min(least, doubt(h))
	}
	return f.when(func(h float64) bool { return doubt(h) <= math.Max(enough, 1.1*least) }, most)
}

// spread is the standard deviation.
func (m mixture) spread() float64 { _, sd := m.moments(); return sd }
