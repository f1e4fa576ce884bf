package home

import (
	"fmt"
	"math"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

const (
	k95       = 1.959963984540054
	worth     = 0.1 // of chance, by which a touch must better it
	sure      = 0.9 // chance of being right at which it is left as it is
	sixteenth = 1.0 / 16
)

// numbers is the query with the change by gravity, in SI; NaN where nothing
// was stated.
type numbers struct {
	gravity              float64 // change of rate by it
	warm, toWarm, kelvin float64
	rate, want           float64
	turn, gram, made     float64 // made: turns as they can be made
}

// Solve reckons the change and the advice. The error is a meas.Faults with
// every mistake.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if f := q.Check(); len(f) > 0 {
		return a, f
	}
	p, err := pendulum.Solve(q.pendulum())
	if err != nil {
		return a, err
	}
	b := &bench{q: q}
	b.lay(&a, p)
	b.change(&a)
	b.advise(&a)
	b.days(&a)
	a.Setting = settingUp()
	b.cautions()
	a.Working, a.Findings = b.Steps, b.ByLevel()
	a.Complete = a.Gain.Set
	return a, nil
}

// bench is one calculation under way.
type bench struct {
	meas.Bench[numbers]
	q Query
}

// lay reads the query, with the gravities of the pendulum's sums.
func (b *bench) lay(a *Answer, p pendulum.Answer) {
	n := math.NaN()
	b.N = numbers{gravity: n, warm: n, toWarm: n, kelvin: n, rate: n, turn: n, gram: n, made: n}
	if p.Place.Rate.Set && (b.q.ToLatitude.Set || b.q.ToGravity.Set) {
		a.Here, a.There, a.ByGravity = p.Gravity, p.Place.Gravity, p.Place.Rate
		b.Set("gravity of the two places", float64(a.ByGravity.Value), float64(a.ByGravity.U), func(n *numbers) *float64 { return &n.gravity })
		for _, s := range p.Working {
			if s.Name == "Gravity" || s.Name == "Gravity of the place" || s.Name == "Rate at the other place" {
				b.Steps = append(b.Steps, s)
			}
		}
		for _, f := range p.Findings {
			if f.Code == "gravity-and-place" {
				b.Findings = append(b.Findings, f)
			}
		}
	}
	meas.Take(&b.Bench, "warmth here", b.q.Warmth, func(n *numbers) *float64 { return &n.warm })
	meas.Take(&b.Bench, "warmth there", b.q.ToWarmth, func(n *numbers) *float64 { return &n.toWarm })
	meas.Take(&b.Bench, "rate for a degree", b.q.PerKelvin, func(n *numbers) *float64 { return &n.kelvin })
	if r := p.Warmth.PerKelvin; r.Set && !b.q.PerKelvin.Set {
		b.Set("rod", float64(r.Value), float64(r.U), func(n *numbers) *float64 { return &n.kelvin })
	}
	meas.Take(&b.Bench, "rate here", b.q.Rate, func(n *numbers) *float64 { return &n.rate })
	b.N.want = float64(b.q.Want.Value)
	meas.Take(&b.Bench, "one turn of the nut", b.q.PerTurn, func(n *numbers) *float64 { return &n.turn })
	meas.Take(&b.Bench, "one gram", b.q.PerGram, func(n *numbers) *float64 { return &n.gram })
}

func known(x float64) bool { return !math.IsNaN(x) }

func (n numbers) warmth() float64 { return n.kelvin * (n.toWarm - n.warm) }

// gain is the change by all that is known; NaN where nothing is.
func (n numbers) gain() float64 {
	switch g, w := n.gravity, n.warmth(); {
	case !known(w):
		return g
	case !known(g):
		return w
	default:
		return g + w
	}
}

