package ratchet

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/tooth/saw"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Counts of teeth that are taken.
const (
	Fewest train.Teeth = 6
	Most   train.Teeth = 400
)

// Query is what is known of a ratchet. Count and Diameter are needed.
type Query struct {
	Count    train.Teeth               `json:"count"`
	Diameter meas.Reading[unit.Length] `json:"diameter"` // over the tips
	Undercut meas.Reading[unit.Angle]  `json:"undercut"` // of the face; radial where not stated
	Depth    meas.Reading[unit.Length] `json:"depth"`
	Land     meas.Reading[unit.Length] `json:"land"`
	Bore     meas.Reading[unit.Length] `json:"bore"`
	Click    meas.Reading[unit.Length] `json:"click"`    // from its pivot to its nose
	Distance meas.Reading[unit.Length] `json:"distance"` // of its pivot from the centre

	Arm      meas.Reading[unit.Length] `json:"arm"`      // of the click, its width
	Hole     meas.Reading[unit.Length] `json:"hole"`     // for the pivot of the click
	Friction meas.Reading[unit.Ratio]  `json:"friction"` // coefficient, between nose and face
	Torque   meas.Reading[unit.Torque] `json:"torque"`   // that it holds
}

// Answer is everything that follows from a Query.
type Answer struct {
	Query    Query                    `json:"query"`
	PerTooth unit.Angle               `json:"per_tooth"`
	Undercut unit.Angle               `json:"undercut"`
	Diameter meas.Result[unit.Length] `json:"diameter"`
	Root     unit.Length              `json:"root"` // diameter
	Depth    unit.Length              `json:"depth"`
	Land     unit.Length              `json:"land"`
	Opening  unit.Angle               `json:"opening"`
	Click    meas.Result[unit.Length] `json:"click"`
	Distance meas.Result[unit.Length] `json:"distance"`
	Draw     meas.Result[unit.Angle]  `json:"draw"`
	Holds    meas.Result[unit.Ratio]  `json:"holds"` // coefficient of friction under which it pulls itself in; below 0: over which it stays
	Force    meas.Result[unit.Force]  `json:"force"` // on the click and its pivot
	Drawn    *Click                   `json:"drawn"` // nil where it cannot be drawn
	Chosen   []string                 `json:"chosen"`
	Working  []cite.Step              `json:"working"`
	Findings []meas.Finding           `json:"findings"`
	Complete bool                     `json:"complete"`

	// Teeth is the wheel as drawn.
	Teeth saw.Teeth `json:"-"`
}

// References and proportions of the chapter.
var (
	exact      = cite.Ref{Grade: cite.Exact, Place: "geometry of the circle"}
	lathe      = cite.Ref{Source: "eis2"}
	practice   = cite.Ref{Grade: cite.CommonPractice}
	chosen     = cite.Ref{Grade: cite.CommonPractice, Note: "proportions chosen here"}
	usualDepth = cite.Value[float64]{V: 0.6, Ref: chosen}  // of the pitch
	usualLand  = cite.Value[float64]{V: 0.03, Ref: chosen} // of the pitch
)

// Sources lists what the chapter leans on.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "ratchet: how the face draws the click in", Value: "closed form", Ref: exact},
		{Name: "ratchet: depth and land where none was measured", Value: "0.6 and 0.03 of the pitch", Ref: chosen},
		{Name: "click: arm, hole, boss and nose where none was measured", Value: "1.2 of the depth, 0.12 of the length, 2.4 holes, 0.8 of the opening", Ref: chosen},
	}
}

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if q.Count == 0 {
		add("count", "Enter the count of the teeth")
	} else if q.Count < Fewest || q.Count > Most {
		add("count", "A ratchet has %d to %d teeth; %d were entered", Fewest, Most, q.Count)
	}
	if !q.Diameter.Set {
		add("diameter", "Enter the diameter over the tips")
	}
	for _, l := range []struct {
		field, what string
		r           meas.Reading[unit.Length]
	}{{"diameter", "The diameter over the tips", q.Diameter}, {"depth", "The depth of a tooth", q.Depth}, {"land", "The land of the tip", q.Land},
		{"bore", "The hole", q.Bore}, {"arm", "The width of the click", q.Arm}, {"hole", "The hole for the pivot of the click", q.Hole}, {"click", "The length of the click", q.Click}, {"distance", "The distance of its pivot", q.Distance}} {
		if l.r.Set && !(l.r.Value > 0 && l.r.Value <= 2) {
			add(l.field, "%s must be above 0 and at most 2 m; %s was entered", l.what, l.r.Entered)
		}
	}
	if u := q.Undercut; u.Set && !(u.Value >= 0 && u.Value <= unit.Deg(30)) {
		add("undercut", "The undercut must be from 0° to 30°; %s was entered", u.Entered)
	}
	if q.Friction.Set && !(q.Friction.Value >= 0 && q.Friction.Value <= 1) {
		add("friction", "The coefficient of friction must be between 0 and 1; %s was entered", q.Friction.Entered)
	}
	if q.Torque.Set && !(q.Torque.Value > 0 && q.Torque.Value <= 1e4) {
		add("torque", "The torque must be above nought and no more than 10 kN m; %s was entered", q.Torque.Entered)
	}
	if d, r := float64(q.Distance.Value), float64(q.Diameter.Value)/2; q.Distance.Set && q.Diameter.Set && r > 0 {
		l := float64(q.Click.Value)
		if d <= r {
			add("distance", "The pivot of the click must lie outside the wheel: more than half of %s", q.Diameter.Written("mm"))
		} else if q.Click.Set && (l <= d-r || l >= d+r) {
			add("click", "A click of %s does not reach the tips from a pivot %s away", q.Click.Written("mm"), q.Distance.Written("mm"))
		}
	}
	return f
}

