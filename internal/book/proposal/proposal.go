package proposal

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/meas"
)

// Kind is what an entry does.
type Kind string

// The kinds.
const (
	Drafted Kind = "drafted" // the tasks and terms as they stand
	Fixed   Kind = "fixed"   // a version, with its figures
	Said    Kind = "said"    // the owner's word on a version
	Paid    Kind = "paid"    // a deposit came
	Undone  Kind = "undone"
)

// Draft is tasks and terms as they are being written.
type Draft struct {
	Query       estimate.Query `json:"query"`
	NotIncluded string         `json:"not_included"` // beside the tasks that are left out, a line each
	Terms       string         `json:"terms"`        // limits, risks, how long it holds
}

// Version is what was put before the owner.
type Version struct {
	N           int             `json:"n"` // from 1
	Answer      estimate.Answer `json:"answer"`
	NotIncluded string          `json:"not_included"`
	Terms       string          `json:"terms"`
	When        time.Time       `json:"-"` // of its entry
	Who         string          `json:"-"`
	Entry       int             `json:"-"`
}

// Deposit is money that came for a version.
type Deposit struct {
	Version int       `json:"version"`
	When    time.Time `json:"when"`
	Amount  string    `json:"amount"` // as written, with its currency
	How     string    `json:"how"`
}

// Event is an entry of the log; what its kind does not need is nil.
type Event struct {
	ledger.Entry
	Kind    Kind          `json:"kind"`
	Draft   *Draft        `json:"draft,omitempty"`
	Version *Version      `json:"version,omitempty"`
	Consent *work.Consent `json:"consent,omitempty"`
	Deposit *Deposit      `json:"deposit,omitempty"`
}

// Proposal is a log, worked out.
type Proposal struct {
	Draft    Draft
	Drafted  int // the entry of the draft, 0 where there is none
	Versions []Version
	Consents []work.Consent
	Deposits []Deposit
	log      []Event
}

// Fold works a log out. The error is a meas.Faults of the entries that cannot
// be; they are left out.
func Fold(log []Event) (p Proposal, err error) {
	err = ledger.Fold(log, func(e Event) meas.Faults { return p.faults(e) }, func(e *Event) { e.Kind, e.Undoes = "", 0 }, p.take)
	return p, err
}

// take puts an entry at the end.
func (p *Proposal) take(e Event) {
	log := append(p.log, e)
	*p = Proposal{log: log}
	for i, stands := range ledger.Standing(log) {
		x := log[i]
		if !stands {
			continue
		}
		switch x.Kind {
		case Drafted:
			p.Draft, p.Drafted = *x.Draft, x.N
		case Fixed:
			v := *x.Version
			v.When, v.Who, v.Entry = x.When, x.Who, x.N
			p.Versions = append(p.Versions, v)
		case Said:
			p.Consents = append(p.Consents, *x.Consent)
		case Paid:
			p.Deposits = append(p.Deposits, *x.Deposit)
		}
	}
}

// Add puts an entry at the end, numbered; with faults nothing is added. A new
// version is numbered as well.
func (p *Proposal) Add(e Event) (Event, meas.Faults) {
	e.N = ledger.Next(p.log)
	if e.Kind == Fixed && e.Version != nil && e.Version.N == 0 {
		v := *e.Version
		v.N = p.nextVersion()
		e.Version = &v
	}
	if f := append(ledger.CheckHead(e.Entry), p.faults(e)...); len(f) > 0 {
		return Event{}, f
	}
	p.take(e)
	return e, nil
}

// nextVersion is a number that was never given out.
func (p *Proposal) nextVersion() int {
	n := 0
	for _, e := range p.log {
		if e.Kind == Fixed {
			n = max(n, e.Version.N)
		}
	}
	return n + 1
}

// Find is a version that stands.
func (p Proposal) Find(n int) (Version, bool) {
	for _, v := range p.Versions {
		if v.N == n {
			return v, true
		}
	}
	return Version{}, false
}

