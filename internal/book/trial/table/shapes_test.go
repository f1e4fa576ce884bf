package table

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// entry is one line of a book that somebody kept: ten days' rate, or the error
// at an instant, with warmth and air.
type entry struct {
	from, at      time.Time
	rate          float64 // s/day
	err           float64 // s
	celsius, mmHg float64
}

// keptBook is a book of so many lines: every tenth day from 31 December 1886 on,
// with signs on both sides of nought.
func keptBook(n int) []entry {
	out := make([]entry, n)
	at := time.Date(1886, 12, 31, 12, 0, 0, 0, time.UTC)
	for i := range out {
		x := float64(i)
		out[i] = entry{from: at, at: at.AddDate(0, 0, 10), rate: math.Round(100*(3.4*math.Sin(x)-1.2)) / 100, err: math.Round(100*(70*math.Sin(x/3)-12)) / 100, celsius: math.Round(10*(17+4*math.Sin(x/4))) / 10, mmHg: math.Round(10*(756+7*math.Cos(x))) / 10}
		at = out[i].at
	}
	return out
}

// keptAs puts the lines of a book into a file; cells of a line are parted by
// sep.
func keptAs(head, sep string, book []entry, row func(l entry) []string) string {
	var b strings.Builder
	if head != "" {
		b.WriteString(head + "\n")
	}
	for _, l := range book {
		b.WriteString(strings.Join(row(l), sep) + "\n")
	}
	return b.String()
}

func fig(x float64) string { return fmt.Sprintf("%.2f", x) }

// komma writes a figure with a decimal comma.
func komma(x float64) string { return strings.Replace(fig(x), ".", ",", 1) }

func on(layout string) func(time.Time) string {
	return func(t time.Time) string { return t.Format(layout) }
}

// minutes writes seconds as m:ss.ss.
func minutes(x float64) string {
	sign := ""
	if x < 0 {
		sign, x = "-", -x
	}
	return fmt.Sprintf("%s%d:%05.2f", sign, int(x)/60, math.Mod(x, 60))
}

// rates is a row of rates with air: from, to, rate, temperature, pressure.
func rates(day func(time.Time) string, number func(float64) string) func(entry) []string {
	return func(l entry) []string {
		return []string{day(l.from), day(l.at), number(l.rate), number(l.celsius), number(l.mmHg)}
	}
}

func errorsAt(day func(time.Time) string, number func(float64) string) func(entry) []string {
	return func(l entry) []string { return []string{day(l.at), number(l.err)} }
}

func mjd(t time.Time) string { return fmt.Sprintf("%.1f", float64(t.Unix())/86400+40587) }
func jd(t time.Time) string  { return fmt.Sprintf("%.1f", float64(t.Unix())/86400+2440587.5) }

var wordsOf = map[string][12]string{
	"de": {"Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"},
	"fr": {"janv.", "févr.", "mars", "avril", "mai", "juin", "juil.", "août", "sept.", "oct.", "nov.", "déc."},
	"rm": {"I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"},
}

func inWords(lang, format string) func(time.Time) string {
	return func(t time.Time) string {
		return fmt.Sprintf(format, t.Day(), wordsOf[lang][t.Month()-1], t.Year())
	}
}

func utf16le(s string, mark bool) string {
	var b strings.Builder
	if mark {
		b.WriteString("\xff\xfe")
	}
	for _, u := range utf16.Encode([]rune(s)) {
		b.WriteByte(byte(u))
		b.WriteByte(byte(u >> 8))
	}
	return b.String()
}

func utf16be(s string) string {
	b := []byte("\xfe\xff")
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return string(b)
}

func latin1(s string) string {
	b := make([]byte, 0, len(s))
	for _, r := range s {
		b = append(b, byte(r))
	}
	return string(b)
}

// shape is one way of writing a book. want is "taken" where it can be read
// without a word from the person, "asked" where it cannot.
type shape struct {
	name, file, want string
}

