package table

import (
	"slices"
	"strings"
	"unicode"
)

// words that a heading says a column with. The first that fits counts, so what
// is more particular stands first.
var headWords = []struct {
	what  string
	words []string
}{
	{string(Skip), []string{"id", "no", "number", "nr", "index", "row", "line"}},
	{aDoubt, []string{"doubt", "uncertainty", "sigma", "plusminus", "accuracy", "u"}},
	{recorder, []string{"recorder"}},
	{temperature, []string{"temperature", "temp", "thermometer", "ther"}},
	{pressure, []string{"pressure", "press", "barometer", "barometric", "baro", "bar"}},
	{humidity, []string{"humidity", "hum", "rh", "hygrometer"}},
	{wholeArc, []string{"whole", "total"}},
	{halfArc, []string{"arc", "amplitude", "swing", "semiarc", "semi"}},
	{weight, []string{"weight", "fall"}},
	{losing, []string{"losing", "loss", "loses"}},
	{aRate, []string{"rate", "gaining", "gain", "gains"}},
	{slowBy, []string{"correction", "slow", "behind"}},
	{anError, []string{"error", "err", "offset", "deviation", "fast", "ahead", "difference", "diff"}},
	{string(From), []string{"from", "start", "begin", "beginning", "since"}},
	{string(At), []string{"to", "until", "end", "at", "datetime", "timestamp", "instant", "when", "moment"}},
	{string(How), []string{"how", "method", "way"}},
	{string(Touch), []string{"touch", "touches", "event", "action", "done", "adjustment"}},
	{string(Date), []string{"date", "day"}},
	{string(Time), []string{"time", "hour", "clock"}},
}

// unitWords are how headings write units, for each kind of column.
var unitWords = map[string][][2]string{
	temperature: {{"°c", "°C"}, {"c", "°C"}, {"degc", "°C"}, {"celsius", "°C"}, {"centigrade", "°C"}, {"°f", "°F"}, {"f", "°F"}, {"degf", "°F"}, {"fahrenheit", "°F"}, {"fahr", "°F"}, {"k", "K"}, {"kelvin", "K"}},
	pressure:    {{"hpa", "hPa"}, {"mbar", "hPa"}, {"mb", "hPa"}, {"millibar", "hPa"}, {"inhg", "inHg"}, {"in", "inHg"}, {"inches", "inHg"}, {"mmhg", "mmHg"}, {"mm", "mmHg"}, {"torr", "mmHg"}, {"kpa", "kPa"}, {"pa", "Pa"}},
	humidity:    {{"percent", "%"}, {"%", "%"}, {"rh", "%"}},
	anError:     {{"min", "min"}, {"minutes", "min"}, {"hours", "h"}},
	slowBy:      {{"min", "min"}, {"minutes", "min"}},
	aRate:       {{"ppm", "ppm"}, {"week", "s/wk"}, {"wk", "s/wk"}, {"min", "min/d"}, {"minutes", "min/d"}},
	losing:      {{"week", "s/wk"}, {"wk", "s/wk"}, {"min", "min/d"}, {"minutes", "min/d"}},
	recorder:    {{"ppm", "ppm"}},
	halfArc:     {{"mrad", "mrad"}},
	wholeArc:    {{"mrad", "mrad"}},
	weight:      {{"cm", "cm"}, {"mm", "mm"}, {"in", "in"}, {"inches", "in"}},
}

// headWord splits a heading: "rate_s_per_day" has four words, "Temp. (°F)"
// two; "bar_hPa" has hpa, and h and pa besides.
func headWord(head string) []string {
	var out []string
	var word, whole []rune
	flush := func() {
		if len(word) > 0 {
			out = append(out, strings.ToLower(string(word)))
			word = nil
		}
	}
	end := func() {
		if len(whole) > len(word) {
			out = append(out, strings.ToLower(string(whole)))
		}
		whole = nil
		flush()
	}
	for _, r := range head {
		switch {
		case r == 'º':
			r = '°'
			fallthrough
		case unicode.IsLetter(r) || r == '°' || r == '%' || r == '±':
			if r == '±' {
				end()
				out = append(out, "plusminus")
				continue
			}
			if n := len(word); n > 0 && unicode.IsUpper(r) && unicode.IsLower(word[n-1]) || r == '°' || r == '%' {
				flush()
			}
			word, whole = append(word, r), append(whole, r)
		default:
			end()
		}
	}
	end()
	return out
}

// meant guesses what a heading says; "" where nothing is known of it.
func meant(head string) Meaning {
	words := headWord(head)
	if len(words) == 0 {
		return ""
	}
	for _, h := range headWords {
		if !slices.ContainsFunc(words, func(w string) bool { return slices.Contains(h.words, w) }) {
			continue
		}
		if h.what == wholeArc && !slices.Contains(words, "arc") || bothSides(h.what, words) {
			continue
		}
		if (h.what == string(Date) || h.what == string(Time)) && slices.Contains(words, "date") && slices.Contains(words, "time") {
			return At
		}
		return withUnit(h.what, words)
	}
	return ""
}

// bothSides tells whether a heading names both ways of one thing, "fast/slow";
// then the first of them is positive.
func bothSides(what string, words []string) bool {
	either := map[string][]string{losing: {"gaining", "gain", "gains"}, slowBy: {"fast", "ahead"}}[what]
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(either, w) })
}

// withUnit finds the unit in the words of a heading.
func withUnit(what string, words []string) Meaning {
	for _, q := range quantities {
		if q.what != what {
			continue
		}
		symbol := q.units[0]
		for _, u := range unitWords[what] {
			if slices.Contains(words, u[0]) {
				symbol = u[1]
				break
			}
		}
		return of(what, symbol)
	}
	if what == string(At) && slices.Contains(words, "unix") {
		return "at unix"
	}
	return Meaning(what)
}
