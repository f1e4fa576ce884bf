package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Limits of what is plainly a slip of the hand.
const (
	mostError = unit.Day         // a dial shows half of it, a table may add up
	mostRate  = unit.Rate(0.5)   // gains or loses half a day in a day
	mostTurns = 500              // of a nut
	mostMass  = unit.Mass(20)    // on a tray, in kg
	mostFall  = unit.Length(100) // of a weight, in m
	coldest   = unit.Temperature(200)
	hottest   = unit.Temperature(350)
	thinnest  = unit.Pressure(300e2)
	densest   = unit.Pressure(1200e2)
)

// earliest is before any reading that this program can be told of.
var earliest = time.Date(1600, 1, 1, 0, 0, 0, 0, time.UTC)

// faultsOf gathers what is wrong.
type faultsOf struct{ all meas.Faults }

func (f *faultsOf) add(field, format string, a ...any) {
	f.all = append(f.all, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
}

// need adds a fault where something is not so.
func (f *faultsOf) need(so bool, field, format string, a ...any) {
	if !so {
		f.add(field, format, a...)
	}
}

// when wants an instant.
func (f *faultsOf) when(field string, t time.Time) {
	f.need(t.After(earliest), field, "Say at which time")
}

func (f *faultsOf) text(field, s string) { f.all = append(f.all, ledger.CheckText(field, s)...) }

// check lists what is wrong with an event by itself.
func (e Event) check() meas.Faults {
	var f faultsOf
	f.text("why", e.Why)
	f.text("source", e.Source)
	if e.Host != nil {
		f.need(finite(e.Host.U) && e.Host.U >= 0, "host.u", "The doubt of the time of day is not below nought")
		f.text("host.from", e.Host.From)
		f.text("host.kept", e.Host.Kept)
	}
	switch e.Kind {
	case Read:
		f.readings(e.Readings)
		f.taps(e)
	case Tabled:
		f.table(e)
	case Touched:
		f.touch("touch", e.Touch)
	case Aired:
		f.air(e.Air)
	case Stood:
		f.stop(e.Stop)
	case Answered:
		f.reply(e.Answer)
	case Aimed:
		f.aim(e.Aim)
	case Began, Passed, Failed:
		f.need(strings.TrimSpace(e.Gate) != "", "gate", "Say which gate")
		f.need(e.Kind != Failed || strings.TrimSpace(e.Why) != "", "why", "Say why the gate begins anew")
	case Struck:
		f.strike(e.Strike)
	case Undone:
		f.need(e.Undoes > 0, "undoes", "Say which entry is taken back")
	default:
		f.add("kind", "“%s” is nothing that happens on trial", meas.Clip(string(e.Kind)))
	}
	return f.all
}

func (f *faultsOf) readings(all []regulate.Reading) {
	f.need(len(all) > 0, "readings", "Enter what the clock showed")
	f.need(len(all) <= regulate.MaxReadings, "readings", "These are %d readings; at most %d can be kept", len(all), regulate.MaxReadings)
	for i, r := range all {
		field := func(name string) string {
			if len(all) == 1 {
				return name
			}
			return fmt.Sprintf("readings[%d].%s", i, name)
		}
		if len(f.all) > mostFaults {
			return
		}
		f.when(field("at"), r.At)
		f.need(slices.Contains(regulate.Hows(), r.How), field("how"), "“%s” is no way to read a clock", meas.Clip(string(r.How)))
		f.need(finite(r.Error) && size(r.Error) <= mostError, field("error"), "Enter what the clock is wrong by, at most a day")
		f.need(finite(r.Rate) && r.Rate >= -mostRate && r.Rate <= mostRate, field("rate"), "Enter a rate of at most half a day in a day")
		f.need(finite(unit.Ratio(r.U)) && r.U >= 0 && r.U <= float64(mostError), field("u"), "A doubt is not below nought and not above a day")
		f.need(r.Clock >= 0 && r.Clock <= mostRate, field("clock"), "The doubt of the recorder’s clock is not below nought, and at most half a day in a day")
		f.need(r.From.IsZero() || r.From.Before(r.At), field("from"), "A stretch begins before it ends")
		f.need(!r.From.IsZero() || r.Rate == 0 && r.Clock == 0, field("from"), "A rate is of a stretch; say from when")
		f.need(r.ID == 0 && !r.Taken && !r.Out, field("id"), "The number of a reading and the answers about it follow from the log; leave them out")
	}
}

// mostFaults bounds what is said of a long table.
const mostFaults = 50

// touch checks a touch; field is where it stands.
func (f *faultsOf) touch(field string, t *regulate.Touch) {
	if t == nil {
		f.add(field, "Say what was done to the clock")
		return
	}
	at := func(name string) string { return field + "." + name }
	f.when(at("at"), t.At)
	f.need(slices.Contains(regulate.Kinds(), t.Kind), at("kind"), "“%s” is not a touch", meas.Clip(string(t.Kind)))
	f.need(t.Until.IsZero() || t.Until.After(t.At), at("until"), "It ends after it begins")
	f.need(t.ID == 0, at("id"), "The number of a touch follows from the log; leave it out")
	f.text(at("words"), t.Words)
	f.need(finite(t.Error) && size(t.Error) <= mostError, at("error"), "Enter what it was wrong by afterwards, at most a day")
	f.need(t.U >= 0 && t.U <= mostError, at("u"), "A doubt is not below nought and not above a day")
	switch turns := unit.Ratio(t.Turns); {
	case !finite(turns) || turns < -mostTurns || turns > mostTurns:
		f.add(at("turns"), "Enter the turns of the nut, at most %d", mostTurns)
	case (turns == 0) == (t.Kind == regulate.NutTurned):
		f.add(at("turns"), "Enter how many turns up or down, for a turn of the nut and nothing else")
	}
	switch {
	case !finite(t.Mass) || t.Mass < -mostMass || t.Mass > mostMass:
		f.add(at("mass"), "Enter the mass put on or taken off, at most %g kg", float64(mostMass))
	case (t.Mass == 0) == (t.Kind == regulate.OnTray):
		f.add(at("mass"), "Enter how much was put on the tray or taken off, for the tray and nothing else")
	}
	f.need(t.Kind != regulate.Worked || strings.TrimSpace(t.Words) != "", at("words"), "Write in words what was done")
	f.need(t.HasError || t.Error == 0 && t.U == 0, at("error"), "Say that the error afterwards is known")
}

func (f *faultsOf) air(all []regulate.Air) {
	f.need(len(all) > 0, "air", "Enter a temperature, a pressure, a humidity, an arc or the height of the weight")
	f.need(len(all) <= regulate.MaxReadings, "air", "These are %d lines; at most %d can be kept", len(all), regulate.MaxReadings)
	for i, a := range all {
		field := func(name string) string {
			if len(all) == 1 {
				return name
			}
			return fmt.Sprintf("air[%d].%s", i, name)
		}
		if len(f.all) > mostFaults {
			return
		}
		f.when(field("at"), a.At)
		f.need(a.Temperature.Set || a.Pressure.Set || a.Humidity.Set || a.Arc.Set || a.Weight.Set, field("temperature"), "Enter at least one of temperature, pressure, humidity, arc and the height of the weight")
		within(f, field("temperature"), a.Temperature, coldest, hottest, "Enter a temperature from −73 °C to 76 °C")
		within(f, field("pressure"), a.Pressure, thinnest, densest, "Enter a pressure from 300 to 1200 hPa")
		within(f, field("humidity"), a.Humidity, 0, 1, "Enter a humidity from 0 to 100 %")
		within(f, field("arc"), a.Arc, 0, unit.Deg(90), "Enter a half arc from 0° to 90°")
		within(f, field("weight"), a.Weight, 0, mostFall, "Enter how far the weight has still to fall, from 0 to 100 m")
	}
}

// within wants a figure that was stated between two limits.
func within[Q unit.Quantity](f *faultsOf, field string, r meas.Result[Q], low, high Q, sentence string) {
	f.need(!r.Set || finite(r.Value) && r.Value >= low && r.Value <= high, field, "%s", sentence)
	f.need(!r.HasU || finite(r.U) && r.U >= 0, field, "A doubt is not below nought")
}

func (f *faultsOf) stop(s *Stop) {
	if s == nil {
		f.add("stop", "Say how the clock was found")
		return
	}
	f.when("found", s.Found)
	f.need(s.Dial == 0 || s.Dial == 12 || s.Dial == 24, "dial", "A dial has 12 hours or 24")
	if s.Dial == 24 {
		f.need(s.Hour >= 0 && s.Hour <= 23, "hour", "The hour hand stands from 0 to 23; 24 is 0")
	} else {
		f.need(s.Hour >= 0 && s.Hour <= 11, "hour", "The hour hand stands from 0 to 11; 12 is 0")
	}
	f.need(s.Minute >= 0 && s.Minute < 60, "minute", "The minute hand stands from 0 to under 60")
	f.need(!s.Second.Set || s.Second.Value >= 0 && s.Second.Value < 60, "second", "The seconds hand stands from 0 to under 60")
	f.need(finite(s.U) && s.U >= 0, "u", "A doubt is not below nought")
	within(f, "weight", s.Weight, 0, mostFall, "Enter the height of the weight above the floor of the case, from 0 to 100 m")
	within(f, "room", s.Room, coldest, hottest, "Enter a temperature from −73 °C to 76 °C")
	f.need(slices.Contains(StrikeStates(), s.Strike), "strike", "The strike was one of %s", strings.Join(StrikeStates(), ", "))
	f.need(s.Wound.IsZero() || s.Wound.After(earliest) && s.Wound.Before(s.Found), "wound", "It was wound before it was found standing")
	f.text("pendulum", s.Pendulum)
	f.text("words", s.Words)
}

// StrikeStates lists how the strike of a clock that stands can be.
func StrikeStates() []string { return []string{"at rest", "warned", "striking", "not known"} }

func (f *faultsOf) reply(r *Reply) {
	if r == nil {
		f.add("answer", "Say what the answer is")
		return
	}
	f.need(slices.Contains(doubts(), r.About), "answer.about", "“%s” is not a question", meas.Clip(string(r.About)))
	f.need(r.Reading > 0 || r.Reading == 0 && !r.From.IsZero(), "answer.reading", "Say which reading, or which moment, the answer is about")
	f.need(finite(r.Shift) && size(r.Shift) <= mostError, "answer.shift", "A reading is put right by at most a day")
	f.need(finite(r.Later) && size(r.Later) <= mostError, "answer.later", "A reading is taken at most a day later or earlier")
	f.need(r.Shift == 0 && r.Later == 0 || r.Reading > 0 && !r.Right, "answer.shift", "Only a reading that is not right is put right by so much")
	if r.Touch != nil {
		f.touch("answer.touch", r.Touch)
	}
}

// doubts lists what questions are about.
func doubts() []regulate.Doubtful {
	return []regulate.Doubtful{regulate.HalfDay, regulate.WrongHalf, regulate.SummerTime, regulate.WrongMinute, regulate.Stray, regulate.Disagree, regulate.SetUnnoted,
		regulate.RateUnnoted, regulate.HostStepped, regulate.Twice, regulate.Order, regulate.Ahead}
}

func (f *faultsOf) aim(a *Aim) {
	if a == nil {
		f.add("aim", "Say what counts as right")
		return
	}
	f.need(finite(a.Rate) && a.Rate >= -mostRate && a.Rate <= mostRate, "rate", "Enter the rate to aim at, 0 for true")
	f.need(finite(a.Band) && a.Band > 0 && a.Band <= mostRate, "band", "Enter how far from it counts as right, above nought")
	f.need(finite(a.BeatError) && a.BeatError >= 0, "beat_error", "Enter the most the beat may be out, or nothing")
	f.text("promise", a.Promise)
	_, going := a.Going()
	f.need(a.Goes == "" || a.Goes == NotWound || going, "goes", "Enter how long it goes wound up, in days")
	f.need(a.ForHome == AtLastGate || a.ForHome == FromNow || a.ForHome == NotAtAll, "for_home", "A clock is set for its home now, never, or at its last gate")
	if h := a.Home; h != nil {
		for _, t := range [][2]string{{"place", h.Place}, {"latitude", h.Latitude}, {"height", h.Height}, {"gravity", h.Gravity}, {"temperature", h.Temperature}} {
			f.text("home."+t[0], t[1])
		}
	}
	seen := map[string]bool{}
	for i, g := range a.Gates {
		at := func(name string) string { return fmt.Sprintf("gates[%d].%s", i, name) }
		f.need(strings.TrimSpace(g.Key) != "" && !seen[g.Key], at("key"), "Each gate has a key of its own")
		seen[g.Key] = true
		f.need(strings.TrimSpace(g.Name) != "", at("name"), "Enter what the gate is called")
		f.need(finite(unit.Ratio(g.Days)) && g.Days > 0 && g.Days <= 3660, at("days"), "Enter how many days it takes, above nought")
		f.need(g.Least >= 0, at("least"), "Enter how many readings there must be, or 0")
		f.need(finite(unit.Ratio(g.Gap)) && g.Gap >= 0, at("gap"), "Enter the longest time without a reading in days, or 0")
		f.text(at("key"), g.Key)
		f.text(at("name"), g.Name)
	}
}

func (f *faultsOf) strike(s *Strike) {
	if s == nil {
		f.add("strike", "Say which hour was heard")
		return
	}
	f.when("at", s.At)
	f.need(s.Hour >= 1 && s.Hour <= 12, "hour", "An hour strikes from 1 to 12")
	f.need(s.Blows >= 0 && s.Blows <= 100, "blows", "Enter how many blows were counted, from 0 to 100")
}

func finite[Q unit.Quantity](q Q) bool {
	return !math.IsNaN(float64(q)) && !math.IsInf(float64(q), 0)
}

func size(d unit.Duration) unit.Duration { return max(d, -d) }