func (b *bench) change(a *Answer) {
	a.ByWarmth = meas.Find[unit.Rate](&b.Bench, numbers.warmth)
	a.Gain = meas.Find[unit.Rate](&b.Bench, numbers.gain)
	a.Expect = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.rate + n.gain() })
	a.Aim = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.want - n.gain() })
	ours := cite.Ref{Grade: cite.Exact}
	if a.ByWarmth.Set {
		kelvin := unit.Text(unit.Rate(b.N.kelvin), "s/d", 2)
		ref := cite.Ref{Source: "beckett", Place: "p. 52"}
		if b.q.PerKelvin.Set {
			ref = cite.Ref{Grade: cite.Measured, Note: "the rate for a degree, as stated"}
		}
		b.Step("Change by warmth", "r = c (t₂ − t₁)", fmt.Sprintf("%s · (%s − %s)", kelvin, b.q.ToWarmth.Written("°C"), b.q.Warmth.Written("°C")), a.ByWarmth.Text("s/d", 2), ref)
	}
	if a.ByWarmth.Set && a.ByGravity.Set {
		b.Step("Change in all", "r = by gravity + by warmth", "("+a.ByGravity.Text("s/d", 2)+") + ("+a.ByWarmth.Text("s/d", 2)+")", a.Gain.Text("s/d", 2), ours)
	}
	if a.Expect.Set {
		b.Step("Rate there, untouched", "rate here + change", "("+b.q.Rate.Written("s/d")+") + ("+a.Gain.Text("s/d", 2)+")", a.Expect.Text("s/d", 2), ours)
	}
	if a.Aim.Set {
		b.Step("Rate to aim at here", "rate wanted there − change", unit.Text(unit.Rate(b.N.want), "s/d", 1)+" − ("+a.Gain.Text("s/d", 2)+")", a.Aim.Text("s/d", 2), ours)
	}
	b.sayWanting(a)
}

// sayWanting says what the change does not have in it.
func (b *bench) sayWanting(a *Answer) {
	if !a.ByGravity.Set {
		b.Say(meas.Doubt, "no-gravity", "The change of gravity is not in this: a degree of latitude is up to 4 s a day, and 100 m of height 1.4 s a day.", "Enter latitude and height of both places.", cite.Ref{Source: "nga8350", Grade: cite.Computed}, "to-latitude")
	} else if a.ByGravity.HasU && a.ByGravity.U.PerDay() > 3 {
		b.Say(meas.Note, "gravity-of-place", fmt.Sprintf("Places alone tell the change of gravity to ±%s s a day; of two places near each other it is less.", unit.Number(a.ByGravity.U.PerDay(), 0)), "Plan a touch there after the first days.", cite.Ref{Source: "places", Grade: cite.Computed}, "to-gravity")
	}
	if !a.ByWarmth.Set {
		b.Say(meas.Doubt, "no-warmth", "The change of warmth is not in this: a steel rod loses half a second a day for each degree, a wooden one a fifth.", "Enter the warmth of both rooms, and the rod or the rate for a degree.", cite.Ref{Source: "beckett", Place: "p. 53", Grade: cite.Computed}, "to-temperature")
	}
}

// within is the chance that a rate, as it is known, is right.
func (b *bench) within(r meas.Result[unit.Rate]) float64 {
	band := b.band()
	want := b.N.want
	if !(r.U > 0) {
		if math.Abs(float64(r.Value)-want) <= band {
			return 1
		}
		return 0
	}
	z := func(x float64) float64 { return 0.5 * math.Erfc(-(x-float64(r.Value))/float64(r.U)/math.Sqrt2) }
	return z(want+band) - z(want-band)
}

func (b *bench) band() float64 {
	if b.q.Band.Set {
		return float64(b.q.Band.Value)
	}
	return float64(unit.RatePerDay(2))
}

