package work

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
)

// Stretch is one stretch of work without a break. A pause ends it and begins
// another.
type Stretch struct {
	N         int       `json:"n"`
	Who       string    `json:"who"`
	Clock     string    `json:"clock"`   // the clock's number, "" where not yet said
	Chapter   string    `json:"chapter"` // "" where not yet said
	Task      string    `json:"task"`
	Note      string    `json:"note"`
	Start     time.Time `json:"start"`
	End       time.Time `json:"end,omitzero"`        // zero while it runs
	ByHand    bool      `json:"by_hand,omitempty"`   // both ends were typed, or the length
	DayOnly   bool      `json:"day_only,omitempty"`  // its day and length were told, no hour: it begins at noon
	Confirmed bool      `json:"confirmed,omitempty"` // it was asked about, and is right
	Billed    string    `json:"billed,omitempty"`    // the document it was billed with
	Removed   time.Time `json:"removed,omitzero"`
}

// Running tells whether the clock still runs.
func (s Stretch) Running() bool { return s.End.IsZero() && s.Removed.IsZero() }

// Length is how long it was, 0 while it runs.
func (s Stretch) Length() time.Duration {
	if s.End.IsZero() {
		return 0
	}
	return s.End.Sub(s.Start)
}

// Day is the local day it counts for, that of its start: "2026-03-04".
func (s Stretch) Day(zone *time.Location) string { return s.Start.In(zone).Format(time.DateOnly) }

// Check lists what cannot be kept.
func (s Stretch) Check() meas.Faults {
	var f meas.Faults
	add := func(field, text string) { f = append(f, meas.Fault{Field: field, Text: text}) }
	if strings.TrimSpace(s.Who) == "" {
		add("who", "Say who works")
	}
	for _, t := range [][2]string{{"clock", s.Clock}, {"chapter", s.Chapter}, {"task", s.Task}, {"note", s.Note}} {
		f = append(f, ledger.CheckText(t[0], t[1])...)
	}
	switch {
	case s.Start.IsZero():
		add("start", "Enter when the work began")
	case !s.End.IsZero() && !s.End.After(s.Start):
		add("end", fmt.Sprintf("The work began at %s and cannot have ended before or at that, at %s", s.Start.Format("15:04:05"), s.End.Format("15:04:05")))
	case s.End.IsZero() && s.ByHand:
		add("end", "Enter when the work ended")
	}
	return f
}

// RunningOf is the stretch that runs for a person; false where none does.
func RunningOf(all []Stretch, who string) (Stretch, bool) {
	for _, s := range all {
		if s.Running() && SamePerson(s.Who, who) {
			return s, true
		}
	}
	return Stretch{}, false
}

// SamePerson tells whether two names are one person's.
func SamePerson(a, b string) bool { return Person(a) == Person(b) }

// Person is a name as it is compared: small letters, single spaces.
func Person(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// Begin starts a stretch; only who must be known. While another runs for the
// same person it is a fault that names it.
func Begin(all []Stretch, s Stretch, at time.Time) (Stretch, meas.Faults) {
	s.Start, s.End, s.ByHand = at, time.Time{}, false
	f := s.Check()
	if other, ok := RunningOf(all, s.Who); ok {
		f = append(f, meas.Fault{Field: "who", Text: fmt.Sprintf("%s is at work since %s%s; stop that first", other.Who, other.Start.Format("15:04"), on(other))})
	}
	if len(f) > 0 {
		return Stretch{}, f
	}
	s.N = nextN(all)
	return s, nil
}

func on(s Stretch) string {
	what := strings.TrimSpace(s.Clock + " " + s.Task)
	if what == "" {
		return ""
	}
	return " on " + what
}

func nextN(all []Stretch) int {
	n := 0
	for _, s := range all {
		n = max(n, s.N)
	}
	return n + 1
}

// Stop ends a running stretch.
func (s Stretch) Stop(at time.Time) (Stretch, meas.Faults) {
	if !s.Running() {
		return s, meas.Faults{{Field: "end", Text: "This work was stopped already; change its end instead"}}
	}
	s.End = at
	if f := s.Check(); len(f) > 0 {
		return Stretch{}, f
	}
	return s, nil
}

// Change is the fault of changing a stretch into another, nil where it may be:
// what was billed stays as it is, whoever asks.
func Change(before, after Stretch) meas.Faults {
	if before.Billed != "" {
		free := before
		free.Note = after.Note
		if free.plain() != after.plain() {
			return meas.Faults{{Field: "billed", Text: "This work was billed with " + before.Billed + "; it can be changed only after that document is cancelled"}}
		}
	}
	return after.Check()
}

// plain is a stretch whose instants can be compared.
func (s Stretch) plain() Stretch {
	s.Start, s.End, s.Removed = s.Start.UTC().Round(0), s.End.UTC().Round(0), s.Removed.UTC().Round(0)
	return s
}

// Rule says what was probably forgotten.
type Rule struct {
	Longest time.Duration  // longer than anybody works without a break; 0 is 6 h
	Zone    *time.Location // of the shop, for midnight; nil is UTC
}

// usualLongest is common practice: more than half a working day without a
// break is asked about.
const usualLongest = 6 * time.Hour

// Question asks for the true end of a stretch.
type Question struct {
	Text string
	Ends []time.Time // that may be meant, in order
}

// Asks tells whether a stretch must be asked about, and how: it ran longer
// than the rule, or over midnight, and nobody has said that this is right.
// seen is the last thing the person was seen to do, zero where none is known.
func (r Rule) Asks(s Stretch, now, seen time.Time) (Question, bool) {
	if s.Confirmed || s.ByHand || !s.Removed.IsZero() {
		return Question{}, false
	}
	longest, zone := r.Longest, r.Zone
	if longest <= 0 {
		longest = usualLongest
	}
	if zone == nil {
		zone = time.UTC
	}
	end, verb := s.End, "ran"
	if s.Running() {
		end, verb = now, "has been running"
	}
	midnight := nextMidnight(s.Start, zone)
	long, over := end.Sub(s.Start) > longest, end.After(midnight)
	if !long && !over {
		return Question{}, false
	}
	why := "longer than " + hoursWords(longest)
	if over {
		why = "over midnight"
	}
	q := Question{Text: fmt.Sprintf("The clock of %s%s %s %s, %s. When did the work end?", s.Who, on(s), verb, hoursWords(end.Sub(s.Start)), why)}
	for _, t := range []time.Time{seen, s.Start.Add(longest), midnight, end} {
		if t.After(s.Start) && !t.After(end) && !slices.ContainsFunc(q.Ends, t.Equal) {
			q.Ends = append(q.Ends, t)
		}
	}
	slices.SortFunc(q.Ends, time.Time.Compare)
	return q, true
}

// nextMidnight is the end of the local day of an instant.
func nextMidnight(t time.Time, zone *time.Location) time.Time {
	y, m, d := t.In(zone).Date()
	return time.Date(y, m, d+1, 0, 0, 0, 0, zone)
}

func hoursWords(d time.Duration) string {
	m := int(d.Round(time.Minute) / time.Minute)
	if m%60 == 0 {
		return fmt.Sprintf("%d h", m/60)
	}
	return fmt.Sprintf("%d h %02d min", m/60, m%60)
}
