package strikework

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"

	"seatboard/internal/craft/tooth/saw"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// References of the chapter.
var (
	exact  = cite.Ref{Grade: cite.Exact, Place: "geometry of the circle"}
	derham = cite.Ref{Source: "derham", Place: "p. 34"}
	halves = cite.Ref{Source: "beckett", Place: "p. 165"}
	chosen = cite.Ref{Grade: cite.CommonPractice, Note: "proportions chosen here"}
	lathe  = cite.Ref{Source: "eis2"}
)

const fullTurn = 2 * math.Pi

// quarterTan is the bulge of an arc that turns by an angle.
func quarterTan(turn float64) float64 { return math.Tan(turn / 4) }

type numbers struct{ radius, tail, centres, pin, largest, smallest, pitch float64 }

type bench struct {
	meas.Bench[numbers]
	q Query
}

// Solve answers a query. Its error is meas.Faults.
func Solve(q Query) (Answer, error) {
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	if q.Kind == "" {
		q.Kind = RackAndSnail
	}
	b, a := &bench{q: q}, Answer{Query: q}
	if q.Kind == CountWheel {
		b.wheel(&a)
	} else {
		b.rack(&a)
	}
	if len(a.Chosen) > 0 {
		b.Say(meas.Note, "chosen", "Not measured, and chosen here: "+strings.Join(a.Chosen, ", ")+".", "Measure what is left, or a like piece of the maker.", chosen)
	}
	b.AskInches("radius", "The radius of the rack", q.Radius, unit.Millimetres(8))
	b.AskInches("tail", "The tail", q.Tail, unit.Millimetres(8))
	b.AskInches("diameter", "The diameter", q.Diameter, unit.Millimetres(10))
	b.Say(meas.Danger, "lathe", "At the lathe and the wheel engine no gloves, no loose clothing, and no emery held by hand on work that turns.", "Local law and licensed practice decide.", lathe)
	a.Working, a.Findings = b.Steps, b.ByLevel()
	return a, nil
}

// ends are the middles of the pin from the snail's centre at the first and the
// last hour.
func (n numbers) ends() (first, last float64) {
	first = n.largest + n.pin/2
	if !math.IsNaN(n.smallest) {
		return first, n.smallest + n.pin/2
	}
	if math.IsNaN(n.centres) { // square in the middle: found with the tooth alone
		return first, first - n.tail*(steps-1)*n.pitch/n.radius
	}
	return first, math.Sqrt(n.at(n.angle(first) - (steps-1)*n.pitch/n.radius))
}

// far is the distance of the centres: stated, or with the tail square to the
// snail in the middle of its fall.
func (n numbers) far() float64 {
	if !math.IsNaN(n.centres) {
		return n.centres
	}
	first, last := n.ends()
	return math.Hypot(n.tail, (first+last)/2)
}

// angle is θ where the pin is ρ from the snail's centre.
func (n numbers) angle(rho float64) float64 {
	e := n.far()
	return math.Acos((e*e + n.tail*n.tail - rho*rho) / (2 * e * n.tail))
}

// at is ρ² for an angle θ.
func (n numbers) at(theta float64) float64 {
	e := n.far()
	return e*e + n.tail*n.tail - 2*e*n.tail*math.Cos(theta)
}

// tooth is the angle from tooth to tooth of the rack.
func (n numbers) tooth() float64 {
	if !math.IsNaN(n.pitch) {
		return n.pitch / n.radius
	}
	first, last := n.ends()
	return (n.angle(first) - n.angle(last)) / (steps - 1)
}

// step is the radius of the snail at an hour from 0.
func (n numbers) step(k int) float64 {
	first, _ := n.ends()
	return math.Sqrt(n.at(n.angle(first)-float64(k)*n.tooth())) - n.pin/2
}