// advise says what to do before it leaves.
func (b *bench) advise(a *Answer) {
	a.Do = Unknown
	switch {
	case !a.Gain.Set:
		a.Words = "What going there does is not known yet: enter latitude and height, or the warmth, of both places."
		return
	case !a.Expect.Set:
		a.Words = fmt.Sprintf("By going there it will %s. Let it %s here, and it is to be right there.", moves(a.Gain), moves(a.Aim))
		return
	}
	a.AsIs = b.within(a.Expect)
	a.After, a.Right = a.Expect, a.AsIs
	off := float64(a.Aim.Value) - b.N.rate // to be gained here
	surely := math.Abs(off) > k95*float64(a.Expect.U)
	b.touch(a, off)
	if !surely || a.Right < a.AsIs+worth || a.Do == Unknown {
		b.leave(a, surely)
		return
	}
	a.Words += fmt.Sprintf(" Here it is then to %s, and there it is to be right", moves(a.Aim))
	if a.After.U > 0 {
		a.Words += ", within " + unit.Number(k95*a.After.U.PerDay(), 0) + "\u00a0s a day"
	}
	a.Words += "."
}

// touch is how the rate is brought to the aim: the nut where a turn of it is
// known, else the tray.
func (b *bench) touch(a *Answer, off float64) {
	if known(b.N.gram) {
		a.Mass = meas.Find[unit.Mass](&b.Bench, func(n numbers) float64 { return (n.want - n.gain() - n.rate) / n.gram / 1000 })
	}
	switch {
	case known(b.N.turn):
		step := sixteenth
		if b.q.Divisions > 0 {
			step = 1 / float64(b.q.Divisions)
		}
		b.N.made = math.Round(off/b.N.turn/step) * step
		if b.N.made == 0 {
			return
		}
		a.Do, a.Turns = Turn, meas.Exactly(unit.Ratio(b.N.made))
		if b.q.Divisions > 0 {
			a.Divisions = math.Round(b.N.made * float64(b.q.Divisions))
		}
		a.After = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.rate + n.gain() + n.made*n.turn })
		b.Step("Turns of the nut", "n = (aim − rate here) / one turn", fmt.Sprintf("((%s) − (%s)) / (%s)", a.Aim.Text("s/d", 2), b.q.Rate.Written("s/d"), b.q.PerTurn.Written("s/d")), unit.Number(b.N.made, 3)+" turns, as it can be made", cite.Ref{Grade: cite.Exact})
		a.Words = turnWords(b.N.made, a.Divisions, b.q.Divisions)
	case a.Mass.Set && a.Mass.Value != 0:
		a.Do = Weigh
		a.After = meas.Find[unit.Rate](&b.Bench, func(n numbers) float64 { return n.rate + n.gain() + float64(a.Mass.Value)*1000*n.gram })
		a.Words = massWords(a.Mass.Value)
	}
	a.Right = b.within(a.After)
}

// leave says why it goes as it is.
func (b *bench) leave(a *Answer, surely bool) {
	why := fmt.Sprintf("it is to %s there", moves(a.Expect))
	then := " Touch it there, after the first days."
	switch {
	case a.Do == Unknown && surely && !known(b.N.turn) && !known(b.N.gram):
		a.Words = fmt.Sprintf("Before it leaves, bring it to %s here; what a turn of the nut is worth is not known.", moves(a.Aim))
		return
	case a.AsIs >= sure && a.ByGravity.Set && a.ByWarmth.Set:
		why, then = why+", and that is right", ""
	case a.AsIs >= sure:
		why += ", and that is right by what is known of it"
	case surely:
		why += ", and no touch here makes it surer"
	default:
		why += ", and whether that is off is not sure"
	}
	a.Do, a.Turns, a.Divisions, a.Mass = Leave, meas.Result[unit.Ratio]{}, 0, meas.Result[unit.Mass]{}
	a.After, a.Right = a.Expect, a.AsIs
	a.Words = "Let it go as it is: " + why + "." + then
}

// days is what it is to be wrong by there, set right on the day to the second.
func (b *bench) days(a *Answer) {
	if !a.After.Set || !a.After.HasU {
		return
	}
	for _, d := range []float64{1, 2, 7} {
		s := d * 86400
		u := math.Hypot(float64(a.After.U)*s, handSet.V)
		a.Days = append(a.Days, Day{d, meas.Around(unit.Duration(float64(a.After.Value)*s), unit.Duration(u), k95)})
	}
}

// handSet is how well hands are set to the second, in seconds.
var handSet = cite.Value[float64]{V: 0.5, Ref: cite.Ref{Grade: cite.CommonPractice}}
