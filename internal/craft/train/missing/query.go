package missing

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is the trains of a movement with ? for what is missing, and what
// survives of the rest.
type Query struct {
	Train train.Query `json:"train"` // with its speeds; the arbor of one turn an hour may be "none"

	GoingRuns   meas.Reading[unit.Duration] `json:"going_runs"`             // from one winding to the next, with the turns of the barrel
	StrikeRuns  meas.Reading[unit.Duration] `json:"strike_runs"`            // the same of the strike
	SecondsHand string                      `json:"seconds_hand,omitempty"` // arbor of one turn a minute
	BlowArbor   string                      `json:"blow_arbor,omitempty"`   // of the strike, that turns once a blow
	Makes       Makes                       `json:"makes"`                  // what else is known of the turns of arbors

	// A slow dial: the moon, the week, the month or the year.
	Slow       train.Chain                 `json:"slow_dial"`             // from the dial's wheel, wheel driven/pinion driving
	SlowTurn   meas.Reading[unit.Duration] `json:"slow_turn"`             // one turn of the arbor it begins from; 12 h where not stated
	SlowShows  string                      `json:"slow_shows,omitempty"`  // what goes round once: "moon", "two-moons", "week", "month", "year"
	SlowWithin meas.Reading[unit.Duration] `json:"slow_within,omitempty"` // doubt allowed in one period; 20 min where not stated

	Module  meas.Reading[unit.Length] `json:"module"`  // of the meshes that lack a member
	Wheels  Range                     `json:"wheels"`  // counts that a lost wheel may have
	Pinions Range                     `json:"pinions"` // counts that a lost pinion may have
	Escapes Range                     `json:"escapes"` // counts that a lost escape wheel may have
	Circles Circles                   `json:"circles"` // of the dividing plates owned
	Most    int                       `json:"most"`    // candidates of each gap; 0 is 12
}

// Range is whole numbers from low to high, as typed: "20-160", "20 to 160"
// or one number.
type Range struct {
	Low, High int
	entered   string
}

// Set tells that a range was stated.
func (r Range) Set() bool { return r.High > 0 }

// String is the range as typed, or "20–160".
func (r Range) String() string {
	switch {
	case r.entered != "":
		return r.entered
	case !r.Set():
		return ""
	}
	return fmt.Sprintf("%d–%d", r.Low, r.High)
}

var errRange = errors.New("write two whole numbers, like 20-160")

// UnmarshalText reads a range; an empty text is none.
func (r *Range) UnmarshalText(b []byte) error {
	s := strings.TrimSpace(string(b))
	*r = Range{}
	if s == "" {
		return nil
	}
	fields := strings.FieldsFunc(strings.ReplaceAll(s, "to", " "), func(c rune) bool { return strings.ContainsRune("-–− ,", c) })
	if len(fields) == 1 {
		fields = append(fields, fields[0])
	}
	if len(fields) != 2 {
		return errRange
	}
	low, err1 := strconv.Atoi(fields[0])
	high, err2 := strconv.Atoi(fields[1])
	if err1 != nil || err2 != nil || low < 1 || high < low || high > mostCount {
		return fmt.Errorf("%w; the second is not less than the first and %d at most", errRange, mostCount)
	}
	*r = Range{low, high, s}
	return nil
}

// MarshalText writes the range as typed.
func (r Range) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// mostCount is the largest count that is searched.
const mostCount = 1<<countBits - 1

// fewestLeaves is the fewest leaves that are searched: with three, action
// ends before the next leaf takes over.
const fewestLeaves = 4

// Circles is the circles of holes of dividing plates, as typed: "360 288 96".
type Circles struct {
	Holes   []int
	entered string
}

// mostCircles and mostHoles bound what is taken.
const (
	mostCircles = 200
	mostHoles   = 20_000
)

// UnmarshalText reads the numbers of holes; blanks and commas divide.
func (c *Circles) UnmarshalText(b []byte) error {
	*c = Circles{entered: strings.TrimSpace(string(b))}
	for _, f := range strings.FieldsFunc(c.entered, func(r rune) bool { return strings.ContainsRune(" ,;\n\t\r", r) }) {
		n, err := strconv.Atoi(f)
		if err != nil || n < 2 || n > mostHoles || len(c.Holes) >= mostCircles {
			return fmt.Errorf("“%.24s” is not a number of holes; write them like 360 288 144 96", f)
		}
		c.Holes = append(c.Holes, n)
	}
	return nil
}

// MarshalText writes the text as typed.
func (c Circles) MarshalText() ([]byte, error) { return []byte(c.entered), nil }

// Of is the circle with the fewest holes that divides a wheel of n teeth; 0
// where none does.
func (c Circles) Of(n int) int {
	best := 0
	for _, h := range c.Holes {
		if h%n == 0 && (best == 0 || h < best) {
			best = h
		}
	}
	return best
}

// noHourArbor is the word for a movement in which nothing turns once an hour.
const noHourArbor = "none"

// trains is the query of the trains alone.
func (q Query) trains() train.Query {
	t := q.Train
	if q.noHour() {
		t.HourArbor = ""
	}
	return t
}

