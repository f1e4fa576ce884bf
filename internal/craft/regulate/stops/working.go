package stops

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// sum writes the working of the best suspect.
func (s *solver) sum(a Answer, looked int) {
	if len(a.Suspects) == 0 {
		return
	}
	step := func(name, formula, numbers, result string, ref cite.Ref) {
		s.working = append(s.working, cite.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Ref: ref})
	}
	x, exact := a.Suspects[0], cite.Ref{Grade: cite.Exact}
	own := unit.Significant(x.Own, 3)
	switch x.Kind {
	case Wheel, Mesh, Dial, StrikeWheel:
		s.sumRing(x, step)
	case Low:
		step("Chance that the parts of the run come to so much", "P(U₁ + … + Uₙ ≥ s), each Uᵢ anywhere from 0 to 1", fmt.Sprintf("n = %d stops", x.Stops), own, exact)
	case Height:
		step("Chance that the weight hangs at one height so often", "sets as telling / all sets drawn, each weight anywhere in its run", fmt.Sprintf("n = %d stops, k = %d in %s of the run", x.Stops, x.Hold, unit.Significant(x.Width, 2)), own, familyRef)
	case RackHour:
		step("Chance that some hour of twelve comes so often", "1 − n! Σ Π 1/(mᵢ! 12^mᵢ), each mᵢ < k, Σ mᵢ = n", fmt.Sprintf("n = %d stops at the strike, k = %d", x.Stops, x.Hold), own, exact)
	case RackFall:
		step("Chance that hours drawn alike come to so many blows", "choices of n hours of 1 to 12 with no smaller sum / 12^n", fmt.Sprintf("n = %d stops at the strike", x.Stops), own, exact)
	case Cold:
		step("Chance that rooms drawn from all the airs rank as low", "choices of n ranks with no greater sum / all choices", fmt.Sprintf("n = %d stops, %d airs", x.Stops, len(s.airs())), own, exact)
	default:
		step(fmt.Sprintf("Chance that at least %d of %d stops come in that share of the time", x.Hold, x.Stops), "Σ C(n,i) p^i (1 − p)^(n−i), i from k to n",
			fmt.Sprintf("n = %d, k = %d, p = %s", x.Stops, x.Hold, unit.Significant(x.Width, 3)), own, exact)
	}
	step(fmt.Sprintf("Chance of as much anywhere among the %d things looked at", looked), "the least of all the chances, in stops that come at any time alike",
		fmt.Sprintf("%d sets drawn", a.Draws), unit.Significant(x.Chance, 2), familyRef)
}

// mostPlaces is how many places on the turn are written out.
const mostPlaces = 6

// sumRing is the working of what turns.
func (s *solver) sumRing(x Suspect, step func(name, formula, numbers, result string, ref cite.Ref)) {
	hands := map[int]Hands{}
	for _, p := range s.spots {
		hands[p.ID] = p.Hands
	}
	var places []string
	for _, m := range x.Marks[:min(len(x.Marks), mostPlaces)] {
		places = append(places, hands[m.Stop].String()+" at "+unit.Number(m.Turn, 3))
	}
	formula := "(hands − all they were set by) / time of one turn, whole turns left out"
	if x.Kind == StrikeWheel {
		formula = "blows past since twelve · turns in one blow, whole turns left out"
	}
	step("Where it stood on its turn at each stop", formula, x.turnOf(), strings.Join(places, ", "), cite.Ref{Grade: cite.Exact})
	if x.Kind == StrikeWheel {
		step(fmt.Sprintf("Chance that %d of %d hours drawn alike come as near together on it", x.Hold, x.Stops), "sets as telling / all sets drawn", fmt.Sprintf("a blow turns it %s of a turn", unit.Significant(2*x.Doubt, 3)), unit.Significant(x.Own, 3), familyRef)
	}
	if x.Spread == nil || x.Hold < 2 {
		return
	}
	chance, exact := circular.Hold(x.Stops, x.Hold, x.Width)
	ref := arcRef
	if !exact {
		ref.Note = "a bound: fewer than half are in the place"
	}
	step(fmt.Sprintf("Chance that %d of %d stops lie in so small a part of a turn", x.Hold, x.Stops), "C(n,k) (k − n w) w^(k−1) (1 − w)^(n−k−1)",
		fmt.Sprintf("n = %d, k = %d, w = %s, the reading’s doubt of %s in it", x.Stops, x.Hold, unit.Significant(x.Width, 3), unit.Significant(2*x.Doubt, 3)), unit.Significant(chance, 3), ref)
	step("The same by the mean direction", "e^(−z) (1 + (2z − z²)/4n − …), z = n R²",
		fmt.Sprintf("n = %d, R = %s", x.Stops, unit.Significant(x.Spread.Length, 3)), unit.Significant(x.Spread.Chance, 3), rayleighRef)
}