// rack lays out a rack and its snail.
func (b *bench) rack(a *Answer) {
	q := b.q
	for _, x := range []struct {
		name string
		r    meas.Reading[unit.Length]
		at   func(*numbers) *float64
	}{{"radius", q.Radius, func(n *numbers) *float64 { return &n.radius }}, {"tail", q.Tail, func(n *numbers) *float64 { return &n.tail }}, {"centres", q.Centres, func(n *numbers) *float64 { return &n.centres }},
		{"largest", q.Largest, func(n *numbers) *float64 { return &n.largest }}, {"smallest", q.Smallest, func(n *numbers) *float64 { return &n.smallest }}, {"pitch", q.Pitch, func(n *numbers) *float64 { return &n.pitch }}} {
		meas.Take(&b.Bench, x.name, x.r, x.at)
	}
	b.Set("pin", float64(q.Pin.Value), float64(q.Pin.U), func(n *numbers) *float64 { return &n.pin })
	if q.Smallest.Set && q.Pitch.Set {
		b.both()
		b.N.smallest = math.NaN()
	}
	n := b.N
	r := Rack{Steps: steps, Teeth: max(q.Teeth, steps), Tooth: unit.Angle(n.tooth()), Centres: unit.Length(n.far())}
	for k := range steps {
		r.Radii = append(r.Radii, unit.Length(n.step(k)))
	}
	if !falls(r.Radii) || !(r.Tooth > 0) {
		b.Say(meas.Clash, "reach", "With these lengths the tail does not come down to the twelfth step, or past the snail's centre.", "Measure tail, distance of the centres and pitch again.", exact, "tail", "centres", "pitch")
		return
	}
	r.Pitch = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.tooth() * n.radius })
	r.Fall = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return (n.step(0) - n.step(steps-1)) / (steps - 1) })
	for k := range steps {
		even := float64(r.Radii[0]) - float64(k)*float64(r.Fall.Value)
		r.Uneven = max(r.Uneven, unit.Length(math.Abs(float64(r.Radii[k])-even)))
	}
	b.Step("Angle of a tooth of the rack", "θ = acos((E² + T² − ρ²)/2ET), one step of twelve", fmt.Sprintf("E = %s, T = %s", unit.Text(r.Centres, "mm", 3), q.Tail.Written("mm")), unit.Text(r.Tooth, "°", 4), exact)
	b.Step("Fall of a step, the mean", "(ρ₁ − ρ₁₂) / 11", unit.Text(r.Radii[0], "mm", 3)+" − "+unit.Text(r.Radii[steps-1], "mm", 3), r.Fall.Text("mm", 3), exact)
	b.Step("Pitch of the rack", "Q θ", q.Radius.Written("mm")+" · "+unit.Text(r.Tooth, "°", 4), r.Pitch.Text("mm", 3), exact)
	if !q.Centres.Set {
		a.Chosen = append(a.Chosen, "distance of the centres (tail square to the snail in the middle)")
	}
	b.cutRack(a, r)
}

// falls tells whether every hour's radius is there and smaller than the one
// before.
func falls(radii []unit.Length) bool {
	for i, x := range radii {
		if !(x > 0) || i > 0 && !(x < radii[i-1]) {
			return false
		}
	}
	return true
}

// both compares a pitch with the two radii of a snail.
func (b *bench) both() {
	byPitch, bySnail := b.N, b.N
	byPitch.smallest, bySnail.pitch = math.NaN(), math.NaN()
	p, s := byPitch.tooth()*b.N.radius, bySnail.tooth()*b.N.radius
	if math.Abs(p/s-1) > 0.01 && math.Abs(p-s) > 2*float64(b.q.Pitch.U) {
		b.Say(meas.Clash, "pitch", fmt.Sprintf("A pitch of %s was measured; the two radii of the snail want %s. The pitch is used.", b.q.Pitch.Written("mm"), unit.Text(unit.Length(s), "mm", 3)),
			"Measure both again: over eleven teeth they are far apart.", exact, "pitch", "smallest")
	}
}

// cutRack lays out the teeth of the rack.
func (b *bench) cutRack(a *Answer, r Rack) {
	q, radius := b.q, float64(b.q.Radius.Value)
	r.Depth = q.Depth.Value
	if !q.Depth.Set {
		r.Depth, a.Chosen = unit.Length(0.7*float64(r.Pitch.Value)), append(a.Chosen, "depth of the teeth")
	}
	root := radius - float64(r.Depth)
	t := saw.Teeth{Pitch: float64(r.Tooth), Tip: radius * 1e3, Root: root * 1e3, Undercut: float64(q.Undercut.Value), Land: 0.05 * r.Pitch.Value.MM(), Base: root * 1e3 * float64(r.Tooth)}
	switch {
	case float64(r.Tooth)*float64(r.Teeth) > math.Pi:
		b.Say(meas.Clash, "span", fmt.Sprintf("%d teeth of %s would be more than half a circle.", r.Teeth, unit.Text(r.Tooth, "°", 2)), "Measure the pitch and the radius again.", exact, "pitch", "radius")
	case float64(r.Depth) >= radius/3:
		b.Say(meas.Clash, "depth", "A depth of "+unit.Text(r.Depth, "mm", 2)+" leaves no rack of a radius of "+q.Radius.Written("mm")+".", "Enter the depth of a tooth.", exact, "depth")
	case q.Bore.Set && q.Bore.Value >= 2*r.Radii[steps-1]:
		b.Say(meas.Clash, "bore", "The hole of "+q.Bore.Written("mm")+" is as wide as the lowest step of the snail.", "Enter the diameter of the hole in the middle.", exact, "bore")
	case t.Thin():
		b.Say(meas.Clash, "undercut", "With this undercut and depth the back of a tooth runs through its face.", "Enter a smaller undercut or another depth.", exact, "undercut", "depth")
	default:
		r.Saw = t
		a.Rack, a.Complete = &r, true
		b.arms(a)
		if width := fullTurn / steps * float64(r.Radii[steps-1]); q.Pin.Set && float64(q.Pin.Value) > 0.8*width {
			b.Say(meas.Doubt, "pin", "The pin of "+q.Pin.Written("mm")+" has little room on the lowest step, which is "+unit.Text(unit.Length(width), "mm", 2)+" long.", "Look whether it can rest there through the whole hour.", exact, "pin")
		}
	}
}

