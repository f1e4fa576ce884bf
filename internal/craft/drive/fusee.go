package drive

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// cone is a fusee in SI: torques in the order of their turns, NaN for the
// sizes not stated.
//
// With the barrel's diameter the turns are the barrel's: pull F = M/R, radius
// r = C/F, and the chain that leaves one lies on the other, so that the
// fusee turns by dφ = R dθ / r. Without it they are taken as the fusee's.
type cone struct {
	n                         int
	turns, torques            [mostTorques]float64
	barrel, largest, smallest float64
}

// ends is the least and the greatest torque.
func (c cone) ends() (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, m := range c.torques[:c.n] {
		least, most = math.Min(least, m), math.Max(most, m)
	}
	return least, most
}

// product is radius times torque, the same all along.
func (c cone) product() float64 {
	least, most := c.ends()
	return or(c.largest*least, c.smallest*most)
}

func (c cone) radius(i int) float64 { return c.product() / c.torques[i] }

// turned is the turn of the fusee at a place.
func (c cone) turned(i int) float64 {
	if !known(c.barrel) {
		return c.turns[i] - c.turns[0]
	}
	var turn float64
	for k := 1; k <= i; k++ {
		turn += c.barrel / 2 * (c.turns[k] - c.turns[k-1]) * (c.torques[k-1] + c.torques[k]) / (2 * c.product())
	}
	return turn
}

// chain is the length that lies on the fusee.
func (c cone) chain() float64 {
	if known(c.barrel) {
		return math.Pi * c.barrel * (c.turns[c.n-1] - c.turns[0])
	}
	var sum float64
	for k := 1; k < c.n; k++ {
		sum += math.Pi * (c.turns[k] - c.turns[k-1]) * (c.radius(k-1) + c.radius(k))
	}
	return sum
}

// layFusee reads the fusee into a bench of its own.
func layFusee(q Query) *meas.Bench[cone] {
	t := slices.Clone(q.FuseeTorque)
	slices.SortStableFunc(t, func(a, b TorqueAt) int { return cmp.Compare(a.Turn, b.Turn) })
	b := &meas.Bench[cone]{}
	b.N.n = len(t)
	for i, p := range t {
		b.N.turns[i] = p.Turn
		meas.Take(b, "torque at turn "+plain(p.Turn), p.Torque, func(c *cone) *float64 { return &c.torques[i] })
	}
	meas.Take(b, "diameter the chain lies at", q.FuseeBarrel, func(c *cone) *float64 { return &c.barrel })
	meas.Take(b, "largest radius of the fusee", q.FuseeLargest, func(c *cone) *float64 { return &c.largest })
	meas.Take(b, "smallest radius of the fusee", q.FuseeSmallest, func(c *cone) *float64 { return &c.smallest })
	return b
}

// solveFusee computes the profile.
func (b *bench) solveFusee(a *Answer) {
	if len(b.q.FuseeTorque) == 0 {
		return
	}
	cones, f := layFusee(b.q), &a.Fusee
	last := cones.N.n - 1
	f.Unevenness = meas.Find[unit.Ratio](cones, func(c cone) float64 { least, most := c.ends(); return most / least })
	if last < 1 || !known(cones.N.product()) {
		b.Say(meas.Doubt, "fusee-scale", "The fusee's radii need a size to start from.", "State its largest or smallest radius and at least two torques.", fuseeRef, "fusee-largest", "fusee-torque")
		return
	}
	for i := range last + 1 {
		f.Points = append(f.Points, FuseePoint{
			Turn:      cones.N.turns[i],
			FuseeTurn: meas.Find[unit.Ratio](cones, func(c cone) float64 { return c.turned(i) }),
			Torque:    meas.Find[unit.Torque](cones, func(c cone) float64 { return c.torques[i] }),
			Pull:      meas.Find[unit.Force](cones, func(c cone) float64 { return c.torques[i] / (c.barrel / 2) }),
			Radius:    meas.Find[unit.Length](cones, func(c cone) float64 { return c.radius(i) }),
		})
	}
	f.Chain = meas.Find[unit.Length](cones, cone.chain)
	f.Turns = f.Points[last].FuseeTurn
	f.Torque = meas.Find[unit.Torque](cones, func(c cone) float64 { return c.product() / (c.barrel / 2) })
	if turn := b.N.turn(); known(turn) {
		f.Running = meas.Find[unit.Duration](cones, func(c cone) float64 { return c.turned(last) * turn })
	}
	b.fuseeSteps(*f, cones.N)
}

// fuseeRef: the rule is derived; no printed profile has been seen.
var fuseeRef = cite.Ref{Grade: cite.Exact, Note: "torque times radius kept the same; pitch of the groove neglected"}

func (b *bench) fuseeSteps(f Fusee, c cone) {
	first, last := f.Points[0], f.Points[len(f.Points)-1]
	b.Step("Radius of the fusee", "r = r₀ M₀ / M", fmt.Sprintf("%s · %s / %s", mm(c.radius(0)), unit.Text(first.Torque.Value, "N mm", 0), unit.Text(last.Torque.Value, "N mm", 0)), last.Radius.Text("mm", 2)+" at the last turn", fuseeRef)
	formula := "Σ π (r + r′) · turns between"
	if known(c.barrel) {
		formula = "π D · turns of the barrel"
	}
	b.Step("Chain on the fusee", formula, fmt.Sprintf("%d places", len(f.Points)), f.Chain.Text("mm", 0)+" in "+f.Turns.Text("", 2)+" turns of the fusee", fuseeRef)
	b.Say(meas.Note, "unevenness", fmt.Sprintf("Without the fusee the strongest pull would be %s times the weakest.", num(float64(f.Unevenness.Value), 2)), "", fuseeRef, "fusee-torque")
	if !b.hasSpringDanger() {
		b.Say(meas.Danger, "mainspring", "A wound mainspring and its chain let go all at once when something slips.", "Let the spring down by its set-up ratchet before any work. Local law and licensed practice decide.", cite.Ref{Grade: cite.CommonPractice}, "fusee-torque")
	}
}

func (b *bench) hasSpringDanger() bool {
	for _, f := range b.Findings {
		if f.Code == "mainspring" {
			return true
		}
	}
	return false
}