// Agreed is the last version that the owner has agreed to; false where there
// is none.
func (p Proposal) Agreed() (Version, work.Consent, bool) {
	for _, v := range slices.Backward(p.Versions) {
		if c, ok := work.Standing(p.Consents, v.N); ok && !c.Refused {
			return v, c, true
		}
	}
	return Version{}, work.Consent{}, false
}

// Log lists all entries, oldest first.
func (p Proposal) Log() []Event { return slices.Clone(p.log) }

// Undoable is the last entry that can be taken back: a version, a word or a
// deposit; false where there is none.
func (p Proposal) Undoable() (Event, bool) {
	standing := ledger.Standing(p.log)
	for i, e := range slices.Backward(p.log) {
		if standing[i] && (e.Kind == Fixed || e.Kind == Said || e.Kind == Paid) && len(p.undoFaults(e.N)) == 0 {
			return e, true
		}
	}
	return Event{}, false
}

// faults is why an entry cannot follow those that are there.
func (p *Proposal) faults(e Event) meas.Faults {
	wrong := func(field, text string) meas.Faults { return meas.Faults{{Field: field, Text: text}} }
	switch {
	case e.Kind == Undone:
		return p.undoFaults(e.Undoes)
	case e.Kind == Drafted && e.Draft != nil:
		return e.Draft.check()
	case e.Kind == Fixed && e.Version != nil:
		if e.Version.N != p.nextVersion() {
			return wrong("version.n", fmt.Sprintf("The next version is number %d, not %d", p.nextVersion(), e.Version.N))
		}
		if !e.Version.Answer.Range.Set {
			return wrong("tasks", "There is nothing to fix yet: enter at least one task with low, likely and high hours")
		}
		return nil
	case e.Kind == Said && e.Consent != nil:
		return append(p.known(e.Consent.Version), e.Consent.Check()...)
	case e.Kind == Paid && e.Deposit != nil:
		return append(p.known(e.Deposit.Version), e.Deposit.Check()...)
	}
	return wrong("kind", fmt.Sprintf("“%s” is no kind of entry, or says nothing", e.Kind))
}

func (p *Proposal) known(version int) meas.Faults {
	if _, ok := p.Find(version); !ok && version > 0 {
		return meas.Faults{{Field: "version", Text: fmt.Sprintf("There is no version %d", version)}}
	}
	return nil
}

// undoFaults is why an entry cannot be taken back.
func (p *Proposal) undoFaults(n int) meas.Faults {
	if f := ledger.CanUndo(p.log, n); len(f) > 0 {
		return f
	}
	e := p.log[n-1]
	if e.Kind != Fixed {
		return nil
	}
	_, said := work.Standing(p.Consents, e.Version.N)
	paid := slices.ContainsFunc(p.Deposits, func(d Deposit) bool { return d.Version == e.Version.N })
	if said || paid {
		return meas.Faults{{Field: "undoes", Text: fmt.Sprintf("The owner has answered to version %d, or paid for it; take that back first, or fix another version", e.Version.N)}}
	}
	return nil
}

func (d Draft) check() meas.Faults {
	f := d.Query.Check()
	f = append(f, ledger.CheckText("not_included", d.NotIncluded)...)
	return append(f, ledger.CheckText("terms", d.Terms)...)
}

// Check lists what is missing of a deposit.
func (d Deposit) Check() meas.Faults {
	var f meas.Faults
	if strings.TrimSpace(d.Amount) == "" {
		f = append(f, meas.Fault{Field: "amount", Text: "Enter the amount with its currency"})
	}
	if d.When.IsZero() {
		f = append(f, meas.Fault{Field: "paid", Text: "Enter the day on which it came"})
	}
	return append(append(f, ledger.CheckText("amount", d.Amount)...), ledger.CheckText("paid_how", d.How)...)
}
