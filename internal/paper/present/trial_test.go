package present

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestTrialEntriesInWords(t *testing.T) {
	at := time.Date(2026, 3, 4, 9, 14, 0, 0, time.UTC)
	reading := func(fast, u float64) trial.Event {
		return trial.OfReadings(nil, "", regulate.Reading{At: at, How: regulate.ByHand, Error: unit.Duration(fast), U: u})
	}
	for want, e := range map[string]trial.Event{
		"12 s fast":                           reading(12, 0.5),
		"1 min 3 s slow":                      reading(-63, 0),
		"1 h 0.5 s fast":                      reading(3600.5, 0),
		"right":                               reading(0.04, 0),
		"12 h fast":                           reading(43200, 0),
		"9 min slow, to about 17 s":           reading(-540, 17.3),
		"3 readings from old.csv":             trial.OfReadings(nil, "old.csv", make([]regulate.Reading, 3)...),
		"17.5 °C, 55 % humidity":              trial.OfAir(nil, "", regulate.Air{At: at, Temperature: meas.Exactly(unit.Temperature(290.65)), Humidity: meas.Exactly(unit.Ratio(0.55))}),
		"nut down ½ of a turn":                trial.OfTouch(nil, regulate.Touch{Kind: regulate.NutTurned, Turns: -0.5}),
		"nut up 1¼ turns":                     trial.OfTouch(nil, regulate.Touch{Kind: regulate.NutTurned, Turns: 1.25}),
		"2 g off":                             trial.OfTouch(nil, regulate.Touch{Kind: regulate.OnTray, Mass: -0.002}),
		"hands set, then 3 s slow":            trial.OfTouch(nil, regulate.Touch{Kind: regulate.HandsSet, Error: -3, HasError: true}),
		"moved, into its case":                trial.OfTouch(nil, regulate.Touch{Kind: regulate.Moved, Words: "into its case"}),
		"new suspension":                      trial.OfTouch(nil, regulate.Touch{Kind: regulate.Worked, Words: "new suspension"}),
		"reading 7 is right":                  trial.OfReply(trial.Reply{About: regulate.Stray, Reading: 7, Right: true}),
		"reading 7 is wrong, left out":        trial.OfReply(trial.Reply{About: regulate.Stray, Reading: 7}),
		"reading 7 put right by −60.0 s":      trial.OfReply(trial.Reply{About: regulate.WrongMinute, Reading: 7, Shift: -60}),
		"reading 7 was taken 12 h earlier":    trial.OfReply(trial.Reply{About: regulate.WrongHalf, Reading: 7, Later: -43200}),
		"answered: hands set":                 trial.OfReply(trial.Reply{About: regulate.SetUnnoted, From: at, Touch: &regulate.Touch{Kind: regulate.HandsSet}}),
		"gate begins anew: stand, it stopped": trial.OfGate(trial.Failed, "stand", "it stopped"),
		"11 blows for 12":                     trial.OfStrike(nil, trial.Strike{At: at, Hour: 12, Blows: 11}),
		"entry 3 taken back":                  {Entry: ledger.Entry{Undoes: 3}, Kind: trial.Undone},
		"cannot be read":                      {},
	} {
		if got := strings.ReplaceAll(TrialEntry(e), "\u00a0", " "); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	for want, d := range map[string]unit.Duration{"12 h back": -43200, "1 min on": 60} {
		if got := strings.ReplaceAll(ShiftWords(d), "\u00a0", " "); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
