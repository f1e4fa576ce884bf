package regulate

import (
	"embed"
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/num"
)

//go:embed data/strd_*.csv
var strd embed.FS

// The NIST sets of linear regression that the triangle is tried on: how the
// columns follow from the numbers of a row.
func regressionSets() map[string]func(x []float64) []float64 {
	line := func(x []float64) []float64 { return append([]float64{1}, x...) }
	powers := func(n int) func(x []float64) []float64 {
		return func(x []float64) []float64 {
			row := []float64{1}
			for len(row) <= n {
				row = append(row, row[len(row)-1]*x[0])
			}
			return row
		}
	}
	return map[string]func([]float64) []float64{
		"norris":  line,
		"noint1":  func(x []float64) []float64 { return append([]float64(nil), x...) },
		"pontius": powers(2),
		"longley": line,
		"filip":   powers(10),
	}
}

// regressionChecks sets what NIST certifies beside what the triangle gives,
// each to the digits that are within reach of this arithmetic: so many that
// the relative error is below 10 to minus that.
func regressionChecks() []cite.Check {
	sets := regressionSets()
	got := map[string]map[string]float64{}
	var out []cite.Check
	for _, r := range table("strd_certified") {
		set, what, printed := r[0], r[1], r[2]
		if got[set] == nil {
			got[set] = regress(table("strd_"+set), sets[set])
		}
		value, _, err := cite.PrintedNumber(printed)
		digits, errD := strconv.ParseFloat(r[3], 64)
		if err != nil || errD != nil {
			panic("regulate: the embedded figures of " + set + " are damaged") // the program's own file
		}
		name := strings.ToUpper(set[:1]) + set[1:]
		out = append(out, cite.Check{
			What:    "regression " + name + ", " + what,
			Ref:     cite.Ref{Source: "strd", Place: name, Note: "to " + r[3] + " digits"},
			Printed: printed, Got: got[set][what],
			Tol: math.Abs(value) * math.Pow(10, -digits),
		})
	}
	return out
}

// regress fits one set: b0, b1, …, their standard errors s0, s1, …, rss.
func regress(rows [][]string, columns func([]float64) []float64) map[string]float64 {
	var t *num.Triangle
	for _, r := range rows {
		x := make([]float64, len(r))
		for i, cell := range r {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				panic("regulate: an embedded regression is damaged: " + cell) // the program's own file
			}
			x[i] = v
		}
		row := columns(x[1:])
		if t == nil {
			t = num.NewTriangle(len(row))
		}
		t.Add(row, x[0])
	}
	b, inv, rss, err := t.Solve()
	if err != nil {
		return nil
	}
	out := map[string]float64{"rss": rss}
	for j := range b {
		name := strconv.Itoa(j)
		out["b"+name] = b[j]
		out["s"+name] = math.Sqrt(inv[j][j] * rss / float64(t.Count()-len(b)))
	}
	return out
}

// table is an embedded table without its heading.
func table(name string) [][]string {
	b, err := strd.ReadFile("data/" + name + ".csv")
	if err == nil {
		var rows [][]string
		if rows, err = csv.NewReader(strings.NewReader(string(b))).ReadAll(); err == nil {
			return rows[1:]
		}
	}
	panic("regulate: an embedded table is damaged: " + err.Error()) // the program's own file
}
