package train

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Names of trains that mean something to the sums: Going has the escapement,
// Strike and Quarter are reckoned in turns of their great wheel.
const (
	Going   = "going"
	Strike  = "strike"
	Quarter = "quarter"
)

// Train is one train of a movement. The counts come from Chain or, where it
// is empty, from Arbors (a grid). Where both stand, Chain has the counts and
// Arbors the names and sizes, row by row; Sizes adds to either.
type Train struct {
	Name        string                   `json:"name"` // "going", "strike", "quarter", or any other
	Chain       Chain                    `json:"chain"`
	Arbors      []Arbor                  `json:"arbors,omitempty"`
	Sizes       Sizes                    `json:"sizes"`
	BarrelTurns meas.Reading[unit.Ratio] `json:"barrel_turns"` // of the barrel or fusee for one winding; the first arbor

	// The strike only.
	Pins        int      `json:"pins,omitempty"`          // that lift the hammer, in one turn of the arbor that has them
	PinArbor    string   `json:"pin_arbor,omitempty"`     // "" is the first arbor for 10 pins and more, else the second
	Report      Chain    `json:"report"`                  // from the pin arbor to the count wheel: "48/8"
	BlowsPer12h int      `json:"blows_per_12h,omitempty"` // 0 is 78; 90 with a blow at each half hour
	Counts      Counting `json:"counts,omitempty"`        // what counts the blows; "" where not stated
}

// Counting is what counts the blows of a strike.
type Counting string

// The ways to count them.
const (
	ByRack       Counting = "rack" // and snail: as many as the hour hand shows
	ByCountWheel Counting = "count-wheel"
)

// Query is the trains of one movement and what is known of their speed.
type Query struct {
	Trains []Train `json:"trains"`

	HourArbor string                          `json:"hour_arbor,omitempty"`      // of the going train: number from the barrel, or name; "" to be found
	ArborTurn meas.Reading[unit.Duration]     `json:"arbor_turn"`                // one turn of it; 1 h where not stated
	Beats     Exact                           `json:"beats_per_hour"`            // stated beats an hour
	Pendulum  meas.Reading[unit.Length]       `json:"pendulum"`                  // to the centre of swing
	Gravity   meas.Reading[unit.Acceleration] `json:"gravity"`                   // where the pendulum swings; standard gravity where not stated
	PerTooth  int                             `json:"beats_per_tooth,omitempty"` // 0 is 2
	PerTurn   Exact                           `json:"beats_per_turn"`            // of the last arbor, instead of teeth: 6 for a double three-legged gravity escapement

	Motion      Chain  `json:"motion"`                 // to the hour hand, wheel/pinion: "36/12 40/10"
	MotionArbor string `json:"motion_arbor,omitempty"` // that carries it; "" is the hour arbor
	DialHours   int    `json:"dial_hours,omitempty"`   // hours in one turn of the hour hand: 0 is 12
}

// Parse is a query of one going train as text.
func Parse(going string) (Query, error) {
	c, err := ParseChain(going)
	return Query{Trains: []Train{{Name: Going, Chain: c}}}, err
}

// empty tells that nothing was entered for the train.
func (t Train) empty() bool { return t.Chain.Empty() && len(t.Arbors) == 0 }

// Going is the going train, nil where there is none.
func (q *Query) going() *Train {
	for i := range q.Trains {
		if q.Trains[i].isGoing() && !q.Trains[i].empty() {
			return &q.Trains[i]
		}
	}
	return nil
}

func (t Train) isGoing() bool { return t.field() == Going }

// field is the form's name of the train.
func (t Train) field() string {
	if n := strings.ToLower(strings.TrimSpace(t.Name)); n != "" {
		return n
	}
	return Going
}

// Check returns every mistake in the query. Fields are "going",
// "going-arbors.2.wheel", "going-sizes", "hour-arbor" and so on: the JSON
// name with a stroke for each underscore.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	some, seen := false, map[string]bool{}
	for _, t := range q.Trains {
		f = append(f, t.check()...)
		if t.empty() {
			continue
		}
		some = true
		if seen[t.field()] {
			add(t.field(), "There are two trains named %s; name one of them otherwise", quote(t.field()))
		}
		seen[t.field()] = true
	}
	if !some && len(f) == 0 {
		add(Going, "Enter the counts of the going train, like 96/8 60/8 56/7 30")
	}
	q.checkSpeed(add)
	q.checkMotion(add)
	return f
}

