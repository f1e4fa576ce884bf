package present

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/train"
	"seatboard/internal/craft/train/ratio"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// Ratio sets out the fractions and trains near a ratio.
func Ratio(a ratio.Answer) doc.Doc {
	open := doc.Section{Body: []doc.Block{ratioFacts(a)}}
	open.Body = append(open.Body, notices(a.Findings)...)
	if len(a.Exact) > 0 {
		open.Body = append(open.Body, exactWays(a))
	} else if len(a.Trains) > 0 {
		open.Body = append(open.Body, fewTeeth(a))
	}
	if f, ok := nearFigure(a); ok {
		open.Body = append(open.Body, f)
	}
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working}, sources(a.Working, a.Findings))
	d := doc.Doc{Title: "A ratio with few teeth", Sections: []doc.Section{open}}
	books := doc.Section{Heading: "As the books do it"}
	for _, t := range []doc.Table{fractionTable(a), walkTable(a), by360Table(a)} {
		if len(t.Rows) > 0 {
			books.Body = append(books.Body, t)
		}
	}
	if len(books.Body) > 0 {
		d.Sections = append(d.Sections, books)
	}
	return d
}

func ratioFacts(a ratio.Answer) doc.Facts {
	r, _ := a.Ratio.Float64()
	f := doc.Facts{{Label: "Ratio", Value: ratioDigits(r), Note: ratioNote(a)}}
	if len(a.Trains) == 0 {
		return f
	}
	best := a.Trains[0]
	f = append(f, doc.Fact{Label: "Nearest train", Value: pairWords(best.Pairs), Note: fmt.Sprintf("%d teeth in all, %s", best.Teeth, offWords(best.Train, best.Off))})
	for i := len(a.Trains) - 1; i > 0; i-- { // those with few teeth come last
		if t := a.Trains[i]; t.Few && math.Abs(t.Rate.PerDay()) <= fewGood {
			f = append(f, doc.Fact{Label: "With fewest teeth", Value: pairWords(t.Pairs), Note: fmt.Sprintf("%d teeth in all, %s; the fewest within %d s a day", t.Teeth, offWords(t.Train, t.Off), fewGood)})
			break
		}
	}
	return f
}

// fewGood is how far off, in s a day, a train with few teeth may be to stand
// at the head; common practice, no source.
const fewGood = 5

func ratioNote(a ratio.Answer) string {
	note := "turns of the quicker arbor in one of the slower"
	if a.Slow.Set {
		note += ", which takes " + train.Interval(exactSeconds(float64(a.Slow.Value)))
	}
	return note
}

