package divide

import (
	"fmt"

	"seatboard/internal/kit/cite"
)

// tables is where the printed figures are from.
var tables = cite.Ref{Grade: cite.Memory, Place: "index tables of a head of 40 : 1 with its three plates"}

// threePlates are the plates of those tables.
func threePlates() Plates {
	return Plates{Heads: []Head{{Ratio: 40, Plates: [][]int{
		{15, 16, 17, 18, 19, 20}, {21, 23, 27, 29, 31, 33}, {37, 39, 41, 43, 47, 49}}}}}
}

// Sources lists what the chapter leans on.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "division by rings, worms and two circles", Value: "whole numbers", Ref: counting},
		{Name: "caution at the lathe and the wheel engine", Value: "no gloves, no loose clothing, no emery by hand", Ref: lathe},
		{Name: "circles of the index plates used in the checks", Value: "15 to 20; 21 to 33; 37 to 49", Ref: tables},
	}
}

// Checks compares figures of index tables with those reckoned here.
func Checks() []cite.Check {
	p := threePlates()
	first := 0
	for n := Fewest; first == 0; n++ {
		if reaches(p, n, false) == "" {
			first = n
		}
	}
	out := []cite.Check{{What: "first count that one circle of the three plates does not reach", Ref: tables, Printed: "51", Got: float64(first)}}
	for _, r := range []struct {
		n, circle    int
		turns, holes string
	}{{7, 21, "5", "15"}, {9, 27, "4", "12"}, {11, 33, "3", "21"}, {13, 39, "3", "3"}, {28, 49, "1", "21"}, {100, 20, "0", "8"}, {360, 18, "0", "2"}} {
		for _, w := range ways(p, r.n, false) {
			if w.Circle == r.circle {
				what := fmt.Sprintf("%d divisions, circle of %d: ", r.n, r.circle)
				out = append(out, cite.Check{What: what + "turns", Ref: tables, Printed: r.turns, Got: float64(w.Turns)},
					cite.Check{What: what + "holes", Ref: tables, Printed: r.holes, Got: float64(w.Holes)})
			}
		}
	}
	// 69 divisions: 21 holes on in 23 and 11 back in 33; the sum is what counts.
	for _, w := range ways(p, 69, true) {
		if w.Second > 0 && w.Circle*w.Second == 23*33 {
			got := float64(w.Turns) + float64(w.Holes)/float64(w.Circle) + float64(w.SecondHoles)/float64(w.Second)
			out = append(out, cite.Check{What: "turns at each of 69 divisions, 21/23 − 11/33", Ref: tables, Printed: "0.579710", Got: got})
			break
		}
	}
	return out
}