// alone tells that motion work or a slow dial is asked about without a train.
func (q Query) alone() bool {
	for _, t := range q.Train.Trains {
		if len(t.Rows()) > 0 || t.Chain.Err() != nil || !t.Chain.Empty() {
			return false
		}
	}
	return len(q.Train.Motion.Arbors()) > 0 || len(q.Slow.Arbors()) > 0
}

func (q Query) noHour() bool {
	return strings.EqualFold(strings.TrimSpace(q.Train.HourArbor), noHourArbor)
}

// of is the train of that name, nil where it was not entered.
func (q Query) of(name string) *train.Train {
	for i := range q.Train.Trains {
		t := &q.Train.Trains[i]
		n := strings.ToLower(strings.TrimSpace(t.Name))
		if n == "" {
			n = train.Going
		}
		if n == name && len(t.Rows()) > 0 {
			return t
		}
	}
	return nil
}

// Check returns every mistake in the query, those of the trains among them.
func (q Query) Check() meas.Faults {
	f := q.trains().Check()
	if q.alone() {
		f = slices.DeleteFunc(f, func(x meas.Fault) bool { return x.Field == train.Going })
	}
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	q.checkRuns(add)
	q.checkArbors(add)
	if q.Pinions.Set() && q.Pinions.Low < fewestLeaves {
		add("pinions", "A pinion of %d leaves cannot drive evenly, and no printed train has one of fewer than 5; begin at %d or more", q.Pinions.Low, fewestLeaves)
	}
	if q.Module.Set && (!(q.Module.Value > 0) || q.Module.Value.MM() > 20) {
		add("module", "A module of %s cannot be; that of a clock is 0.2 to 3 mm", q.Module)
	}
	if q.Most < 0 || q.Most > mostCandidates {
		add("most", "Between 1 and %d candidates can be shown", mostCandidates)
	}
	q.checkSlow(add)
	if len(f) == 0 && !q.lacks() {
		add(train.Going, "Nothing is missing: write ? for a count that is not known, like 96/8 60/8 ?/7 30")
	}
	return f
}

// mostCandidates bounds the list of a gap.
const mostCandidates = 500

type addFault = func(field, format string, a ...any)

func (q Query) checkRuns(add addFault) {
	for _, r := range []struct {
		name string
		runs meas.Reading[unit.Duration]
	}{{train.Going, q.GoingRuns}, {train.Strike, q.StrikeRuns}} {
		if !r.runs.Set {
			continue
		}
		if !(r.runs.Value > 0) {
			add(r.name+"-runs", "The time of running must be more than nought")
		}
		if t := q.of(r.name); t == nil || !t.BarrelTurns.Set {
			add(r.name+"-barrel-turns", "Enter the turns of the barrel of the %s train; without them the time of running says nothing of the wheels", r.name)
		}
	}
}

func (q Query) checkArbors(add addFault) {
	for _, a := range []struct{ field, name, arbor string }{{"seconds-hand", train.Going, q.SecondsHand}, {"blow-arbor", train.Strike, q.BlowArbor}} {
		if a.arbor == "" {
			continue
		}
		if t := q.of(a.name); t == nil || t.Find(a.arbor) < 0 {
			add(a.field, "“%.24s” is not an arbor of the %s train; write its number from the barrel, or its name", a.arbor, a.name)
		}
	}
	for _, m := range q.Makes.lines {
		t := q.of(m.train)
		if t == nil {
			add("makes", "There is no %s train", m.train)
			continue
		}
		for _, a := range []string{m.from, m.to} {
			if t.Find(a) < 0 {
				add("makes", "“%.24s” is not an arbor of the %s train; write its number from the barrel, or its name", a, m.train)
			}
		}
	}
}

func (q Query) checkSlow(add addFault) {
	rows := q.Slow.Arbors()
	if err := q.Slow.Err(); err != nil {
		add("slow-dial", "%s", err.Error())
	}
	if len(rows) > 0 && (len(rows) < 2 || rows[len(rows)-1].Wheel.Status != train.None) {
		add("slow-dial", "The wheels of a slow dial must be pairs of the wheel driven and the pinion that drives it, like 113/75 84/10")
	}
	if len(rows) > 0 && q.SlowShows == "" {
		add("slow-shows", "Say what the slow dial shows")
	}
	if q.SlowShows != "" && len(rows) == 0 && q.Slow.Err() == nil {
		add("slow-dial", "Enter the wheels of the slow dial, with ? for what is missing, like ?/75 84/10")
	}
	if q.SlowTurn.Set && !(q.SlowTurn.Value > 0) || q.SlowWithin.Set && !(q.SlowWithin.Value > 0) {
		add("slow-turn", "The times of the slow dial must be more than nought")
	}
}

// lacks tells whether a count is missing anywhere.
func (q Query) lacks() bool {
	chains := [][]train.Arbor{q.Train.Motion.Arbors(), q.Slow.Arbors()}
	for _, t := range q.Train.Trains {
		chains = append(chains, t.Rows(), t.Report.Arbors())
	}
	for _, rows := range chains {
		for _, a := range rows {
			if a.Wheel.Status == train.Missing || a.Pinion.Status == train.Missing {
				return true
			}
		}
	}
	return false
}
