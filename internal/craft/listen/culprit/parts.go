package culprit

import (
	"math/big"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/unit"
)

// mostTeeth bounds the escape wheel whose teeth are told apart.
const mostTeeth = 200

// Parts lists what repeats in the going train of a: every arbor once a turn
// and every mesh once a tooth, the barrel's first. Both need the beats an
// hour and the turns of the arbor; parts that lack them are left out.
// escapeTeeth is half the beats in a turn of the last arbor, 0 where they are
// not known or not even.
func Parts(a train.Answer) (parts []Part, escapeTeeth int) {
	beats := a.BeatsPerHour.Rat()
	going := goingTrain(a)
	if beats == nil || beats.Sign() <= 0 || going == nil {
		return nil, 0
	}
	for i, x := range going.Arbors {
		if p, ok := every(beats, x.TurnsPerHour.Rat()); ok {
			p.Name, p.Kind, p.Arbor = train.WheelName(x.Name), Turn, i
			parts = append(parts, p)
			if per := perTurn(beats, x.TurnsPerHour.Rat()); i == len(going.Arbors)-1 && per > 0 && per%2 == 0 && per/2 <= mostTeeth {
				escapeTeeth = per / 2
			}
		}
	}
	for _, m := range going.Meshes {
		if p, ok := every(beats, m.ContactsPerHour.Rat()); ok {
			p.Name, p.Kind, p.Arbor = train.PinionName(going.Arbors[m.Driver+1].Name)+" with "+train.WheelName(going.Arbors[m.Driver].Name), Contact, m.Driver
			parts = append(parts, p)
		}
	}
	return parts, escapeTeeth
}

func goingTrain(a train.Answer) *train.Turned {
	for i, t := range a.Trains {
		if t.Name == train.Going && len(t.Arbors) > 0 {
			return &a.Trains[i]
		}
	}
	return nil
}

// every is a part that comes so many times an hour.
func every(beats, times *big.Rat) (Part, bool) {
	if times == nil || times.Sign() <= 0 {
		return Part{}, false
	}
	b, _ := new(big.Rat).Quo(beats, times).Float64()
	s, _ := new(big.Rat).Quo(big.NewRat(3600, 1), times).Float64()
	return Part{Period: unit.Duration(s), Beats: b}, true
}

// perTurn is the beats in a turn where they are a whole number, else 0.
func perTurn(beats, turns *big.Rat) int {
	r := new(big.Rat).Quo(beats, turns)
	if !r.IsInt() || !r.Num().IsInt64() || r.Num().Int64() > 2*mostTeeth {
		return 0
	}
	return int(r.Num().Int64())
}
