package rate

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/trend"
)

func TestChecks(t *testing.T) {
	check.All(t, Checks())
	for _, e := range Sources() {
		if _, ok := cite.Find(e.Ref.Source); !ok && e.Ref.Source != "" {
			t.Errorf("%s: no source %q", e.Name, e.Ref.Source)
		}
	}
}

// The smoother against a table of the Nile's level, computed elsewhere.
func TestSmootherAgainstNile(t *testing.T) {
	file, err := os.Open(check.Shared(t, "reference", "tables", "nile_local_level.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	const scatter, walk = 15099, 1469.1
	flow := trend.Nile()
	s := stretch{y: flow[:]}
	for i := range flow {
		s.n, s.side, s.v, s.odd = append(s.n, float64(i)), append(s.side, 0), append(s.v, 1), append(s.odd, false)
	}
	f := fit{lambda: walk / scatter, rss: scatter * 99, freedom: 99}
	pl := s.places(&f, 0, math.Inf(1))
	for i, row := range rows[1:] {
		level, _ := strconv.ParseFloat(row[7], 64)
		variance, _ := strconv.ParseFloat(row[8], 64)
		check.Near(t, "level "+row[0], pl[i].clock, level, 1e-5)
		check.Near(t, "variance "+row[0], scatter*pl[i].var2, variance, 1e-4)
	}
}