type numbers struct{ diameter, click, distance, undercut, torque float64 }

type bench struct {
	meas.Bench[numbers]
	q    Query
	draw func(numbers) float64 // δ, once a click is known
}

// Solve answers a query. Its error is meas.Faults.
func Solve(q Query) (Answer, error) {
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	b := &bench{q: q}
	meas.Take(&b.Bench, "diameter", q.Diameter, func(n *numbers) *float64 { return &n.diameter })
	meas.Take(&b.Bench, "click", q.Click, func(n *numbers) *float64 { return &n.click })
	meas.Take(&b.Bench, "distance", q.Distance, func(n *numbers) *float64 { return &n.distance })
	meas.Take(&b.Bench, "torque", q.Torque, func(n *numbers) *float64 { return &n.torque })
	b.Set("undercut", float64(q.Undercut.Value), float64(q.Undercut.U), func(n *numbers) *float64 { return &n.undercut })
	a := Answer{Query: q, PerTooth: unit.Angle(2 * math.Pi / float64(q.Count)), Undercut: q.Undercut.Value}
	a.Diameter = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.diameter })
	b.Step("Angle of a tooth", "360° / N", fmt.Sprintf("360° / %d", q.Count), unit.Text(a.PerTooth, "°", 4), exact)
	b.teeth(&a)
	b.click(&a)
	b.layClick(&a)
	b.sayChosen(&a)
	b.AskInches("diameter", "The diameter", q.Diameter, unit.Millimetres(5))
	b.AskInches("click", "The length of the click", q.Click, unit.Millimetres(3))
	b.Say(meas.Danger, "power", "A click holds a wound spring or a hanging weight. One that slips lets all of it go at once: key, arbor and wheel spin, and the hand on the key is hurt.",
		"Let the power down before the click is touched, and try a new click with a few turns first, hand and face out of the way. Local law and licensed practice decide.", practice)
	b.Say(meas.Danger, "lathe", "At the lathe and the wheel engine no gloves, no loose clothing, and no emery held by hand on work that turns.", "Local law and licensed practice decide.", lathe)
	a.Working, a.Findings = b.Steps, b.ByLevel()
	return a, nil
}