// wheel lays out a count wheel.
func (b *bench) wheel(a *Answer) {
	q := b.q
	w := Wheel{rim: q.Diameter.Value.MM() / 2}
	ref := derham
	for h := 1; h <= 12; h++ {
		w.Divisions += h
		w.Slots = append(w.Slots, Slot{Hour: strconv.Itoa(h), After: w.Divisions})
		if q.Blows == HalfHours {
			ref = halves
			w.Divisions++
			w.Slots = append(w.Slots, Slot{Hour: strconv.Itoa(h) + " 1/2", After: w.Divisions})
		}
	}
	w.Division = unit.Angle(fullTurn / float64(w.Divisions))
	for i := range w.Slots {
		w.Slots[i].Angle = unit.Angle(fullTurn * float64(w.Slots[i].After) / float64(w.Divisions))
	}
	b.Step("Divisions", map[bool]string{true: "1 + 2 + … + 12 + 12", false: "1 + 2 + … + 12"}[q.Blows == HalfHours], "blows in twelve hours", strconv.Itoa(w.Divisions), ref)
	b.Step("A division", "360° / n", "360° / "+strconv.Itoa(w.Divisions), unit.Text(w.Division, "°", 4), exact)
	if q.Pins > 0 {
		w.Report = big.NewRat(int64(w.Divisions), int64(q.Pins)).RatString()
		b.Step("Turns of the pin wheel for one of the count wheel", "n / pins", fmt.Sprintf("%d / %d", w.Divisions, q.Pins), w.Report, derham)
	}
	along := float64(w.Division) * float64(q.Diameter.Value) / 2
	w.Width, w.Depth = q.Slot.Value, q.Depth.Value
	if !q.Slot.Set {
		w.Width, a.Chosen = unit.Length(0.55*along), append(a.Chosen, "width of a slot")
	}
	if !q.Depth.Set {
		w.Depth, a.Chosen = q.Diameter.Value/16, append(a.Chosen, "depth of a slot")
	}
	switch low := 2 * (float64(q.Diameter.Value)/2 - float64(w.Depth)); {
	case float64(w.Width) >= along:
		b.Say(meas.Clash, "slot", fmt.Sprintf("Slots of %s run into each other: a division on the rim is %s.", unit.Text(w.Width, "mm", 2), unit.Text(unit.Length(along), "mm", 2)), "Enter the width of one slot at the rim.", exact, "slot")
	case low <= 0.2*float64(q.Diameter.Value):
		b.Say(meas.Clash, "depth", "Slots of "+unit.Text(w.Depth, "mm", 2)+" leave no wheel.", "Enter the depth of a slot, from the rim.", exact, "depth")
	case q.Bore.Set && float64(q.Bore.Value) >= low:
		b.Say(meas.Clash, "bore", "The hole of "+q.Bore.Written("mm")+" reaches into the slots.", "Enter the diameter of the hole in the middle.", exact, "bore")
	default:
		a.Complete = true
	}
	a.CountWheel = &w
}

// Sources lists what the chapter leans on.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "rack and snail", Value: "closed form", Ref: exact},
		{Name: "blows in twelve hours", Value: "78", Ref: derham},
		{Name: "blows with one at each half hour", Value: "90", Ref: halves},
		{Name: "caution at the lathe", Value: "no gloves, no loose clothing, no emery by hand", Ref: lathe},
		{Name: "strike work: depth and width where none was measured", Value: "0.7 of the pitch; 0.55 of a division, 1/16 of the diameter", Ref: chosen},
		{Name: "rack: angle to the tail, arms, hole, hub where none was measured", Value: "100°; 2 depths of a tooth; 0.8 of an arm; 2.5 holes", Ref: chosen},
	}
}

// Checks compares printed figures with those reckoned here.
func Checks() []cite.Check {
	of := func(b Blows, pins int) Wheel {
		a, err := Solve(Query{Kind: CountWheel, Blows: b, Pins: pins, Diameter: meas.Of(unit.Length(0.1))})
		if err != nil {
			panic(err) // the chapter's own query
		}
		return *a.CountWheel
	}
	report := func(pins int) float64 {
		r, _ := new(big.Rat).SetString(of(Hours, pins).Report)
		f, _ := r.Float64()
		return f
	}
	return []cite.Check{
		{What: "divisions of a count wheel, hours", Ref: derham, Printed: "78", Got: float64(of(Hours, 0).Divisions)},
		{What: "divisions with one at each half hour", Ref: halves, Printed: "90", Got: float64(of(HalfHours, 0).Divisions)},
		{What: "78 divisions, 13 pins: report 48/8", Ref: derham, Printed: "6", Got: report(13)},
		{What: "78 divisions, 26 pins: report 24/8", Ref: cite.Ref{Source: "derham", Place: "p. 113"}, Printed: "3", Got: report(26)},
		{What: "78 divisions, 24 pins: report 39/12", Ref: cite.Ref{Source: "derham", Place: "p. 113"}, Printed: "3.25", Got: report(24)},
	}
}