type addFault = func(field, format string, a ...any)

func (q Query) checkSpeed(add addFault) {
	going := q.going()
	if q.HourArbor != "" && going != nil && going.Chain.Err() == nil && findArbor(going.Rows(), q.HourArbor) < 0 {
		add("hour-arbor", "%s is not an arbor of the going train; write its number from the barrel, 1 to %d, or its name", quote(q.HourArbor), len(going.Rows()))
	}
	if q.ArborTurn.Set && q.HourArbor == "" {
		add("hour-arbor", "Say which arbor turns once in %s", q.ArborTurn)
	}
	positive(add, "arbor-turn", "one turn of the arbor", q.ArborTurn)
	positive(add, "pendulum", "length of the pendulum", q.Pendulum)
	positive(add, "gravity", "gravity", q.Gravity)
	if q.PerTooth < 0 || q.PerTooth > 100 {
		add("beats-per-tooth", "%d beats for one tooth cannot be; most escapements make 2", q.PerTooth)
	}
	for _, e := range []struct {
		field string
		e     Exact
	}{{"beats-per-hour", q.Beats}, {"beats-per-turn", q.PerTurn}} {
		if e.e.Known() && (e.e.r.Sign() <= 0 || e.e.Float() > 1e6) {
			add(e.field, "%s beats cannot be; write a number like 3600", e.e)
		}
	}
}

func (q Query) checkMotion(add addFault) {
	if err := q.Motion.Err(); err != nil {
		add("motion", "%s", err.Error())
	}
	if m := q.Motion.arbors; len(m) > 0 && (len(m) < 2 || m[len(m)-1].Wheel.Status != None) {
		add("motion", "The motion work must be pairs of the wheel driven and the pinion that drives it, like 36/12 40/10")
	}
	going := q.going()
	switch {
	case q.MotionArbor == "":
	case going == nil:
		add("motion-arbor", "There is no going train that carries the motion work")
	case going.Chain.Err() == nil && findArbor(going.Rows(), q.MotionArbor) < 0:
		add("motion-arbor", "%s is not an arbor of the going train; write its number from the barrel, 1 to %d, or its name", quote(q.MotionArbor), len(going.Rows()))
	}
	if q.DialHours != 0 && (q.DialHours < 1 || q.DialHours > 24) {
		add("dial-hours", "The hour hand goes round in 12 or 24 hours; %d cannot be", q.DialHours)
	}
}

// positive refuses a quantity that is not above nought.
func positive[Q unit.Quantity](add addFault, field, what string, r meas.Reading[Q]) {
	if r.Set && !(r.Value > 0) {
		add(field, "The %s must be more than nought; %s was entered", what, quote(r.String()))
	}
}

func (t Train) check() meas.Faults {
	var f meas.Faults
	name := t.field()
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	for _, e := range t.Chain.errs {
		add(name, "%s", e.Text)
	}
	for _, e := range t.Sizes.errs {
		add(name+"-sizes", "%s", e.Text)
	}
	positive(add, name+"-barrel-turns", "turns of the barrel", t.BarrelTurns)
	if t.BarrelTurns.Set && t.BarrelTurns.Value > 1000 {
		add(name+"-barrel-turns", "A barrel does not make %s turns in one winding", t.BarrelTurns)
	}
	if t.Chain.Err() != nil {
		return f
	}
	if t.empty() {
		if t.BarrelTurns.Set || t.Sizes.entered != "" {
			add(name, "Enter the counts of the %s train, like 96/8 60/8 56/7 30", name)
		}
		return f
	}
	t.checkRows(add)
	t.checkStrike(add)
	return f
}

