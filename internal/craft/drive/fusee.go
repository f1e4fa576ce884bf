package drive

import (
	"fmt"
	"math"
	"sort"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// profile computes the fusee for given torques; ok is false where there is
// nothing to scale by.
//
// With the barrel's diameter the turns are the barrel's: pull F = M/R, radius
// r = C/F, and the chain that leaves one lies on the other, so that the
// fusee turns by dφ = R dθ / r. Without it they are taken as the fusee's.
func profile(t Torques, barrel, largest, smallest float64) (points []FuseePoint, chain, torque float64, ok bool) {
	if len(t) < 2 {
		return nil, 0, 0, false
	}
	t = append(Torques{}, t...)
	sort.SliceStable(t, func(i, j int) bool { return t[i].Turn < t[j].Turn })
	least, most := math.Inf(1), 0.0
	for _, p := range t {
		least, most = math.Min(least, float64(p.Torque.Value)), math.Max(most, float64(p.Torque.Value))
	}
	product := largest * least // r M, the same all along
	if !known(product) {
		product = smallest * most
	}
	if !known(product) || least <= 0 {
		return nil, 0, 0, false
	}
	torque = product / (barrel / 2)
	var turn float64
	for i, p := range t {
		m := float64(p.Torque.Value)
		at := FuseePoint{Turn: p.Turn, Torque: p.Torque.Value, Radius: unit.Length(product / m), FuseeTurn: p.Turn - t[0].Turn}
		if known(barrel) {
			at.Pull = unit.Force(m / (barrel / 2))
		}
		if i > 0 {
			dt := p.Turn - t[i-1].Turn
			before := product / float64(t[i-1].Torque.Value)
			if known(barrel) {
				chain += math.Pi * barrel * dt
				turn += barrel / 2 * dt * (float64(t[i-1].Torque.Value) + m) / (2 * product)
				at.FuseeTurn = turn
			} else {
				chain += math.Pi * dt * (before + float64(at.Radius))
			}
		}
		points = append(points, at)
	}
	return points, chain, torque, true
}

// solveFusee computes the profile.
func (b *bench) solveFusee(a *Answer) {
	q := b.q
	if len(q.FuseeTorque) == 0 {
		return
	}
	at := func(r meas.Reading[unit.Length]) float64 {
		if !r.Set {
			return math.NaN()
		}
		return float64(r.Value)
	}
	f := &a.Fusee
	barrel := at(q.FuseeBarrel)
	least, most := math.Inf(1), 0.0
	for _, p := range q.FuseeTorque {
		least, most = math.Min(least, float64(p.Torque.Value)), math.Max(most, float64(p.Torque.Value))
	}
	if least > 0 {
		f.Unevenness = meas.Exactly(unit.Ratio(most / least))
	}
	points, chain, torque, ok := profile(q.FuseeTorque, barrel, at(q.FuseeLargest), at(q.FuseeSmallest))
	if !ok {
		b.Say(meas.Doubt, "fusee-scale", "The fusee's radii need a size to start from.", "State its largest or smallest radius and at least two torques.", fuseeRef, "fusee-largest", "fusee-torque")
		return
	}
	f.Points = points
	f.Chain = meas.Exactly(unit.Length(chain))
	f.Turns = meas.Exactly(unit.Ratio(points[len(points)-1].FuseeTurn))
	if known(torque) {
		f.Torque = meas.Exactly(unit.Torque(torque))
	}
	if known(b.N.turn()) {
		f.Running = meas.Exactly(unit.Duration(float64(f.Turns.Value) * b.N.turn()))
	}
	b.fuseeSteps(*f, barrel)
}

// fuseeRef: the rule is derived; no printed profile has been seen.
var fuseeRef = cite.Ref{Grade: cite.Exact, Note: "torque times radius kept the same; pitch of the groove neglected"}

func (b *bench) fuseeSteps(f Fusee, barrel float64) {
	first, last := f.Points[0], f.Points[len(f.Points)-1]
	b.Step("Radius of the fusee", "r = r₀ M₀ / M", fmt.Sprintf("%s · %s / %s", mm(float64(first.Radius)), unit.Text(first.Torque, "N mm", 0), unit.Text(last.Torque, "N mm", 0)), unit.Text(last.Radius, "mm", 2)+" at the last turn", fuseeRef)
	formula := "Σ π (r + r′) · turns between"
	if known(barrel) {
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
