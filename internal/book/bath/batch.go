package bath

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
)

// Kind is what an event does.
type Kind string

// The kinds.
const (
	Begun     Kind = "begun"     // the parts are in the liquid
	Moved     Kind = "moved"     // the end of the bath is another one: Until
	Ticked    Kind = "ticked"    // a step is done; Why says what was seen
	Closed    Kind = "closed"    // all is done
	Abandoned Kind = "abandoned" // taken out and not finished; Why says why
	Undone    Kind = "undone"
)

// Event is one entry of a batch's log.
type Event struct {
	ledger.Entry
	Kind  Kind      `json:"kind"`
	Step  string    `json:"step,omitempty"` // a key of clean.Steps
	Until time.Time `json:"until,omitzero"` // the end of the bath
	Plan  *Plan     `json:"plan,omitempty"` // what was begun
}

// Plan is what goes in, and on whose word.
type Plan struct {
	Asked     clean.Query       `json:"asked"`
	Jar       string            `json:"jar"`                 // which bath it is, in words
	Overruled map[string]string `json:"overruled,omitempty"` // by the code of the refusal: the reason
	Refused   []string          `json:"refused,omitempty"`   // the sentences that were overruled
}

// Batch is a batch as it stands.
type Batch struct {
	Plan
	Began     time.Time
	Until     time.Time
	Ticks     []Tick // in order
	Closed    time.Time
	Abandoned string // why, "" where not
	log       []Event
}

// Tick is one step that is done.
type Tick struct {
	Step string
	At   time.Time
	Who  string
	Seen string
}

// Begin judges the batch and, where it may go in, gives the event that begins
// its log. A hard stop, a question and a refusal without a reason of its own
// are faults, all at once.
func Begin(head ledger.Entry, q clean.Query, jar string, overruled map[string]string) (Event, clean.Answer, meas.Faults) {
	a, err := clean.Solve(q)
	var faults meas.Faults
	if err != nil {
		errors.As(err, &faults)
		return Event{}, a, faults
	}
	p := Plan{Asked: q, Jar: jar}
	for _, r := range a.Refusals {
		why := strings.TrimSpace(overruled[r.Finding.Code])
		switch {
		case r.Hard:
			faults = append(faults, meas.Fault{Field: r.Finding.Code, Text: r.Finding.Text + " " + r.Finding.Next})
		case why == "":
			faults = append(faults, meas.Fault{Field: r.Finding.Code, Text: r.Finding.Text + " " + r.Finding.Next + " Or write why it is done all the same."})
		default:
			if p.Overruled == nil {
				p.Overruled = map[string]string{}
			}
			p.Overruled[r.Finding.Code] = why
			p.Refused = append(p.Refused, r.Finding.Text)
		}
	}
	for _, f := range a.Questions {
		faults = append(faults, meas.Fault{Field: f.Code, Text: f.Text + " " + f.Next})
	}
	head.N = 1
	e := Event{Entry: head, Kind: Begun, Plan: &p, Until: head.When.Add(timeOf(a))}
	if faults = append(faults, ledger.CheckHead(head)...); len(faults) > 0 {
		return Event{}, a, faults
	}
	return e, a, nil
}

// timeOf is how long the parts are to stay in: as asked, or the limit.
func timeOf(a clean.Answer) time.Duration {
	s := float64(a.Limit.Value)
	if a.Query.Time.Set {
		s = float64(a.Query.Time.Value)
	}
	return time.Duration(s * float64(time.Second))
}

// Fold makes a batch of its log; the error is a meas.Faults with every event
// that cannot be.
func Fold(log []Event) (Batch, error) {
	b := Batch{log: slices.Clone(log)}
	faults := ledger.Check(log)
	if len(faults) > 0 {
		return b, faults
	}
	standing := ledger.Standing(log)
	for i, e := range log {
		if !standing[i] || e.Kind == Undone {
			continue
		}
		if text := b.apply(e); text != "" {
			faults = append(faults, meas.Fault{Field: fmt.Sprintf("events[%d]", i), Text: text})
		}
	}
	if b.Began.IsZero() && len(faults) == 0 {
		faults = append(faults, meas.Fault{Field: "events", Text: "The batch was never begun"})
	}
	if len(faults) > 0 {
		return b, faults
	}
	return b, nil
}

