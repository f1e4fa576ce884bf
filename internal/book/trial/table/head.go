package table

import (
	"slices"
	"strings"
	"unicode"
)

// words that a heading says a column with. The first that fits counts, so what
// is more particular stands first.
// English, German and French are looked for.
var headWords = []struct {
	what  string
	words []string
}{
	{string(Skip), []string{"id", "no", "number", "nr", "index", "row", "line", "nummer", "zeile", "numéro", "ligne"}},
	{aDoubt, []string{"doubt", "uncertainty", "sigma", "plusminus", "accuracy", "u", "unsicherheit", "incertitude"}},
	{recorder, []string{"recorder"}},
	{string(Shows), []string{"shows", "showed", "shown", "showing", "indicated", "indicates", "zeigt", "angezeigt", "indique", "indiquée", "affiche"}},
	{temperature, []string{"temperature", "temp", "thermometer", "ther", "temperatur", "température", "thermomètre"}},
	{pressure, []string{"pressure", "press", "barometer", "barometric", "baro", "bar", "luftdruck", "druck", "pression", "baromètre"}},
	{humidity, []string{"humidity", "hum", "rh", "hygrometer", "feuchte", "feuchtigkeit", "luftfeuchte", "luftfeuchtigkeit", "humidité"}},
	{wholeArc, []string{"whole", "total"}},
	{halfArc, []string{"arc", "amplitude", "swing", "semiarc", "semi"}},
	{weight, []string{"weight", "fall"}},
	{"at MJD", []string{"mjd"}},
	{"at JD", []string{"jd", "jdn", "julian", "julien", "julienne", "julianischer", "julianisches", "julianische"}},
	{losing, []string{"losing", "loss", "loses", "verlierend", "verlust"}},
	{aRate, []string{"rate", "gaining", "gain", "gains", "gewinnend", "gang", "marche"}},
	{slowBy, []string{"correction", "slow", "behind", "nachgehend", "nach", "nacheilend", "korrektion", "korrektur", "retard"}},
	{anError, []string{"error", "err", "offset", "deviation", "fast", "ahead", "difference", "diff", "fehler", "abweichung", "voreilend", "voreilung", "vorgehend", "vor", "écart", "erreur", "avance", "stand", "uhrstand", "état"}},
	{string(From), []string{"from", "start", "begin", "beginning", "since", "von", "beginn", "anfang", "du", "début", "depuis"}},
	{string(At), []string{"to", "until", "end", "at", "datetime", "timestamp", "instant", "when", "moment", "bis", "ende", "zeitpunkt", "au", "fin", "jusqu"}},
	{string(How), []string{"how", "method", "way"}},
	{string(Touch), []string{"touch", "touches", "event", "action", "done", "adjustment"}},
	{string(Date), []string{"date", "day", "datum", "tag", "jour"}},
	{string(Time), []string{"time", "hour", "clock", "zeit", "uhrzeit", "stunde", "heure"}},
}

// bothWays are words of columns whose sign was written either way: an
// observatory's Gang or marche was positive for a clock that loses, a
// watchmaker's for one that gains.
var bothWays = []string{"gang", "marche", "stand", "uhrstand", "état"}

// oneWay are words that say which way is positive.
var oneWay = []string{"gewinnend", "gaining", "fast", "vorgehend", "voreilend", "avance", "slow", "losing", "verlierend", "nachgehend", "retard"}

