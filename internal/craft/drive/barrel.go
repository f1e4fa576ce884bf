package drive

import (
	"math"

	"seatboard/internal/kit/unit"
)

// centre is the diameter of the middle of the line in the first layer. An
// endless rope's sprocket is measured there already.
func (n numbers) centre() float64 {
	if n.endless {
		return n.barrel
	}
	return n.barrel + or(n.line, 0)
}

// pitch is the room of one turn along the barrel.
func (n numbers) pitch() float64 {
	if n.grooved {
		return or(n.groove, n.line)
	}
	return n.line
}

// oneLayer is the turns that lie side by side, without end where the length
// of the barrel is not known.
func (n numbers) oneLayer() float64 { return or(n.barrelLength/n.pitch(), math.Inf(1)) }

// wound is the length of line in the first k turns laid on, layer upon layer.
// Below nought it runs on evenly, so that times can be found past the end.
func (n numbers) wound(k float64) float64 {
	d, room := n.centre(), n.oneLayer()
	if k <= room || n.layers < 2 || !known(k+n.line) {
		return math.Pi * d * k
	}
	var sum float64
	for layer := 1; k > 0; layer++ {
		now := math.Min(k, room)
		if float64(layer) >= n.layers {
			now = k
		}
		sum += math.Pi * d * now
		k -= now
		d += 2 * n.line
	}
	return sum
}

// used is the turns taken from wound to down: counted, else those that the
// wanted time needs.
func (n numbers) used() float64 { return or(n.turns, n.due()/n.turn()) }

// paid is the line paid out in p turns from wound.
func (n numbers) paid(p float64) float64 {
	all := n.used() + n.wraps
	if !n.stacked() {
		return math.Pi * n.centre() * p
	}
	return n.wound(all) - n.wound(all-p)
}

// stacked tells whether line lies on line.
func (n numbers) stacked() bool { return n.layers > 1 && n.used()+n.wraps > n.oneLayer() }

// turn is the time of one turn of great wheel and barrel.
func (n numbers) turn() float64 {
	t := or(n.turnTime, 3600/n.turnsPerHour)
	return or(t, n.wanting/n.turns)
}

// due is when winding falls due: the time wanted, else the usual, else the
// end of the turns.
func (n numbers) due() float64 { return or(n.wanting, or(n.usual, n.turns*n.turn())) }

// usualDue is the usual time for turns that last so long, NaN where there is
// none: a week's clock is wound with a day in hand, a longer or shorter one as
// it was made.
func (n numbers) usualDue() float64 {
	lasts := n.turns * n.turn()
	switch {
	case n.endless:
		return float64(usualEndless.V)
	case lasts < 7*float64(unit.Day)*(1-1e-9) || lasts >= 14*float64(unit.Day)*(1-1e-9):
		return math.NaN()
	}
	return float64(usualRun.V)
}

// runs is how long the turns on the barrel last. A measured fall belongs to
// the running time alone.
func (n numbers) runs() float64 {
	t := n.used() * n.turn()
	if known(n.fall) {
		return or(t, n.wanting)
	}
	return t
}

// fallen is how far the weight has come down after t, as if nothing stopped
// it.
func (n numbers) fallen(t float64) float64 {
	if known(n.fall) {
		return n.fall * t / n.runs()
	}
	return n.paid(t/n.turn()) / n.falls
}

// total is the fall over the running time. Without a time the turns alone
// tell.
func (n numbers) total() float64 {
	if known(n.fall) {
		return n.fall
	}
	return n.paid(n.used()) / n.falls
}

// room is what the case leaves for the fall.
func (n numbers) room() float64 { return or(n.space, n.seat-n.wLength-n.gap) }

// reach is the time at which the weight has fallen by f. Past the last turn
// the line is thought to run on.
func (n numbers) reach(f float64) float64 {
	perTurn := math.Pi * n.centre() / n.falls
	if known(n.fall) {
		return f / n.fall * n.runs()
	}
	if !n.stacked() {
		return f / perTurn * n.turn()
	}
	low, high := math.Min(0, f/perTurn*n.turn()), math.Max(0, f/perTurn*n.turn())
	if !known(high) {
		return math.NaN()
	}
	for range 60 {
		mid := (low + high) / 2
		if n.fallen(mid) < f {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// end is when the drive stops: the turns are used or the weight is down.
func (n numbers) end() float64 {
	t, land := n.runs(), n.reach(n.room())
	if known(land) && land < t {
		return land
	}
	return t
}

// bottom is the depth of the weight's lower end under the seat board at t.
func (n numbers) bottom(t float64) float64 { return n.bottomWound() + n.fallen(t) }

func (n numbers) bottomWound() float64 { return or(n.seat-n.room(), n.wLength+n.gap) }

// free is the length from which the weight swings at t, to its middle.
func (n numbers) free(t float64) float64 { return n.bottom(t) - n.middle() + n.above }

// middle is the height of the weight's centre over its lower end.
func (n numbers) middle() float64 { return or(n.wHeight, n.wLength) / 2 }
