package rate

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/series"
)

var handbook = cite.Ref{Source: "sp1065"}

// Sources lists what this chapter leans on.
func Sources() []cite.Entry {
	place := func(p string) cite.Ref { r := handbook; r.Place = p; return r }
	return []cite.Entry{
		{Name: "deviations of the rate (Allan, modified, time, Hadamard)", Value: "definitions", Ref: place("section 5.2")},
		{Name: "degrees of freedom of the Allan deviation, by kind of noise", Value: "five closed forms", Ref: place("Table 5")},
		{Name: "degrees of freedom for mixed noise", Value: "closed form", Ref: cite.Ref{Grade: cite.Exact, Note: "from the correlation of the second differences"}},
		{Name: "filter and smoother of a walk in noise", Value: "recursions", Ref: cite.Ref{Source: "durbin", Place: "ch. 2", Note: "the printed figures of its example come out"}},
		{Name: "chance held beforehand of the ratio of wander to scatter", Value: "Jeffreys' prior", Ref: cite.Ref{Grade: cite.Computed, Note: "from the cosine transform of the beats"}},
		{Name: "the same, its exponents for the mean and the rate to expect", Value: "-0.35 and 0.9", Ref: cite.Ref{Grade: cite.Computed, Note: "by simulation, so that the limits hold as nearly alike as they can"}},
		{Name: "chance held beforehand that there is no wander", Value: "6 and 24 over the root of the beats", Ref: cite.Ref{Grade: cite.Computed, Note: "by the same simulation; in units of the prior's peak"}},
		{Name: "weight held beforehand of a rate that walks at random", Value: "0.02, growing by 1.16 from size to size", Ref: cite.Ref{Grade: cite.Computed, Note: "by the same simulation; a steady rate has 1"}},
	}
}

// Checks sets printed figures beside ours.
func Checks() []cite.Check { return append(suites(), nile()...) }

// suites are both test suites of the handbook.
func suites() []cite.Check {
	nine, thousand := nineYears(), thousandNumbers()
	var out []cite.Check
	for _, k := range []struct {
		name     string
		of       func([]float64, float64, int) series.Deviation
		nine     [2]string
		thousand [3]string
	}{
		{"Allan deviation", series.Allan, [2]string{"91.22945", "115.8082"}, [3]string{"0.2922319", "0.09965736", "0.03897804"}},
		{"overlapping Allan deviation", series.AllanOverlapping, [2]string{"91.22945", "85.95287"}, [3]string{"0.2922319", "0.09159953", "0.03241343"}},
		{"modified Allan deviation", series.Modified, [2]string{"91.22945", "74.78849"}, [3]string{"0.2922319", "0.06172376", "0.02170921"}},
		{"time deviation", series.Time, [2]string{"52.67135", "86.35831"}, [3]string{"0.1687202", "0.3563623", "1.253382"}},
		{"Hadamard deviation", series.Hadamard, [2]string{"70.80607", "116.7980"}, [3]string{"0.2943883", "0.1052754", "0.03910860"}},
		{"overlapping Hadamard deviation", series.HadamardOverlapping, [2]string{"70.80607", "85.61487"}, [3]string{"0.2943883", "0.09581083", "0.03237638"}},
	} {
		for i, printed := range k.nine {
			out = append(out, cite.Check{What: fmt.Sprintf("%s, 9 numbers, by %d", k.name, i+1), Ref: cite.Ref{Source: "sp1065", Place: "Table 30, p. 107"}, Printed: printed, Got: k.of(nine, 1, i+1).Dev})
		}
		for i, m := range []int{1, 10, 100} {
			c := cite.Check{What: fmt.Sprintf("%s, 1000 numbers, by %d", k.name, m), Ref: cite.Ref{Source: "sp1065", Place: "Table 31, p. 108"}, Printed: k.thousand[i], Got: k.of(thousand, 1, m).Dev}
			if c.Printed == "0.03910860" {
				c.Tol = 1e-8 // 0.0391086056: the print cuts the last digit
			}
			out = append(out, c)
		}
	}
	return out
}

// nineYears are the nine frequencies of the first suite, summed to phase.
func nineYears() []float64 {
	x := []float64{0}
	for _, y := range [9]float64{892, 809, 823, 798, 671, 644, 883, 903, 677} {
		x = append(x, x[len(x)-1]+y)
	}
	return x
}

// thousandNumbers are those of the second: the generator is part of it.
func thousandNumbers() []float64 {
	const modulus = 2147483647
	x := []float64{0}
	for n := uint64(1234567890); len(x) <= 1000; n = 16807 * n % modulus {
		x = append(x, x[len(x)-1]+float64(n)/modulus)
	}
	return x
}
