package escapewheel

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// References of the chapter.
var (
	tangents = cite.Ref{Source: "beckett", Place: "pp. 96–97"}
	exact    = cite.Ref{Grade: cite.Exact, Place: "geometry of the circle"}
	practice = cite.Ref{Grade: cite.CommonPractice}
	chosen   = cite.Ref{Grade: cite.CommonPractice, Note: "proportions chosen here"}
	lathe    = cite.Ref{Source: "eis2"}
)

// numbers is the query in SI, NaN where nothing was stated.
type numbers struct{ diameter, distance, span, spaces, pin, reach float64 }

type bench struct {
	meas.Bench[numbers]
	q      Query
	circle func(numbers) float64 // radius of the pins of a pin wheel
}

func known(x float64) bool { return !math.IsNaN(x) }

// Solve answers a query. Its error is meas.Faults.
func Solve(q Query) (Answer, error) {
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	if q.Kind == "" {
		q.Kind = DeadBeat
	}
	b := &bench{q: q}
	meas.Take(&b.Bench, "diameter", q.Diameter, func(n *numbers) *float64 { return &n.diameter })
	meas.Take(&b.Bench, "distance", q.Distance, func(n *numbers) *float64 { return &n.distance })
	meas.Take(&b.Bench, "span", q.Span, func(n *numbers) *float64 { return &n.span })
	b.N.spaces = math.NaN()
	a := Answer{Query: q, PerTooth: unit.Angle(2 * math.Pi / float64(q.Count))}
	b.Step("Angle of a tooth", "360° / N", fmt.Sprintf("360° / %d", q.Count), unit.Text(a.PerTooth, "°", 4), exact)
	if q.Kind == PinWheel {
		meas.Take(&b.Bench, "pin", q.Pin, func(n *numbers) *float64 { return &n.pin })
		meas.Take(&b.Bench, "pins from the arbor of the pallets", q.Reach, func(n *numbers) *float64 { return &n.reach })
		b.pins(&a)
	} else {
		b.findSpaces(&a)
		b.findDiameter(&a)
		b.place(&a)
		if a.Diameter.Set {
			b.tooth(&a)
		}
	}
	b.AskInches("diameter", "The diameter", q.Diameter, unit.Millimetres(4))
	b.AskInches("distance", "The distance", q.Distance, unit.Millimetres(3))
	b.AskInches("span", "The span", q.Span, unit.Millimetres(2))
	b.Say(meas.Danger, "lathe", "At the lathe and the wheel engine no gloves, no loose clothing, and no emery held by hand on work that turns.", "Local law and licensed practice decide.", lathe)
	a.Working, a.Findings = b.Steps, b.ByLevel()
	a.Complete = a.Tooth != nil || a.Pins != nil
	return a, nil
}

// half is the half angle of so many spaces.
func (b *bench) half(spaces float64) float64 { return math.Pi * spaces / float64(b.q.Count) }

// findSpaces takes the spaces as typed, or as the measurements have them,
// moved to the nearest whole number and a half.
func (b *bench) findSpaces(a *Answer) {
	n, count := b.N, float64(b.q.Count)
	var angle float64
	switch {
	case b.q.Spaces.Set:
		a.Spaces, a.SpacesFrom = float64(b.q.Spaces.Value), FromTyped
	case known(n.diameter) && known(n.distance):
		angle, a.SpacesFrom = math.Acos(n.diameter/2/n.distance), FromDistance
	case known(n.diameter) && known(n.span):
		angle, a.SpacesFrom = math.Asin(n.span/n.diameter), FromSpan
	case known(n.distance) && known(n.span):
		// sin 2A = c/d has two answers; that nearer to a half is taken.
		angle, a.SpacesFrom = math.Asin(min(n.span/n.distance, 1))/2, FromBoth
		if other := math.Pi/2 - angle; fromHalf(other*count/math.Pi) < fromHalf(angle*count/math.Pi) {
			angle = other
		}
	default:
		return
	}
	if a.SpacesFrom != FromTyped {
		a.SpacesMeasured = angle * count / math.Pi
		a.Spaces = min(max(math.Floor(a.SpacesMeasured), 0)+0.5, math.Ceil(count/2)-0.5)
		b.Step("Spaces embraced", map[string]string{FromDistance: "n = N acos(R/d) / 180°", FromSpan: "n = N asin(c/2R) / 180°", FromBoth: "n = N asin(c/d) / 360°, or N/2 less that"}[a.SpacesFrom],
			unit.Number(a.SpacesMeasured, 3), unit.Number(a.Spaces, 1), tangents)
		if fromHalf(a.SpacesMeasured) > 0.2 {
			b.Say(meas.Doubt, "spaces", fmt.Sprintf("The measurements give %s spaces, which is not near a whole number and a half; %s is taken.", unit.Number(a.SpacesMeasured, 2), unit.Number(a.Spaces, 1)),
				"Count the spaces between the tips that the pallets embrace, or measure again.", tangents, "distance", "span")
		}
	}
	b.N.spaces = a.Spaces
	a.HalfAngle = unit.Angle(b.half(a.Spaces))
	a.DistanceRatio, a.PalletRatio, a.SpanRatio = 1/math.Cos(float64(a.HalfAngle)), math.Tan(float64(a.HalfAngle)), 2*math.Sin(float64(a.HalfAngle))
	b.Step("Half angle of the pallets", "A = 180° n / N", fmt.Sprintf("180° · %s / %d", unit.Number(a.Spaces, 1), b.q.Count), unit.Text(a.HalfAngle, "°", 3), tangents)
}