// unitWords are how headings write units, for each kind of column.
var unitWords = map[string][][2]string{
	temperature: {{"°c", "°C"}, {"c", "°C"}, {"degc", "°C"}, {"celsius", "°C"}, {"centigrade", "°C"}, {"°f", "°F"}, {"f", "°F"}, {"degf", "°F"}, {"fahrenheit", "°F"}, {"fahr", "°F"}, {"k", "K"}, {"kelvin", "K"}},
	pressure:    {{"hpa", "hPa"}, {"mbar", "hPa"}, {"mb", "hPa"}, {"millibar", "hPa"}, {"inhg", "inHg"}, {"in", "inHg"}, {"inches", "inHg"}, {"mmhg", "mmHg"}, {"mm", "mmHg"}, {"torr", "mmHg"}, {"kpa", "kPa"}, {"pa", "Pa"}},
	humidity:    {{"percent", "%"}, {"%", "%"}},
	anError:     {{"ms", "ms"}, {"msec", "ms"}, {"milliseconds", "ms"}, {"millisekunden", "ms"}, {"millisecondes", "ms"}, {"min", "min"}, {"minutes", "min"}, {"minuten", "min"}, {"hours", "h"}},
	aRate:       {{"ppm", "ppm"}, {"ms", "ms/d"}, {"msec", "ms/d"}, {"milliseconds", "ms/d"}, {"week", "s/wk"}, {"wk", "s/wk"}, {"weekly", "s/wk"}, {"woche", "s/wk"}, {"semaine", "s/wk"}, {"min", "min/d"}, {"minutes", "min/d"}, {"h", "s/h"}, {"hr", "s/h"}, {"hour", "s/h"}, {"hourly", "s/h"}, {"stunde", "s/h"}, {"heure", "s/h"}},
	recorder:    {{"ppm", "ppm"}},
	halfArc:     {{"mrad", "mrad"}},
	weight:      {{"cm", "cm"}, {"mm", "mm"}, {"in", "in"}, {"inches", "in"}},
}

// sameUnits is the kind of column whose words for units another kind shares.
var sameUnits = map[string]string{slowBy: anError, losing: aRate, wholeArc: halfArc}

// otherUnits are words of units that no column can have: what they are of is
// asked about.
var otherUnits = map[string][]string{
	temperature: {"r", "°r", "°re", "réaumur", "reaumur"},
	pressure:    {"lines", "lin", "linien", "lignes", "pouces", "zoll", "atm", "psi"},
	aRate:       {"month", "monthly", "monat", "mois", "year", "yearly", "annual", "jahr", "an", "année", "fortnight", "quarter", "µs", "us", "ns"},
	anError:     {"µs", "us", "ns", "ticks", "beats"},
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
		case unicode.IsLetter(r) || r == '°' || r == '%' || r == '±' || r == 'µ':
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
		return withUnit(turnedRound(h.what, words), words)
	}
	return ""
}

// turnedRound is what a word is with the words beside it: a slow that is for a
// day is a losing rate, an error that says that slow is positive is slow, a
// modified Julian day is that.
func turnedRound(what string, words []string) string {
	has := func(of ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(of, w) })
	}
	daily := has("daily", "täglich", "tägliche", "täglicher", "diurne", "journalier")
	switch {
	case what == "at JD" && has("modified", "mod", "modifié", "modifizierter", "modifiziertes"):
		return "at MJD"
	case what == slowBy && daily && !has("correction", "korrektion", "korrektur"):
		return losing
	case what == anError && daily:
		return aRate
	case what == aRate && has("verlierend", "losing", "slow", "retard", "nachgehend") && !has("fast", "gaining", "gewinnend", "avance"):
		return losing
	case what == anError && has("nachgehend", "retard") && !has("vorgehend", "voreilend", "avance"):
		return slowBy
	}
	return what
}

// bothSides tells whether a heading names both ways of one thing, "fast/slow";
// then the first of them is positive.
func bothSides(what string, words []string) bool {
	either := map[string][]string{losing: {"gaining", "gain", "gains", "gewinnend"}, slowBy: {"fast", "ahead", "vor", "vorgehend", "voreilend", "avance"}}[what]
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(either, w) })
}

// withUnit finds the unit in the words of a heading.
func withUnit(what string, words []string) Meaning {
	for _, q := range quantities {
		if q.what != what {
			continue
		}
		symbol, _ := unitIn(what, words)
		if symbol == "" {
			symbol = q.units[0]
		}
		return of(what, symbol)
	}
	if what == string(At) && slices.Contains(words, "unix") {
		return "at unix"
	}
	return Meaning(what)
}

// unitIn is the unit that a heading names, "" where it names none; other is
// one that no column can have.
func unitIn(what string, words []string) (symbol, other string) {
	if same, ok := sameUnits[what]; ok {
		what = same
	}
	for _, w := range words {
		if slices.Contains(otherUnits[what], w) {
			other = w
		}
	}
	for _, u := range unitWords[what] {
		if slices.Contains(words, u[0]) {
			return u[1], other
		}
	}
	return "", other
}