// shapes of one book, in the ways in which people keep and send them.
func shapes() []shape {
	b := keptBook(30)
	iso, dot, dmy, mdy := on("2006-01-02"), on("2.1.2006"), on("02/01/2006"), on("01/02/2006")
	r := func(day func(time.Time) string, n func(float64) string) func(entry) []string { return rates(day, n) }
	plain := keptAs("from,to,rate_s_per_day,temp_C,bar_mmHg", ",", b, r(iso, fig))
	return []shape{
		{"commas", plain, "taken"},
		{"semicolons, decimal commas", keptAs("from;to;rate (s/d);temp °C;barometer mmHg", ";", b, r(iso, komma)), "taken"},
		{"tabs, decimal commas", keptAs("from\tto\trate s/d\ttemp °C\tbarometer mmHg", "\t", b, r(dot, komma)), "taken"},
		{"day/month", keptAs("from,to,rate,temp_C,bar_mmHg", ",", b, r(dmy, fig)), "taken"},
		{"month/day", keptAs("from,to,rate,temp_C,bar_mmHg", ",", b, r(mdy, fig)), "taken"},
		{"first of each month, slashes", keptAs("date,error", ",", firsts(12), errorsAt(dmy, fig)), "asked"},
		{"German", keptAs("von;bis;Gang (s/Tag), gewinnend positiv;Temperatur °C;Luftdruck mmHg", ";", b, r(dot, komma)), "taken"},
		{"German, Gang", keptAs("von;bis;Gang (s/Tag);Temperatur °C;Luftdruck mmHg", ";", b, r(dot, komma)), "asked"},
		{"German, verlierend", keptAs("von;bis;täglicher Gang (verlierend +)", ";", b, func(l entry) []string { return []string{dot(l.from), dot(l.at), komma(-l.rate)} }), "taken"},
		{"French, retard diurne", keptAs("du;au;retard diurne", ";", b, func(l entry) []string { return []string{dmy(l.from), dmy(l.at), komma(-l.rate)} }), "taken"},
		{"decimal commas and days without", keptAs("Julian Day;rate s/d;temp C", ";", b, func(l entry) []string {
			return []string{strings.Replace(jd(l.at), ".", ",", 1), komma(l.rate), komma(l.celsius)}
		}), "rates but the first"},
		{"minutes and seconds apart", keptAs("date,error min,error s", ",", b, func(l entry) []string { return []string{iso(l.at), fig(l.err / 60), fig(l.err)} }), "asked"},
		{"fast and slow apart", keptAs("date,fast s,slow s", ",", b, func(l entry) []string {
			if l.err < 0 {
				return []string{iso(l.at), "", fig(-l.err)}
			}
			return []string{iso(l.at), fig(l.err), ""}
		}), "asked"},
		{"fast negative, in words", keptAs("date,error (fast -)", ",", b, func(l entry) []string { return []string{iso(l.at), fig(-l.err)} }), "asked"},
		{"slow negative", keptAs("date,slow negative s", ",", b, errorsAt(iso, fig)), "asked"},
		{"rate, slow positive", keptAs("from,to,daily rate (slow +)", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(-l.rate)} }), "taken"},
		{"a heading with a stroke", keptAs("date,clock-fast s", ",", b, errorsAt(iso, fig)), "taken"},
		{"nanoseconds", keptAs("MJD,error / ns", ",", b, errorsAt(mjd, fig)), "asked"},
		{"months alone", keptAs("month,rate", ",", b, func(l entry) []string { return []string{l.at.Format("2006-01"), fig(l.rate)} }), "asked"},
		{"hour in a column of its own", keptAs("date,hour,error", ",", b, func(l entry) []string { return []string{iso(l.at), "12", fig(l.err)} }), "asked"},
		{"pressure without a unit, in mm", keptAs("from,to,rate,pressure", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(l.rate), fig(l.mmHg)} }), "asked"},
		{"primes", keptAs("date,error", ",", b, errorsAt(iso, func(x float64) string { return strings.Replace(minutes(x), ":", "′ ", 1) + "″" })), "taken"},
		{"date with hours under date", keptAs("date,error", ",", b, errorsAt(on("2006-01-02 15:04"), fig)), "taken"},
		{"a title with a figure", "Rates,1887\n" + plain, "taken"},
		{"year, month, day apart, in German", keptAs("Jahr;Monat;Tag;voreilend s", ";", b, func(l entry) []string {
			return []string{on("2006")(l.at), wordsOf["de"][l.at.Month()-1], on("2")(l.at), komma(l.err)}
		}), "taken"},
		{"a star for what is missing", strings.Replace(plain, ",17.00,", ",*,", 1), "asked"},
		{"footnotes", strings.Replace(plain, "-1.20,", "-1.20*,", 1), "asked"},
		{"Windows dashes for minus", strings.ReplaceAll(latin1(strings.Replace(plain, "temp_C", "temp_°C", 1)), ",-", ",\x96"), "taken"},
		{"German, fast", keptAs("Datum;voreilend in s;Temperatur °C", ";", b, func(l entry) []string { return []string{dot(l.at), komma(l.err), komma(l.celsius)} }), "taken"},
		{"German, slow", keptAs("Datum;nachgehend in s", ";", b, func(l entry) []string { return []string{dot(l.at), komma(-l.err)} }), "taken"},
		{"German, Stand", keptAs("Datum;Stand s", ";", b, errorsAt(dot, komma)), "asked"},
		{"French", keptAs("du;au;marche diurne s;température °C;baromètre mm", ";", b, r(inWords("fr", "%d %s %d"), komma)), "asked"},
		{"French, fast", keptAs("date;avance (s);température", ";", b, func(l entry) []string { return []string{dmy(l.at), komma(l.err), komma(l.celsius)} }), "taken"},
		{"French, slow", keptAs("date;retard (s)", ";", b, func(l entry) []string { return []string{dmy(l.at), komma(-l.err)} }), "taken"},
		{"French, état", keptAs("date;état (s)", ";", b, errorsAt(dmy, komma)), "asked"},
		{"fast negative", keptAs("date,error (slow +)", ",", b, func(l entry) []string { return []string{iso(l.at), fig(-l.err)} }), "taken"},
		{"losing rate", keptAs("from,to,losing rate", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(-l.rate)} }), "taken"},
		{"correction", keptAs("date,clock correction (s)", ",", b, func(l entry) []string { return []string{iso(l.at), fig(-l.err)} }), "taken"},
		{"minutes and seconds", keptAs("date,error", ",", b, errorsAt(iso, minutes)), "taken"},
		{"m and s", keptAs("date,error", ",", b, errorsAt(iso, func(x float64) string {
			if x < 0 {
				return fmt.Sprintf("%dm %.2fs slow", int(-x)/60, math.Mod(-x, 60))
			}
			return fmt.Sprintf("%dm %.2fs fast", int(x)/60, math.Mod(x, 60))
		})), "taken"},
		{"fast and slow in the cell", keptAs("date,error", ",", b, errorsAt(iso, func(x float64) string {
			return map[bool]string{true: "slow ", false: "fast "}[x < 0] + fig(math.Abs(x))
		})), "taken"},
		{"milliseconds", keptAs("date,error (ms)", ",", b, errorsAt(iso, func(x float64) string { return fig(1000 * x) })), "taken"},
		{"milliseconds a day", keptAs("from,to,rate ms/d", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(1000 * l.rate)} }), "taken"},
		{"seconds an hour", keptAs("from,to,rate_s_per_hour", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fmt.Sprintf("%.6f", l.rate/24)} }), "taken"},
		{"a month", keptAs("from,to,rate (s per month)", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(30 * l.rate)} }), "asked"},
		{"ten days", keptAs("from,to,gain in 10 days", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(10 * l.rate)} }), "asked"},
		{"Réaumur", keptAs("from,to,rate,temp °R", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(l.rate), fig(l.celsius * .8)} }), "asked"},
		{"warmth without a unit, in °F", keptAs("from,to,rate,temp", ",", b, func(l entry) []string { return []string{iso(l.from), iso(l.at), fig(l.rate), fig(l.celsius*1.8 + 32)} }), "asked"},
		{"MJD", keptAs("MJD,error s", ",", b, errorsAt(mjd, fig)), "taken"},
		{"modified Julian day", keptAs("Modified Julian Day;error s", ";", b, errorsAt(mjd, komma)), "taken"},
		{"JD", keptAs("JD,error s", ",", b, errorsAt(jd, fig)), "taken"},
		{"Julian date", keptAs("Julian date,rate s/d,temp C", ",", b, func(l entry) []string { return []string{jd(l.at), fig(l.rate), fig(l.celsius)} }), "rates but the first"},
		{"JD less 2400000", keptAs("JD,error s", ",", b, errorsAt(func(t time.Time) string { return fmt.Sprintf("%.1f", float64(t.Unix())/86400+40587.5) }, fig)), "asked"},
		{"MJD without a heading", keptAs("", ",", b, errorsAt(mjd, fig)), "asked"},
		{"a spreadsheet's day numbers", keptAs("date,error", ",", b, errorsAt(func(t time.Time) string { return fmt.Sprint(t.Unix()/86400 + 25569) }, fig)), "asked"},
		{"year, month, day apart", keptAs("year,month,day,error s", ",", b, func(l entry) []string { return []string{on("2006")(l.at), on("1")(l.at), on("2")(l.at), fig(l.err)} }), "taken"},
		{"two-digit years", keptAs("date,error", ",", b, errorsAt(on("2.1.06"), fig)), "asked"},
		{"blank lines", strings.ReplaceAll(plain, "\n", "\n\n"), "taken"},
		{"empty rows of commas", strings.Replace(plain, "1887-02-09", "1887-02-09", 1) + ",,,,\n,,,,\n", "taken"},
		{"a title above", "Clock rates of the observatory\n\n" + plain, "taken"},
		{"a title above, in its own cells", "Observatory,,,,\nClock No. 12,,,,\n" + plain, "taken"},
		{"units below the heading", strings.Replace(plain, "\n", "\n,,s/d,°C,mmHg\n", 1), "taken"},
		{"a mean below", plain + "Mean,,-1.2,17.0,756\n", "asked"},
		{"mark", "\ufeff" + plain, "taken"},
		{"UTF-16", utf16le(plain, true), "taken"},
		{"UTF-16 the other way round", utf16be(plain), "taken"},
		{"UTF-16 without a mark", utf16le(plain, false), "taken"},
		{"Latin-1", latin1(keptAs("from;to;rate;température °C;bar mm", ";", b, r(dmy, komma))), "taken"},
		{"CR alone", strings.ReplaceAll(plain, "\n", "\r"), "taken"},
		{"CRLF", strings.ReplaceAll(plain, "\n", "\r\n"), "taken"},
		{"quotes", keptAs(`"from","to","rate","temp_C","bar_mmHg"`, ",", b, func(l entry) []string {
			out := rates(iso, komma)(l)
			for i := range out {
				out[i] = `"` + out[i] + `"`
			}
			return out
		}), "taken"},
		{"decimal commas between commas", keptAs("from,to,rate,temp_C,bar_mmHg", ",", b, r(iso, komma)), "asked"},
		{"decimal commas between commas, one figure", keptAs("date,error", ",", b, errorsAt(iso, komma)), "asked"},
		{"units in the cells", keptAs("from,to,rate,temp,bar", ",", b, func(l entry) []string {
			return []string{iso(l.from), iso(l.at), fig(l.rate) + " s/d", fig(l.celsius) + " °C", fig(l.mmHg) + " mmHg"}
		}), "taken"},
		{"true minus signs", strings.NewReplacer(",-", ",−").Replace(plain), "taken"},
		{"months in German", keptAs("von;bis;rate;temp °C;bar mmHg", ";", b, r(inWords("de", "%d. %s %d"), komma)), "taken"},
		{"months in French", keptAs("date;error", ";", b, errorsAt(inWords("fr", "%d %s %d"), komma)), "taken"},
		{"months in Roman figures", keptAs("date;error", ";", b, errorsAt(inWords("rm", "%d.%s.%d"), komma)), "taken"},
		{"months in English, first", keptAs("date;error", ";", b, errorsAt(on("January 2 2006"), fig)), "taken"},
		{"months in English, year first", keptAs("date;error", ";", b, errorsAt(on("2006 Jan 2"), fig)), "taken"},
		{"parts of a day", keptAs("date,error", ",", b, errorsAt(func(t time.Time) string { return t.Format("2006-01-02") + ".5" }, fig)), "taken"},
		{"astronomers' hours", keptAs("date,error", ",", b, errorsAt(func(t time.Time) string { return t.Format("2006-01-02") + " 12h00m" }, fig)), "taken"},
		{"hours as in French", keptAs("date;heure;avance s", ";", b, func(l entry) []string { return []string{dmy(l.at), "12h00", komma(l.err)} }), "taken"},
		{"hours as in German", keptAs("Datum;Uhrzeit;voreilend s", ";", b, func(l entry) []string { return []string{dot(l.at), "12.00 Uhr", komma(l.err)} }), "taken"},
		{"no heading", keptAs("", ",", b, errorsAt(iso, fig)), "asked"},
		{"headings that say nothing", keptAs("a,b,c,d,e", ",", b, r(iso, fig)), "asked"},
		{"fixed columns", keptAs("from        to          rate   temp_C bar_mmHg", "  ", b, r(iso, fig)), "asked"},
		{"error and rate", keptAs("date,error,rate", ",", b, func(l entry) []string { return []string{iso(l.at), fig(l.err), fig(l.rate)} }), "taken"},
	}
}