// apply does what an event says; the answer is why it cannot.
func (b *Batch) apply(e Event) string {
	switch {
	case e.Kind == Begun && !b.Began.IsZero():
		return "The batch was begun before"
	case e.Kind == Begun && (e.Plan == nil || !e.Until.After(e.When)):
		return "A batch begins with its parts and with an end of the bath after its beginning"
	case e.Kind == Begun:
		b.Plan, b.Began, b.Until = *e.Plan, e.When, e.Until
		return ""
	case b.Began.IsZero():
		return "The batch was never begun"
	case b.Ended():
		return "The batch is closed; undo that first"
	}
	switch e.Kind {
	case Moved:
		return b.applyMoved(e)
	case Ticked:
		return b.applyTick(e)
	case Closed:
		if open := b.Open(); len(open) > 0 {
			return "Not closed: still to do: " + stepNames(open)
		}
		b.Closed = e.When
	case Abandoned:
		if strings.TrimSpace(e.Why) == "" {
			return "Write why the batch is given up, and where its parts are"
		}
		b.Abandoned, b.Closed = e.Why, e.When
	default:
		return fmt.Sprintf("“%s” is nothing that can be done with a batch", e.Kind)
	}
	return ""
}

func (b *Batch) applyMoved(e Event) string {
	switch {
	case b.ticked(clean.BathStep):
		return "The parts are out of the bath already"
	case !e.Until.After(b.Began):
		return "The end of the bath must be after its beginning"
	case e.Until.After(b.Until) && strings.TrimSpace(e.Why) == "":
		return "Write why they stay in longer"
	}
	b.Until = e.Until
	return ""
}

func (b *Batch) applyTick(e Event) string {
	open := b.Open()
	at := slices.IndexFunc(clean.Steps(), func(s clean.Step) bool { return s.Key == e.Step })
	switch {
	case at < 0:
		return fmt.Sprintf("“%s” is not a step; they are: %s", e.Step, stepNames(clean.Steps()))
	case b.ticked(e.Step):
		return clean.Steps()[at].Name + " is ticked already"
	case open[0].Key != e.Step:
		return open[0].Name + " comes first"
	case e.When.Before(b.last()):
		return fmt.Sprintf("%s cannot be before %s, at %s", clean.Steps()[at].Name, b.lastName(), b.last().Format("15:04:05"))
	case e.Step == clean.InspectStep && strings.TrimSpace(e.Why) == "":
		return "Write what was seen, if only that all is clean and counted"
	}
	b.Ticks = append(b.Ticks, Tick{e.Step, e.When, e.Who, e.Why})
	return ""
}

// Add puts an event at the end of the log, numbered; with faults the batch
// stays as it is.
func (b *Batch) Add(e Event) meas.Faults {
	e.N = ledger.Next(b.log)
	if e.Undoes != 0 {
		e.Kind = Undone
		if f := ledger.CanUndo(b.log, e.Undoes); len(f) > 0 {
			return f
		}
	}
	after, err := Fold(append(slices.Clone(b.log), e))
	if err != nil {
		var f meas.Faults
		errors.As(err, &f)
		if e.Kind == Undone {
			f = append(meas.Faults{{Field: "undoes", Text: fmt.Sprintf("Entry %d cannot be undone while later ones lean on it", e.Undoes)}}, f...)
		}
		return f
	}
	*b = after
	return nil
}

// Log is the events, oldest first. It must not be changed.
func (b *Batch) Log() []Event { return b.log }

// Open lists the steps that are not ticked, in order.
func (b *Batch) Open() []clean.Step { return clean.Steps()[min(len(b.Ticks), len(clean.Steps())):] }

// Ended tells whether the batch is closed or given up.
func (b *Batch) Ended() bool { return !b.Closed.IsZero() }

// InLiquid tells whether the parts are in the bath.
func (b *Batch) InLiquid() bool { return !b.Ended() && !b.ticked(clean.BathStep) }

// Left is how long the parts may still stay in; negative is how long they are
// overdue. Once they are out it is what was left (or over) then.
func (b *Batch) Left(now time.Time) time.Duration {
	switch {
	case len(b.Ticks) > 0:
		now = b.Ticks[0].At
	case b.Ended():
		now = b.Closed
	}
	return b.Until.Sub(now)
}

// Rings tells whether the alarm is to sound.
func (b *Batch) Rings(now time.Time) bool { return b.InLiquid() && b.Left(now) <= 0 }

func (b *Batch) ticked(step string) bool {
	return slices.ContainsFunc(b.Ticks, func(t Tick) bool { return t.Step == step })
}

// last is the instant of the latest thing done.
func (b *Batch) last() time.Time {
	if n := len(b.Ticks); n > 0 {
		return b.Ticks[n-1].At
	}
	return b.Began
}

func (b *Batch) lastName() string {
	if n := len(b.Ticks); n > 0 {
		return clean.Steps()[n-1].Name
	}
	return "the beginning"
}

func stepNames(steps []clean.Step) string {
	var names []string
	for _, s := range steps {
		names = append(names, s.Name)
	}
	return strings.Join(names, ", ")
}

// MovesParts is the state that an event of a batch brings its parts to; false
// where it moves none.
func (e Event) MovesParts() (parts.State, bool) {
	switch {
	case e.Kind == Begun:
		return parts.InBath, true
	case e.Kind == Ticked && e.Step == clean.DryStep:
		return parts.Dry, true
	}
	return "", false
}
