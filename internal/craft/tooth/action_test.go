package tooth

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

// TestHeightsComputedBefore holds the pointed heights and the angles of
// action to those that were computed for the reference another way.
func TestHeightsComputedBefore(t *testing.T) {
	f, err := os.Open("testdata/addendum_computed.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[2:] {
		n, _ := strconv.Atoi(row[0])
		for i := 1; i <= 10; i++ {
			ratio, err := strconv.ParseFloat(strings.TrimPrefix(rows[1][i], "ratio "), 64)
			if err != nil {
				t.Fatal(err)
			}
			wheel := ratio * float64(n)
			e := Epicycloid{Base: wheel / 2, Rolling: float64(n) / 4, Begin: math.Pi / (2 * wheel)}
			printed(t, row[i], e.out(e.pointed())-wheel/2)
			if ratio == 7.5 {
				printed(t, row[11], e.pointed()*ratio*180/math.Pi)
			}
		}
	}
}

func printed(t *testing.T, want string, got float64) {
	t.Helper()
	w, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	most := 0.0005 // trailing noughts are dropped in the table
	if w > 10 {
		most = 0.005
	}
	if math.Abs(w-got) > most+1e-12 {
		t.Errorf("computed before %s, ours %.5f", want, got)
	}
}

// TestExactKeepsTheRatio looks at the action independently of how the flanks
// were laid out: the common normal of wheel and leaf goes through the pitch
// point, wherever the cycloid of the wheel touches the radial leaf.
func TestExactKeepsTheRatio(t *testing.T) {
	for _, n := range [][2]train.Teeth{{30, 6}, {60, 8}, {75, 10}, {96, 12}, {400, 30}} {
		p, err := Theoretical(n[0], n[1], unit.Millimetres(1))
		if err != nil {
			t.Fatal(err)
		}
		R, r := p.Wheel.Pitch.MM(), p.Pinion.Pitch.MM()
		e := p.Wheel.Flank[1].(Epicycloid)
		for k := 1; k <= 50; k++ {
			at, d := e.At(float64(k) / 50)
			turn := -e.Turn * float64(k) / 50 // of the wheel past the line of centres
			q, way := at.Turn(turn-e.Begin), d.Turn(turn-e.Begin)
			// The upper flank drives: the wheel turns to y > 0, and the pinion's
			// centre is at R + r.
			leaf := turn * R / r
			if off := q.Minus(geom.Pt{X: R + r}).Cross(geom.Polar(1, math.Pi-leaf)); math.Abs(off) > 1e-9 {
				t.Errorf("%v: the cycloid is %g mm off the leaf", n, off)
			}
			pitch := geom.Pt{X: R}
			if s := q.Minus(pitch).Dot(way.Unit()); math.Abs(s) > 1e-9 {
				t.Errorf("%v: the normal misses the pitch point by %g mm", n, s)
			}
			phi := leaf
			if x := R + r*math.Sin(phi)*math.Sin(phi); math.Abs(q.X-x) > 1e-9 || math.Abs(math.Abs(q.Y)-r*math.Sin(phi)*math.Cos(phi)) > 1e-9 {
				t.Errorf("%v: contact at %v, on the describing circle %g", n, q, x)
			}
		}
	}
}