// firsts is a book of the first days of months.
func firsts(n int) []entry {
	out := keptBook(n)
	for i := range out {
		out[i].at = time.Date(1887, time.Month(1+i), 1+i%12, 12, 0, 0, 0, time.UTC)
	}
	return out
}

// outcome reads a file as a person who believes all that is guessed.
func outcome(file string) (Table, string) {
	g, err := Look(strings.NewReader(file))
	if err != nil {
		return Table{}, "asked: " + err.Error()
	}
	for _, a := range g.Asks {
		if a.Level == meas.Doubt {
			return Table{}, "asked: " + a.Text
		}
	}
	got, err := Read(context.Background(), strings.NewReader(file), g.Plan, time.UTC, nil)
	if err != nil {
		s := err.Error()
		return Table{}, "asked: " + s[:min(len(s), 150)]
	}
	return got, "taken"
}

// TestMissingRows: where nothing says when a rate begins, it is not laid to the
// days that are missing.
func TestMissingRows(t *testing.T) {
	book := keptBook(30)
	some := append(append([]entry(nil), book[:10]...), book[14:]...)
	got, said := outcome(keptAs("date,rate,temp_C", ",", some, func(l entry) []string { return []string{l.at.Format("2006-01-02"), fig(l.rate), fig(l.celsius)} }))
	if said != "taken" || len(got.Readings) != len(some)-1 || got.Gaps != 1 || !strings.Contains(got.Words(), "1 stretch after missing rows") {
		t.Fatalf("%s, %d readings, %s", said, len(got.Readings), got.Words())
	}
	for i, r := range got.Readings {
		if l := some[i+1]; !r.At.Equal(l.at) || !r.From.Equal(l.from) || !got.Air[i+1].At.Equal(l.from.Add(5*24*time.Hour)) {
			t.Errorf("%v to %v, the air at %v, want %v to %v", r.From, r.At, got.Air[i+1].At, l.from, l.at)
		}
	}
}