// fromHalf is how far a number is from a whole number and a half.
func fromHalf(n float64) float64 { return math.Abs(n - math.Floor(n) - 0.5) }

// findDiameter takes the diameter as typed, or from what the pallets say.
func (b *bench) findDiameter(a *Answer) {
	n := b.N
	switch {
	case known(n.diameter):
		a.DiameterFrom = FromTyped
		a.Diameter = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.diameter })
	case known(n.spaces) && known(n.distance):
		a.DiameterFrom = FromDistance
		a.Diameter = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return 2 * n.distance * math.Cos(b.half(n.spaces)) })
		b.Step("Diameter over the tips", "2 d cos A", fmt.Sprintf("2 · %s · cos %s", b.q.Distance.Written("mm"), unit.Text(a.HalfAngle, "°", 3)), a.Diameter.Text("mm", 3), tangents)
	case known(n.spaces) && known(n.span):
		a.DiameterFrom = FromSpan
		a.Diameter = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.span / math.Sin(b.half(n.spaces)) })
		b.Step("Diameter over the tips", "c / sin A", fmt.Sprintf("%s / sin %s", b.q.Span.Written("mm"), unit.Text(a.HalfAngle, "°", 3)), a.Diameter.Text("mm", 3), exact)
	default:
		b.Say(meas.Doubt, "no-size", "The size of the wheel cannot be told yet.", "Enter the diameter over the tips; or, of a lost wheel, the distance of the centres or the span of the pallets, with the spaces they embrace.", exact, "diameter")
	}
}

// radius is that over the tips, by whatever it was found.
func (b *bench) radius(n numbers, from string) float64 {
	switch from {
	case FromDistance:
		return n.distance * math.Cos(b.half(n.spaces))
	case FromSpan:
		return n.span / 2 / math.Sin(b.half(n.spaces))
	}
	return n.diameter / 2
}

// place tells where the pallets stand, and compares.
func (b *bench) place(a *Answer) {
	if a.Spaces == 0 || !a.Diameter.Set {
		return
	}
	times := func(k float64) meas.Result[unit.Length] {
		return meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return k * b.radius(n, a.DiameterFrom) })
	}
	a.Distance, a.PalletRadius, a.Span = times(a.DistanceRatio), times(a.PalletRatio), times(a.SpanRatio)
	radius := unit.Text(a.Diameter.Value/2, "mm", 3)
	angle := unit.Text(a.HalfAngle, "°", 3)
	b.Step("Distance of the centres", "d = R / cos A", radius+" / cos "+angle, a.Distance.Text("mm", 3), tangents)
	b.Step("Radius to the pallets", "p = R tan A", radius+" · tan "+angle, a.PalletRadius.Text("mm", 3), tangents)
	b.Step("Span of the tips", "c = 2 R sin A", "2 · "+radius+" · sin "+angle, a.Span.Text("mm", 3), exact)
	if q := b.q.Distance; q.Set && a.DiameterFrom != FromDistance {
		b.compare("distance", "The centres", q, a.Distance)
	}
	if q := b.q.Span; q.Set && a.DiameterFrom != FromSpan {
		b.compare("span", "The tips embraced", q, a.Span)
	}
	b.pallets(a)
}

// agree is how far two lengths may be apart where no doubt was stated.
const agree = 0.01

// compare sets a measurement beside what the rest comes to.
func (b *bench) compare(field, what string, q meas.Reading[unit.Length], r meas.Result[unit.Length]) {
	off := float64(q.Value - r.Value)
	limit := 2 * math.Hypot(float64(q.U), float64(r.U))
	if limit == 0 {
		limit = agree * float64(r.Value)
	}
	if math.Abs(off) <= limit {
		return
	}
	text := fmt.Sprintf("%s were measured %s apart; tangent pallets want %s.", what, q.Written("mm"), r.Text("mm", 2))
	if b.q.Kind == Recoil {
		b.Say(meas.Note, field, text+" Recoil pallets are often planted otherwise.", "", cite.Ref{Source: "goodrich", Place: "ch. VII"}, field)
		return
	}
	b.Say(meas.Clash, field, text, "Count the teeth and the spaces again, and measure again; if both stand, a tip does not meet its pallet square.", tangents, field)
}

// pallets tells what is left for a pallet's width, and the travel of the lift.
func (b *bench) pallets(a *Answer) {
	if q := b.q.Drop; q.Set {
		angle := float64(a.PerTooth)/2 - float64(q.Value)
		land := usualLand.V * float64(a.PerTooth) * float64(a.Diameter.Value) / 2
		if b.q.Land.Set {
			land = float64(b.q.Land.Value)
		}
		width := angle*float64(a.Diameter.Value)/2 - land
		if !(width > 0) {
			b.Say(meas.Clash, "drop", "A drop of "+q.Written("°")+" leaves no pallet: half of a tooth is "+unit.Text(a.PerTooth/2, "°", 2)+".", "Enter the drop as seen from the wheel.", exact, "drop")
		} else {
			a.PalletWidth = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return angle*b.radius(n, a.DiameterFrom) - land })
			b.Step("Width of a pallet on the circle of the tips", "R (180°/N − drop) − land", unit.Text(a.PerTooth/2, "°", 3)+" − "+q.Written("°"), a.PalletWidth.Text("mm", 3), exact)
		}
	}
	if q := b.q.Lift; q.Set {
		a.LiftTravel = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 {
			return a.PalletRatio * b.radius(n, a.DiameterFrom) * float64(q.Value)
		})
		b.Step("Travel of the lift at the pallet", "p · lift", a.PalletRadius.Text("mm", 2)+" · "+q.Written("°"), a.LiftTravel.Text("mm", 3), tangents)
	}
}
