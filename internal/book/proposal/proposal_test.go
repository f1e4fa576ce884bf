package proposal

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var nine = time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)

func hours(h float64) meas.Reading[unit.Duration] { return meas.Of(unit.Duration(h * 3600)) }

func draft() Draft {
	return Draft{Query: estimate.Query{Tasks: []estimate.Task{{N: 1, What: "pivots", Low: hours(2), Likely: hours(3), High: hours(7)}}}, Terms: "holds for a month"}
}

// writer adds entries and wants them taken, or refused with words.
type writer struct {
	t *testing.T
	p Proposal
}

func (w *writer) add(e Event) Event {
	w.t.Helper()
	e.When, e.Who = nine, "Ada"
	done, f := w.p.Add(e)
	if len(f) > 0 {
		w.t.Fatalf("%s: %v", e.Kind, f)
	}
	return done
}

func (w *writer) refuses(e Event, words string) {
	w.t.Helper()
	e.When, e.Who = nine, "Ada"
	before := len(w.p.log)
	if _, f := w.p.Add(e); len(f) == 0 || !strings.Contains(f[0].Text, words) || len(w.p.log) != before {
		w.t.Errorf("%s: %v, want %q", e.Kind, f, words)
	}
}

func fixed(t *testing.T) Event {
	t.Helper()
	a, err := estimate.Solve(draft().Query)
	if err != nil {
		t.Fatal(err)
	}
	return Event{Kind: Fixed, Version: &Version{Answer: a, Terms: draft().Terms}}
}

func consent(version int) *work.Consent {
	return &work.Consent{Version: version, Name: "Mrs V.", When: nine, How: "by letter", Who: "Ada", Deposit: "200 EUR"}
}

func TestVersionsAndTheOwnersWord(t *testing.T) {
	w := &writer{t: t}
	d := draft()
	w.refuses(Event{Kind: Fixed, Version: &Version{}}, "nothing to fix")
	w.add(Event{Kind: Drafted, Draft: &d})
	v := w.add(fixed(t))
	w.refuses(Event{Kind: Said, Consent: consent(2)}, "no version 2")
	w.refuses(Event{Kind: Said, Consent: &work.Consent{Version: 1}}, "who gave")
	w.refuses(Event{Kind: Paid, Deposit: &Deposit{Version: 1}}, "amount")
	if _, _, ok := w.p.Agreed(); ok {
		t.Error("agreed before a word was said")
	}
	said := w.add(Event{Kind: Said, Consent: consent(1)})
	w.refuses(Event{Kind: Undone, Entry: ledger.Entry{Undoes: v.N}}, "answered to version 1")
	if got, c, ok := w.p.Agreed(); !ok || got.N != 1 || c.Name != "Mrs V." {
		t.Errorf("%v %v", got.N, c)
	}
	w.add(fixed(t))
	no := consent(2)
	no.Refused = true
	w.add(Event{Kind: Said, Consent: no})
	if got, _, _ := w.p.Agreed(); got.N != 1 {
		t.Errorf("version %d is agreed, though it was refused", got.N)
	}
	w.add(Event{Kind: Undone, Entry: ledger.Entry{Undoes: said.N}})
	w.add(Event{Kind: Undone, Entry: ledger.Entry{Undoes: v.N}})
	if _, ok := w.p.Find(1); ok || len(w.p.Versions) != 1 {
		t.Error("a version that was taken back stands")
	}
	if n := w.add(fixed(t)).Version.N; n != 3 {
		t.Errorf("a number was given out twice: %d", n)
	}
	if e, ok := w.p.Undoable(); !ok || e.Kind != Fixed || e.Version.N != 3 {
		t.Errorf("%+v", e)
	}
}

// TestVersionsAreFrozen: what was fixed is read back to the last figure.
func TestVersionsAreFrozen(t *testing.T) {
	w := &writer{t: t}
	d := draft()
	w.add(Event{Kind: Drafted, Draft: &d})
	w.add(fixed(t))
	w.add(Event{Kind: Said, Consent: consent(1)})
	w.add(Event{Kind: Paid, Deposit: &Deposit{Version: 1, When: nine, Amount: "200 EUR", How: "cash"}})
	text, err := json.Marshal(w.p.log)
	if err != nil {
		t.Fatal(err)
	}
	var log []Event
	if err := json.Unmarshal(text, &log); err != nil {
		t.Fatal(err)
	}
	again, err := Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(w.p.Versions, again.Versions); diff != "" {
		t.Error(diff)
	}
	text2, _ := json.Marshal(again.log)
	if string(text2) != string(text) {
		t.Errorf("%s\n%s", text, text2)
	}
}

// TestDamagedEntriesAreLeftOut: what cannot be does not hide the rest.
func TestDamagedEntriesAreLeftOut(t *testing.T) {
	d := draft()
	log := []Event{
		{Entry: ledger.Entry{N: 1, When: nine, Who: "Ada"}, Kind: Drafted, Draft: &d},
		{Entry: ledger.Entry{N: 2, When: nine, Who: "Ada"}, Kind: Drafted},
		{Entry: ledger.Entry{N: 3, When: nine, Who: "Ada"}, Kind: Said, Consent: consent(4)},
		{Entry: ledger.Entry{N: 4, When: nine, Who: "Ada", Undoes: 9}, Kind: Undone},
	}
	p, err := Fold(log)
	if err == nil || p.Drafted != 1 || len(p.Consents) != 0 {
		t.Errorf("%+v %v", p, err)
	}
}
