package drive

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// checkup gathers faults.
type checkup struct{ faults meas.Faults }

func (c *checkup) fault(field, format string, a ...any) {
	c.faults = append(c.faults, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
}

// within holds a reading to a range, written in one unit.
func within[Q unit.Quantity](c *checkup, field, label string, r meas.Reading[Q], low, high float64, symbol string) {
	if !r.Set {
		return
	}
	x := unit.In(r.Value, symbol)
	if x >= low*(1-1e-9) && x <= high*(1+1e-9) {
		return
	}
	u := ""
	if symbol != "" {
		u = " " + symbol
	}
	c.fault(field, "The %s must be between %s and %s%s, not %s%s.", label, plain(low), plain(high), u, plain(x), u)
}

// plain writes a bound or a value shortly.
func plain(x float64) string {
	return strings.Replace(fmt.Sprintf("%.6g", x), "-", "−", 1)
}

// oneOf holds a word to a list.
func oneOf(c *checkup, field, label, word string, words ...string) {
	if word == "" {
		return
	}
	for _, w := range words {
		if w == word {
			return
		}
	}
	c.fault(field, "The %s must be one of: %s; “%s” is not.", label, strings.Join(words, ", "), meas.Clip(word))
}

// Check lists every mistake in the inputs.
func (q Query) Check() meas.Faults {
	c := &checkup{}
	q.checkWeight(c)
	q.checkLine(c)
	q.checkTime(c)
	q.checkCase(c)
	q.checkSpring(c)
	q.checkFusee(c)
	return c.faults
}

func (q Query) checkWeight(c *checkup) {
	within(c, "weight", "weight", q.WeightMass, 0.001, 5000, "kg")
	within(c, "weight-wanted", "weight wanted", q.WeightWanted, 0.001, 5000, "kg")
	within(c, "weight-density", "density of the weight", q.WeightDensity, 100, 25000, "kg/m³")
	within(c, "weight-diameter", "diameter of the weight", q.WeightDiameter, 1, 2000, "mm")
	within(c, "weight-height", "height of the weight", q.WeightHeight, 1, 5000, "mm")
	within(c, "weight-bore", "hole in the weight", q.WeightBore, 0, 2000, "mm")
	within(c, "weight-length", "length of the weight with hook and pulley", q.WeightLength, 1, 5000, "mm")
	if q.WeightBore.Set && q.WeightDiameter.Set && q.WeightBore.Value >= q.WeightDiameter.Value {
		c.fault("weight-bore", "The hole in the weight is %s wide and the weight only %s.", unit.Text(q.WeightBore.Value, "mm", 1), unit.Text(q.WeightDiameter.Value, "mm", 1))
	}
	if q.WeightHeight.Set && q.WeightLength.Set && q.WeightHeight.Value > q.WeightLength.Value {
		c.fault("weight-length", "The weight with hook and pulley is %s long but its cylinder alone %s.", unit.Text(q.WeightLength.Value, "mm", 0), unit.Text(q.WeightHeight.Value, "mm", 0))
	}
	if _, ok := FindMaterial(q.WeightMaterial); !ok && q.WeightMaterial != "" {
		var names []string
		for _, m := range Materials() {
			names = append(names, m.Name)
		}
		c.fault("weight-material", "The material of the weight must be one of: %s; “%s” is not. State its density instead.", strings.Join(names, ", "), meas.Clip(q.WeightMaterial))
	}
}

func (q Query) checkLine(c *checkup) {
	oneOf(c, "barrel", "kind of barrel", q.Barrel, Plain, Grooved, Endless)
	oneOf(c, "barrel-material", "material of the barrel", q.BarrelMaterial, "brass", "steel", "iron", "wood")
	oneOf(c, "line-material", "material of the line", q.LineMaterial, SteelLine, BrassLine, GutLine, Synthetic)
	oneOf(c, "brass-temper", "temper of the wire", strings.ToLower(q.BrassTemper), "1/8 hard", "1/4 hard", "1/2 hard", "hard spring")
	within(c, "barrel-diameter", "barrel diameter", q.BarrelDiameter, 1, 3000, "mm")
	within(c, "barrel-length", "length of the barrel", q.BarrelLength, 1, 5000, "mm")
	within(c, "turns", "number of turns", q.Turns, 0.1, 2000, "")
	within(c, "wraps", "number of turns left on", q.Wraps, 0, 20, "")
	within(c, "groove-pitch", "pitch of the grooves", q.GroovePitch, 0.1, 100, "mm")
	within(c, "line-diameter", "line diameter", q.LineDiameter, 0.05, 300, "mm")
	within(c, "rope-grade", "grade of the rope", q.RopeGrade, 200, 3000, "MPa")
	within(c, "rope-factor", "rope factor", q.RopeFactor, 0.05, 0.785, "")
	within(c, "line-strength", "strength of the line", q.LineStrength, 5, 5000, "MPa")
	within(c, "breaking-load", "breaking load", q.BreakingLoad, 1, 5e7, "N")
	within(c, "factor", "factor asked", q.Factor, 1, 50, "")
	if q.Falls < 0 || q.Falls > 8 {
		c.fault("falls", "The number of lines that carry the weight must be from 1 to 8, not %d.", q.Falls)
	}
	if q.Layers < 0 || q.Layers > 10 {
		c.fault("layers", "The number of layers must be from 1 to 10, not %d.", q.Layers)
	}
	if q.LineDiameter.Set && q.BarrelDiameter.Set && q.LineDiameter.Value > q.BarrelDiameter.Value {
		c.fault("line-diameter", "The line of %s is thicker than the barrel of %s.", unit.Text(q.LineDiameter.Value, "mm", 1), unit.Text(q.BarrelDiameter.Value, "mm", 1))
	}
	if q.Barrel == Grooved && q.GroovePitch.Set && q.LineDiameter.Set && q.GroovePitch.Value < q.LineDiameter.Value {
		c.fault("groove-pitch", "Grooves %s apart have no room for a line of %s.", unit.Text(q.GroovePitch.Value, "mm", 2), unit.Text(q.LineDiameter.Value, "mm", 2))
	}
	if _, ok := FindRope(q.LineConstruction); !ok && q.LineConstruction != "" {
		c.fault("line-construction", "“%s” is not in the table of ropes; write one like 7x7, 7x19 or 6x19 FC.", meas.Clip(q.LineConstruction))
	}
}

func (q Query) checkTime(c *checkup) {
	within(c, "turn-time", "time of one turn", q.TurnTime, 0.001, 5000, "h")
	within(c, "turns-per-hour", "turns an hour", q.TurnsPerHour, 0.0002, 1000, "")
	within(c, "running-time", "running time", q.RunningTime, 0.01, 1100*24, "h")
	within(c, "beats-per-hour", "beats an hour", q.BeatsPerHour, 60, 50000, "")
	within(c, "wound-at", "hour of winding", q.WoundAt, 0, 24, "h")
	if q.WoundOn != "" && weekday(q.WoundOn) < 0 {
		c.fault("wound-on", "“%s” is not a day of the week; write one like Sunday.", meas.Clip(q.WoundOn))
	}
}

func (q Query) checkCase(c *checkup) {
	within(c, "fall", "fall of the weight", q.Fall, 1, 200000, "mm")
	within(c, "room", "room for the weight", q.Room, 1, 200000, "mm")
	within(c, "seat-to-floor", "height from the floor to the seat board", q.SeatToFloor, 1, 200000, "mm")
	within(c, "top-gap", "gap at the top", q.TopGap, 0, 5000, "mm")
	within(c, "barrel-above-seat", "height of the barrel above the seat board", q.BarrelAboveSeat, -1000, 2000, "mm")
	within(c, "pendulum-length", "pendulum length", q.PendulumLength, 5, 30000, "mm")
	within(c, "suspension-above-seat", "height of the suspension above the seat board", q.SuspensionAboveSeat, -5000, 5000, "mm")
	within(c, "bob-half-height", "half height of the bob", q.BobHalfHeight, 0, 2000, "mm")
	within(c, "bob-mass", "mass of the bob", q.BobMass, 0.0001, 1000, "kg")
	within(c, "amplitude", "half arc of the pendulum", q.Amplitude, 0.01, 90, "°")
	within(c, "swing-band", "swing band", q.SwingBand, 0.1, 50, "%")
	within(c, "gravity", "gravity", q.Gravity, 9.7, 9.9, "m/s²")
	within(c, "friction", "friction", q.Friction, 0, 99, "%")
	if q.SeatToFloor.Set && q.Room.Set && q.Room.Value > q.SeatToFloor.Value {
		c.fault("room", "The room for the weight, %s, is more than the %s from the seat board to the floor.", unit.Text(q.Room.Value, "m", 3), unit.Text(q.SeatToFloor.Value, "m", 3))
	}
}

func (q Query) checkSpring(c *checkup) {
	within(c, "spring-barrel", "inside of the spring barrel", q.SpringBarrel, 1, 1000, "mm")
	within(c, "spring-arbor", "diameter of the arbor", q.SpringArbor, 0.1, 500, "mm")
	within(c, "spring-thickness", "thickness of the spring", q.SpringThickness, 0.01, 10, "mm")
	within(c, "spring-new-thickness", "other thickness", q.SpringNewThickness, 0.01, 10, "mm")
	within(c, "spring-height", "height of the spring", q.SpringHeight, 0.1, 500, "mm")
	within(c, "spring-length", "length of the spring", q.SpringLength, 1, 50000, "mm")
	within(c, "spring-modulus", "modulus of the spring", q.SpringModulus, 50, 300, "GPa")
	within(c, "spring-turns", "turns of the spring", q.SpringTurns, 0.01, 100, "")
	within(c, "coils-wound", "coils when wound", q.CoilsWound, 0.5, 200, "")
	within(c, "coils-down", "coils when down", q.CoilsDown, 0.5, 200, "")
	if q.CoilsWound.Set && q.CoilsDown.Set && q.CoilsWound.Value <= q.CoilsDown.Value {
		c.fault("coils-down", "A spring has more coils wound than down; %s and %s were counted.", plain(float64(q.CoilsWound.Value)), plain(float64(q.CoilsDown.Value)))
	}
	if !q.SpringBarrel.Set || !q.SpringArbor.Set {
		return
	}
	if q.SpringArbor.Value >= q.SpringBarrel.Value {
		c.fault("spring-arbor", "The arbor of %s does not go into a barrel of %s.", unit.Text(q.SpringArbor.Value, "mm", 1), unit.Text(q.SpringBarrel.Value, "mm", 1))
		return
	}
	space := math.Pi / 4 * (math.Pow(float64(q.SpringBarrel.Value), 2) - math.Pow(float64(q.SpringArbor.Value), 2))
	if q.SpringLength.Set && q.SpringThickness.Set && float64(q.SpringLength.Value)*float64(q.SpringThickness.Value) >= space {
		c.fault("spring-length", "A spring of %s by %s does not go into this barrel, whose space takes %s of it.", unit.Text(q.SpringLength.Value, "mm", 0), unit.Text(q.SpringThickness.Value, "mm", 2), unit.Text(unit.Length(space/float64(q.SpringThickness.Value)), "mm", 0))
	}
}

func (q Query) checkFusee(c *checkup) {
	within(c, "fusee-barrel", "diameter the chain lies at", q.FuseeBarrel, 1, 1000, "mm")
	within(c, "fusee-largest", "largest radius of the fusee", q.FuseeLargest, 0.5, 500, "mm")
	within(c, "fusee-smallest", "smallest radius of the fusee", q.FuseeSmallest, 0.5, 500, "mm")
	if len(q.FuseeTorque) > mostTorques {
		c.fault("fusee-torque", "At most %d torques are taken.", mostTorques)
	}
	seen := map[float64]bool{}
	for _, p := range q.FuseeTorque {
		switch {
		case !(math.Abs(p.Turn) <= 1000):
			c.fault("fusee-torque", "Turns must be between −1000 and 1000, not %s.", plain(p.Turn))
		case seen[p.Turn]:
			c.fault("fusee-torque", "Turn %s stands twice.", plain(p.Turn))
		case !p.Torque.Set || !(p.Torque.Value > 0):
			c.fault("fusee-torque", "The torque at turn %s must be more than nought.", plain(p.Turn))
		}
		seen[p.Turn] = true
	}
}