// teeth lays the wheel out.
func (b *bench) teeth(a *Answer) {
	q, radius := b.q, float64(a.Diameter.Value)/2
	pitch := radius * float64(a.PerTooth)
	a.Depth, a.Land = q.Depth.Value, q.Land.Value
	if !q.Depth.Set {
		a.Depth, a.Chosen = unit.Length(min(usualDepth.V*pitch, 0.4*radius)), append(a.Chosen, "depth")
	}
	if !q.Land.Set {
		a.Land, a.Chosen = unit.Length(usualLand.V*pitch), append(a.Chosen, "land")
	}
	if !q.Undercut.Set {
		a.Chosen = append(a.Chosen, "face (radial)")
	}
	root := unit.Length(radius) - a.Depth
	a.Root = 2 * root
	t := saw.Teeth{Count: int(q.Count), Tip: unit.Length(radius).MM(), Root: root.MM(), Undercut: float64(a.Undercut), Land: a.Land.MM(), Base: root.MM() * float64(a.PerTooth)}
	a.Opening = unit.Angle(t.Opening())
	say := func(field, text, next string) { b.Say(meas.Clash, "tooth-"+field, text, next, exact, field) }
	switch {
	case float64(root) <= 0.1*radius:
		say("depth", fmt.Sprintf("A depth of %s leaves no wheel of a radius of %s.", unit.Text(a.Depth, "mm", 2), unit.Text(unit.Length(radius), "mm", 2)), "Enter the depth of a tooth, from the tips to the root.")
	case float64(a.Land) >= 0.5*pitch:
		say("land", fmt.Sprintf("A land of %s is half or more of the pitch of %s.", unit.Text(a.Land, "mm", 2), unit.Text(unit.Length(pitch), "mm", 2)), "The land is the flat of the tip alone.")
	case q.Bore.Set && q.Bore.Value >= a.Root:
		say("bore", "The hole of "+q.Bore.Written("mm")+" is as large as the root circle.", "Enter the diameter of the hole in the middle.")
	case t.Thin() || !(a.Opening > 0):
		say("undercut", "With this undercut and depth the back of a tooth runs through its face or into the root circle.", "Enter a smaller undercut or another depth.")
	default:
		a.Teeth, a.Complete = t, true
		b.Step("Pitch over the tips", "π D / N", fmt.Sprintf("π · %s / %d", q.Diameter.Written("mm"), q.Count), unit.Text(unit.Length(pitch), "mm", 3), exact)
	}
}

// sayChosen names what was not measured.
func (b *bench) sayChosen(a *Answer) {
	if len(a.Chosen) > 0 {
		b.Say(meas.Note, "chosen", "Not measured, and chosen here: "+strings.Join(a.Chosen, ", ")+".", "Measure a tooth that is left, or one of a like wheel of the maker.", chosen)
	}
}

// angle is α: between the click and the radius at its nose, outwards.
func angle(r, l, d float64) float64 { return math.Acos((d*d - r*r - l*l) / (2 * r * l)) }

// click tells where the click sits and whether it is drawn in.
func (b *bench) click(a *Answer) {
	q := b.q
	if !q.Click.Set && !q.Distance.Set {
		return
	}
	length := func(n numbers) float64 {
		if !q.Click.Set {
			return math.Sqrt(n.distance*n.distance - n.diameter*n.diameter/4)
		}
		return n.click
	}
	far := func(n numbers) float64 {
		if !q.Distance.Set {
			return math.Hypot(n.diameter/2, n.click)
		}
		return n.distance
	}
	a.Click, a.Distance = meas.Find[unit.Length](&b.Bench, length), meas.Find[unit.Length](&b.Bench, far)
	b.draw = func(n numbers) float64 { return math.Pi/2 - angle(n.diameter/2, length(n), far(n)) + n.undercut }
	a.Draw = meas.Find[unit.Angle](&b.Bench, b.draw)
	switch {
	case !q.Distance.Set:
		b.Step("Pivot on the tangent", "D = √(R² + L²)", fmt.Sprintf("√((%s/2)² + %s²)", q.Diameter.Written("mm"), q.Click.Written("mm")), a.Distance.Text("mm", 3), exact)
	case !q.Click.Set:
		b.Step("Click along the tangent", "L = √(D² − R²)", fmt.Sprintf("√(%s² − (%s/2)²)", q.Distance.Written("mm"), q.Diameter.Written("mm")), a.Click.Text("mm", 3), exact)
	}
	b.Step("Draw", "90° − acos((D² − R² − L²)/2RL) + undercut", fmt.Sprintf("D = %s, L = %s, undercut %s", a.Distance.Text("mm", 2), a.Click.Text("mm", 2), unit.Text(a.Undercut, "°", 1)), a.Draw.Text("°", 2), exact)
	b.thrust(a)
	if draw := a.Draw.Value.Degrees(); draw < -0.05 {
		b.Say(meas.Clash, "draw", "The face pushes the nose of the click out, by "+unit.Text(-a.Draw.Value, "°", 1)+"; only friction and the spring hold it.", "Set the pivot farther out, make the click shorter, or undercut the face.", exact, "distance", "click", "undercut")
	} else if draw < 1 {
		b.Say(meas.Note, "draw", "The face neither draws the click in nor pushes it out; an undercut of a few degrees makes it safe.", "", practice, "undercut")
	}
}
