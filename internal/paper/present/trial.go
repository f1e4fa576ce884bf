package present

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TrialEntry says what an entry of a clock's trial says, in a few words:
// "12 s fast", "nut up ½", "17.5 °C". That of an entry which takes another back
// names it.
func TrialEntry(e trial.Event) string {
	switch e.Kind {
	case trial.Read:
		return readWords(e)
	case trial.Tabled:
		return tableWords(e)
	case trial.Touched:
		return TrialTouch(*e.Touch)
	case trial.Aired:
		if len(e.Air) == 1 {
			return airWords(e.Air[0])
		}
		return fmt.Sprintf("air, %d lines%s", len(e.Air), fromSource(e.Source))
	case trial.Stood:
		return fmt.Sprintf("found standing at %d:%02d%s", e.Stop.Hour, int(e.Stop.Minute), after(", ", e.Stop.Words))
	case trial.Answered:
		return replyWords(*e.Answer)
	case trial.Aimed:
		return "right is " + bandWords(e.Aim.Rate.PerDay(), e.Aim.Band.PerDay()) + map[trial.ForHome]string{trial.FromNow: ", set for its home from now on", trial.NotAtAll: ", not set for its home here"}[e.Aim.ForHome]
	case trial.Began:
		return "gate begun: " + e.Gate
	case trial.Passed:
		return "gate passed: " + e.Gate
	case trial.Failed:
		return "gate begins anew: " + e.Gate + after(", ", e.Why)
	case trial.Struck:
		return fmt.Sprintf("%d blows for %d", e.Strike.Blows, e.Strike.Hour)
	case trial.Undone:
		return fmt.Sprintf("entry %d taken back", e.Undoes)
	}
	return "cannot be read"
}

// FastWords says what a clock is wrong by: "12 s fast", "1 min 3 s slow",
// "right".
func FastWords(d unit.Duration) string {
	s := math.Round(math.Abs(float64(d))*10) / 10
	if s == 0 {
		return "right"
	}
	way := " fast"
	if d < 0 {
		way = " slow"
	}
	h, m := math.Floor(s/3600), math.Floor(math.Mod(s, 3600)/60)
	var parts []string
	for _, x := range []struct {
		n    float64
		unit string
	}{{h, "h"}, {m, "min"}, {math.Round(10*(s-3600*h-60*m)) / 10, "s"}} {
		if x.n > 0 {
			parts = append(parts, unit.Number(x.n, placesOf(x.n))+"\u00a0"+x.unit)
		}
	}
	return strings.Join(parts, " ") + way
}

// ShiftWords says by how much a reading is put right: "12 h back", "1 min on".
func ShiftWords(d unit.Duration) string {
	words := strings.TrimSuffix(strings.TrimSuffix(FastWords(d), " fast"), " slow")
	if d < 0 {
		return words + " back"
	}
	return words + " on"
}

func readWords(e trial.Event) string {
	if len(e.Readings) != 1 {
		return fmt.Sprintf("%s%s", phrase.Times(len(e.Readings), "reading", "readings"), fromSource(e.Source))
	}
	r := e.Readings[0]
	how := map[regulate.How]string{regulate.ByTap: ", by tapping", regulate.ByEar: ", by ear", regulate.ByStrike: ", by its strike", regulate.Brought: ", brought"}[r.How]
	if !r.From.IsZero() {
		return signedNumber(r.Rate.PerDay(), 2) + "\u00a0s a day over " + phrase.Lasting(unit.Duration(r.At.Sub(r.From).Seconds())) + how
	}
	if r.U >= 5 {
		how += ", to about " + phrase.Lasting(unit.Duration(r.U))
	}
	return FastWords(r.Error) + how
}

// tableWords counts what a table brought.
func tableWords(e trial.Event) string {
	words := phrase.Times(len(e.Readings), "reading", "readings")
	if n := len(e.Touches); n > 0 {
		words += ", " + phrase.Times(n, "touch", "touches")
	}
	if n := len(e.Air); n > 0 {
		words += ", " + phrase.Times(n, "line of air", "lines of air")
	}
	return words + fromSource(e.Source)
}

// TrialTouch says what was done to a clock.
func TrialTouch(t regulate.Touch) string {
	words := touchWords(t, 0)
	if t.Kind == regulate.NutTurned {
		words += map[bool]string{true: " of a turn", false: " turns"}[math.Abs(t.Turns) < 1]
	}
	if t.HasError {
		words += ", then " + FastWords(t.Error)
	}
	if t.Kind != regulate.Worked {
		words += after(", ", t.Words)
	}
	return words
}

func airWords(a regulate.Air) string {
	var parts []string
	add := func(s, tail string) {
		if s != "" {
			parts = append(parts, s+tail)
		}
	}
	add(plainWords(a.Temperature, "°C"), "")
	add(plainWords(a.Pressure, "hPa"), "")
	add(plainWords(a.Humidity, "%"), " humidity")
	add(plainWords(a.Arc, "°"), " of arc")
	add(plainWords(a.Weight, "mm"), " still to fall")
	return strings.Join(parts, ", ")
}

func plainWords[Q unit.Quantity](r meas.Result[Q], symbol string) string {
	if !r.Set {
		return ""
	}
	v := unit.In(r.Value, symbol)
	return unit.Text(r.Value, symbol, min(placesOf(v), 1))
}

func replyWords(a trial.Reply) string {
	about := "what was asked"
	if a.Reading > 0 {
		about = fmt.Sprintf("reading %d", a.Reading)
	}
	switch {
	case a.Touch != nil:
		return "answered: " + TrialTouch(*a.Touch)
	case a.Right:
		return about + " is right"
	case a.Shift != 0:
		return about + " put right by " + signedNumber(float64(a.Shift), 1) + "\u00a0s"
	case a.Later != 0:
		return about + " was taken " + strings.NewReplacer(" on", " later", " back", " earlier").Replace(ShiftWords(a.Later))
	}
	return about + " is wrong, left out"
}

func fromSource(s string) string { return after(" from ", s) }

// after puts words behind others where there are any.
func after(join, words string) string {
	if words == "" {
		return ""
	}
	return join + words
}