// differs says where a table is other than the book; "" where it is not.
func differs(got Table, book []entry) string {
	if len(got.Readings) == 0 {
		return "no readings"
	}
	skip := 0
	if len(got.Readings) == len(book)-1 && !got.Readings[0].From.IsZero() {
		skip = 1 // of rates with one instant the first is left out
	}
	if len(got.Readings) != len(book)-skip {
		return fmt.Sprintf("%d readings of %d", len(got.Readings), len(book))
	}
	for i, r := range got.Readings {
		l := book[i+skip]
		switch {
		case math.Abs(r.At.Sub(l.at).Seconds()) > 1:
			return fmt.Sprintf("reading %d at %v, not %v", i+1, r.At, l.at)
		case !r.From.IsZero() && math.Abs(r.Rate.PerDay()-l.rate) > 0.006:
			return fmt.Sprintf("reading %d: rate %v, not %v", i+1, r.Rate.PerDay(), l.rate)
		case !r.From.IsZero() && math.Abs(r.From.Sub(l.from).Seconds()) > 1:
			return fmt.Sprintf("reading %d from %v, not %v", i+1, r.From, l.from)
		case r.From.IsZero() && math.Abs(float64(r.Error)-l.err) > 0.006:
			return fmt.Sprintf("reading %d: error %v, not %v", i+1, r.Error, l.err)
		}
	}
	for i, a := range got.Air {
		if i >= len(book) {
			return "more of the air than lines"
		}
		if t := a.Temperature; t.Set && math.Abs(unit.In(t.Value, "°C")-book[i].celsius) > 0.006 {
			return fmt.Sprintf("air %d: %v °C, not %v", i+1, unit.In(t.Value, "°C"), book[i].celsius)
		}
		if p := a.Pressure; p.Set && math.Abs(unit.In(p.Value, "mmHg")-book[i].mmHg) > 0.006 {
			return fmt.Sprintf("air %d: %v mmHg, not %v", i+1, unit.In(p.Value, "mmHg"), book[i].mmHg)
		}
	}
	return ""
}

// TestShapes: one book in every way that people write it is read right, or
// something is asked; never is it read wrong.
func TestShapes(t *testing.T) {
	for _, s := range shapes() {
		book := keptBook(30)
		if strings.HasPrefix(s.name, "first of each") {
			book = firsts(12)
		}
		got, said := outcome(s.file)
		wrong := ""
		if said == "taken" {
			wrong = differs(got, book)
		}
		switch {
		case wrong != "":
			t.Errorf("%s: read wrong: %s", s.name, wrong)
		case s.want == "asked" && said == "taken", s.want != "asked" && said != "taken":
			t.Errorf("%s: %s, want %s", s.name, said, s.want)
		}
	}
}