// checkRows looks at the arbors: what a text cannot get wrong a grid can.
func (t Train) checkRows(add addFault) {
	rows, name := t.Rows(), t.field()
	field := func(i int, column string) string {
		if len(t.Chain.arbors) > 0 {
			return name
		}
		return fmt.Sprintf("%s-arbors.%d.%s", name, i+1, column)
	}
	if len(rows) < 2 {
		add(name, "One wheel is not yet a train; write each wheel and the pinion that it drives, like 96/8 60/8 56/7 30")
	}
	if len(rows) > mostArbors+1 {
		add(name, "There are %d arbors; a train has at most %d", len(rows), mostArbors+1)
		return
	}
	t.checkTwice(add)
	for i, a := range rows {
		for _, c := range []struct {
			part  string
			count Count
		}{{"pinion", a.Pinion}, {"wheel", a.Wheel}} {
			if c.count.Known() && (c.count.Teeth < 1 || c.count.Teeth > MostTeeth) {
				add(field(i, c.part), "Arbor %d: a %s of %d teeth cannot be; write 1 to %d", i+1, c.part, c.count.Teeth, MostTeeth)
			}
		}
		if i > 0 && a.Pinion.Status == None {
			add(field(i, "pinion"), "Arbor %d has no pinion, so nothing drives it; write its leaves, or ? where they are not known", i+1)
		}
		if i < len(rows)-1 && a.Wheel.Status == None {
			add(field(i, "wheel"), "Arbor %d has no wheel, so it drives nothing; write its teeth, or ? where they are not known", i+1)
		}
		if i == 0 && a.Pinion.Status != None {
			add(field(i, "pinion"), "The first arbor is that of the barrel or great wheel and has no pinion that counts here; leave it empty")
		}
		t.checkSizes(add, i, a)
	}
	for _, l := range t.Sizes.lines {
		if findArbor(rows, l.arbor) < 0 {
			add(name+"-sizes", "%s is not an arbor of the train; write its number from the barrel, 1 to %d, or its name", quote(l.arbor), len(rows))
		}
	}
}

// checkTwice compares counts given both as text and in the grid.
func (t Train) checkTwice(add addFault) {
	chain := t.Chain.arbors
	if len(chain) == 0 {
		return
	}
	for i, a := range t.Arbors {
		if i >= len(chain) {
			add(t.field(), "The text has %d arbors and the table %d; make them agree or leave one of them empty", len(chain), len(t.Arbors))
			return
		}
		if (a.Wheel.Status != None && a.Wheel != chain[i].Wheel) || (a.Pinion.Status != None && a.Pinion != chain[i].Pinion) {
			add(t.field(), "The counts of arbor %d in the text and in the table differ; make them agree or leave one of them empty", i+1)
		}
	}
}

func (t Train) checkSizes(add addFault, i int, a Arbor) {
	for _, s := range []struct {
		what string
		r    meas.Reading[unit.Length]
	}{{"diameter of the pinion", a.PinionDiameter}, {"diameter of the wheel", a.WheelDiameter}, {"depth", a.Depth}} {
		if s.r.Set && (!(s.r.Value > 0) || s.r.Value > 10) {
			add(t.field()+"-sizes", "Arbor %d: the %s cannot be %s", i+1, s.what, s.r)
		}
	}
}

func (t Train) checkStrike(add addFault) {
	name := t.field()
	if err := t.Report.Err(); err != nil {
		add(name+"-report", "%s", err.Error())
	}
	if m := t.Report.arbors; len(m) > 0 && (len(m) < 2 || m[len(m)-1].Wheel.Status != None) {
		add(name+"-report", "The wheels to the count wheel must be pairs of the wheel driven and the pinion that drives it, like 48/8")
	}
	if t.Pins < 0 || t.Pins > 400 {
		add(name+"-pins", "%d pins cannot be; write how many lift the hammer in one turn", t.Pins)
	}
	if t.PinArbor != "" && findArbor(t.Rows(), t.PinArbor) < 0 {
		add(name+"-pin-arbor", "%s is not an arbor of the %s train; write its number from the barrel, 1 to %d", quote(t.PinArbor), name, len(t.Rows()))
	}
	if t.Counts != "" && t.Counts != ByRack && t.Counts != ByCountWheel {
		add(name+"-counts", "A strike counts by a rack or by a count wheel: write rack or count-wheel")
	}
	if t.Counts == ByRack && !t.Report.Empty() {
		add(name+"-report", "A strike that counts by a rack has no count wheel: leave its wheels out, or write count-wheel")
	}
	if t.BlowsPer12h < 0 || t.BlowsPer12h > 2000 {
		add(name+"-blows", "%d blows in 12 hours cannot be; the hours alone are 78, with the half hours 90", t.BlowsPer12h)
	}
}