// exactSeconds is a time for writing; nought is not known.
func exactSeconds(s float64) train.Exact {
	var e train.Exact
	if err := e.UnmarshalText([]byte(strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.3f", s), "0"), "."))); err != nil {
		return train.Exact{}
	}
	return e
}

// ratioDigits writes a ratio with nine figures at the most.
func ratioDigits(r float64) string {
	s := unit.Significant(r, 9)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func pairWords(pairs []ratio.Pair) string {
	var out []string
	for _, p := range pairs {
		out = append(out, p.String())
	}
	return strings.Join(out, " · ")
}

// offWords says what a train does in the place of the ratio.
func offWords(t ratio.Train, o ratio.Off) string {
	if t.Exact() {
		return "exact"
	}
	if o.Turn.Set {
		return lateWords(o) + " a turn"
	}
	return figures(o.Rate.PerDay(), 2) + " s a day"
}

// lateWords says what each turn of the slower arbor is off by.
func lateWords(o ratio.Off) string {
	way := "late"
	if o.Turn.Value < 0 {
		way = "early"
	}
	return unit.Significant(math.Abs(float64(o.Turn.Value)), 2) + "\u00a0s " + way
}

// figures writes a signed number.
func figures(x float64, digits int) string {
	s := unit.Significant(x, digits)
	if x > 0 {
		s = "+" + s
	}
	return s
}

// offColumns are the last columns of the tables of ratios.
func offColumns(a ratio.Answer) []doc.Column {
	c := []doc.Column{{Head: "Gains", Unit: "s a day", Number: true}}
	if a.Turn.Set {
		c = append(c, doc.Column{Head: "Turn too long by", Unit: "s", Number: true})
	}
	return c
}

func offCells(o ratio.Off, miss *big.Rat) []string {
	if miss.Sign() == 0 {
		if o.Turn.Set {
			return []string{"0", "0"}
		}
		return []string{"0"}
	}
	c := []string{figures(o.Rate.PerDay(), 3)}
	if o.Turn.Set {
		c = append(c, figures(float64(o.Turn.Value), 3))
	}
	return c
}

// mostExact is how many ways of one ratio are listed.
const mostExact = 30

// exactWays lists the trains that make the ratio itself.
func exactWays(a ratio.Answer) doc.Table {
	l := a.Limits
	t := doc.Table{Caption: "The ratio itself, the fewest teeth first", Columns: []doc.Column{{Head: "Train"}, {Head: "Teeth", Number: true}},
		Note: fmt.Sprintf("%s of %s, wheels from %d to %d, pinions from %d to %d.", phrase.Times(a.Trains[0].Ways, "way", "ways"), phrase.Times(l.Pairs, "pair", "pairs"), l.WheelFrom, l.WheelTo, l.LeafFrom, l.LeafTo)}
	for _, x := range a.Exact[:min(len(a.Exact), mostExact)] {
		t.Rows = append(t.Rows, []string{pairWords(x.Pairs), fmt.Sprint(int(x.Teeth))})
	}
	if n := a.Trains[0].Ways; n > len(t.Rows) {
		t.Note += fmt.Sprintf(" The first %d are shown.", len(t.Rows))
	}
	return t
}

// fewTeeth lists the trains that none beats in both nearness and teeth.
func fewTeeth(a ratio.Answer) doc.Table {
	l := a.Limits
	t := doc.Table{Caption: "None is as near with fewer teeth", Note: fmt.Sprintf("Every train of %s, wheels from %d to %d, pinions from %d to %d, was looked at. “Ways” are the sets of counts that make the same ratio.", phrase.Times(l.Pairs, "pair", "pairs"), l.WheelFrom, l.WheelTo, l.LeafFrom, l.LeafTo)}
	t.Columns = append([]doc.Column{{Head: "Train"}, {Head: "Teeth", Number: true}}, offColumns(a)...)
	t.Columns = append(t.Columns, doc.Column{Head: "Ratio"}, doc.Column{Head: "Ways", Number: true})
	for _, x := range a.Trains {
		if x.Few {
			t.Rows = append(t.Rows, trainCells(x))
		}
	}
	return t
}

func trainCells(x ratio.Offer) []string {
	row := append([]string{pairWords(x.Pairs), fmt.Sprint(int(x.Teeth))}, offCells(x.Off, x.Miss)...)
	return append(row, ratio.Written(x.Ratio), fmt.Sprint(x.Ways))
}

// allTrains are those of the figure.
func allTrains(a ratio.Answer) doc.Table {
	t := fewTeeth(a)
	t.Caption, t.Rows = "Trains of the picture, the nearest first", nil
	for _, x := range a.Trains {
		t.Rows = append(t.Rows, trainCells(x))
	}
	return t
}

// mostBetween is how many of the fractions between two convergents are listed.
const mostBetween = 12

func fractionTable(a ratio.Answer) doc.Table {
	t := doc.Table{Caption: "Continued fraction", Note: "Each is nearer than any with a smaller denominator; what is marked lies between two convergents."}
	t.Columns = append([]doc.Column{{Head: "Fraction"}, {Head: "Factors"}, {Head: "Between"}}, offColumns(a)...)
	within := slices.Clone(a.Fractions)
	if i := slices.IndexFunc(within, func(f ratio.Near) bool { return beyond(a, f.Ratio) }); i >= 0 {
		within = within[:i]
	}
	for i, f := range within {
		if to := i + mostBetween; f.Between && to < len(within) && !slices.ContainsFunc(within[i:to+1], func(f ratio.Near) bool { return !f.Between }) {
			t.Note = fmt.Sprintf("Each is nearer than any with a smaller denominator; what is marked lies between two convergents, and of a long row of those the last %d are listed.", mostBetween)
			continue
		}
		between := ""
		if f.Between {
			between = "between"
		}
		t.Rows = append(t.Rows, append([]string{ratio.Written(f.Ratio), "(" + ratio.FactorWords(f.Ratio.Num()) + ") / (" + ratio.FactorWords(f.Ratio.Denom()) + ")", between}, offCells(f.Off, f.Miss)...))
	}
	return t
}

// beyond tells whether a fraction has more than the pairs can make.
func beyond(a ratio.Answer, r *big.Rat) bool {
	most := math.Pow(float64(a.Limits.WheelTo), float64(a.Limits.Pairs))
	n, _ := new(big.Float).SetInt(r.Num()).Float64()
	return n > most
}

func walkTable(a ratio.Answer) doc.Table {
	t := doc.Table{Caption: "Walk between the whole numbers",
		Note: "Numerators and denominators of the nearest under and over are added. “Off by” is the numerator times the denominator of the ratio, less the other product."}
	t.Columns = append([]doc.Column{{Head: "Fraction"}, {Head: "Off by", Number: true}}, offColumns(a)...)
	for _, f := range a.Walk {
		if beyond(a, f.Ratio) {
			break
		}
		t.Rows = append(t.Rows, append([]string{ratio.Written(f.Ratio), wholeWords(ratio.Over(f.Fraction, a.Ratio))}, offCells(f.Off, f.Miss)...))
	}
	return t
}

// wholeWords writes a whole number with its sign.
func wholeWords(n *big.Int) string {
	s := strings.Replace(n.String(), "-", "−", 1)
	if n.Sign() > 0 {
		s = "+" + s
	}
	return s
}

func by360Table(a ratio.Answer) doc.Table {
	t := doc.Table{Caption: "By the rule of 360", Columns: []doc.Column{{Head: "Wheel and pinion"}, {Head: "360 divided by", Number: true}},
		Note: "As the ratio, so a fourth number to 360; both are divided, and the wheel is rounded."}
	t.Columns = append(t.Columns, offColumns(a)...)
	for _, b := range a.By360 {
		t.Rows = append(t.Rows, append([]string{b.Pair.String(), fmt.Sprint(b.By)}, offCells(b.Off, b.Miss)...))
	}
	return t
}
