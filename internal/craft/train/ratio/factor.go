package ratio

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
)

// mostFactored is the largest number that is taken apart by trial.
const mostFactored = 1e12

// Factors are the prime factors of a number above nought, the smallest first;
// nil where it is over 10¹².
func Factors(n *big.Int) []int64 {
	if n.Sign() <= 0 || !n.IsInt64() || n.Int64() > mostFactored {
		return nil
	}
	x := n.Int64()
	var out []int64
	for p := int64(2); p*p <= x; p++ {
		for x%p == 0 {
			out = append(out, p)
			x /= p
		}
	}
	if x > 1 {
		out = append(out, x)
	}
	return out
}

// FactorWords writes a number as its factors: "2 · 3² · 7"; the number itself
// where it is prime, one or too long.
func FactorWords(n *big.Int) string {
	f := Factors(n)
	if len(f) < 2 {
		return short(n)
	}
	var words []string
	for i := 0; i < len(f); {
		k := i
		for k < len(f) && f[k] == f[i] {
			k++
		}
		w := strconv.FormatInt(f[i], 10)
		if k-i > 1 {
			w += raised(k - i)
		}
		words, i = append(words, w), k
	}
	return strings.Join(words, " · ")
}

// raised writes a small number as an exponent.
func raised(n int) string {
	var b strings.Builder
	for _, d := range strconv.Itoa(n) {
		b.WriteRune([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹")[d-'0'])
	}
	return b.String()
}

// FactorStep is the working of a ratio taken apart into what its wheels and
// pinions must hold.
func FactorStep(r *big.Rat) cite.Step {
	return cite.Step{Name: "Factors", Formula: "wheels / leaves", Numbers: Written(r), Result: fmt.Sprintf("(%s) / (%s)", FactorWords(r.Num()), FactorWords(r.Denom())), Ref: cite.Ref{Grade: cite.Exact}}
}

// largest is the largest prime factor, 0 where the number is too long.
func largest(n *big.Int) int64 {
	f := Factors(n)
	if len(f) == 0 {
		if n.Cmp(big.NewInt(1)) == 0 {
			return 1
		}
		return 0
	}
	return f[len(f)-1]
}
