package shop

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/book/bath"
	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/making"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/proposal"
	"seatboard/internal/book/stores"
	"seatboard/internal/book/trial"
	"seatboard/internal/book/work"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// takenBook is the kind of log of what a clock used from the shelf of another
// shop, by the UID of the clock.
const takenBook = "materials"

// clockBooks lists the kinds of log that are a clock's, in the order in which
// its file has them.
func clockBooks() []string {
	return []string{conditionBook, partsBook, bathBook, workBook, interventionsBook, proposalBook, trialBook, making.LogBook}
}

// verbatim is an entry of a log word for word.
type verbatim struct {
	ledger.Entry
	text json.RawMessage
}

// MarshalJSON gives the words.
func (v verbatim) MarshalJSON() ([]byte, error) { return v.text, nil }

// UnmarshalJSON keeps the words, and reads what every entry has.
func (v *verbatim) UnmarshalJSON(b []byte) error {
	v.text = slices.Clone(b)
	return json.Unmarshal(b, &v.Entry)
}

// exportLogs reads the logs of a clock, and what it used from the shelf.
func exportLogs(tx *store.Tx, c job.Clock) ([]job.Log, error) {
	var out []job.Log
	for _, book := range clockBooks() {
		logs, err := tx.ClockLogs(c.ID, book)
		if err != nil {
			return nil, err
		}
		for _, l := range logs {
			entries, err := store.Entries[verbatim](tx, l)
			if err != nil {
				return nil, err
			}
			if len(entries) == 0 {
				continue
			}
			to := job.Log{Book: book, Name: l.Name}
			for _, e := range entries {
				to.Entries = append(to.Entries, e.text)
			}
			out = append(out, to)
		}
	}
	taken, err := takenFor(tx, c)
	if err != nil || len(taken) == 0 {
		return out, err
	}
	to := job.Log{Book: takenBook, Name: c.UID}
	for _, t := range taken {
		text, err := json.Marshal(t)
		if err != nil {
			return nil, fmt.Errorf("shop: materials: %w", err)
		}
		to.Entries = append(to.Entries, text)
	}
	return append(out, to), nil
}

// takenFor lists what a clock used from any shelf: what came with its file,
// then what it used here.
func takenFor(tx *store.Tx, c job.Clock) ([]stores.Taken, error) {
	l, err := tx.Log(takenBook, c.UID)
	if err != nil {
		return nil, err
	}
	there, err := store.Entries[stores.Taken](tx, l)
	if err != nil {
		return nil, err
	}
	_, st, err := readStores(tx)
	if err != nil {
		return nil, err
	}
	return st.Shelf.TakenFor(c.Number, there), nil
}

// folding reads entries as their book has them, and tells whether something
// among them is under way; the error is a meas.Faults of those that cannot be.
type folding func(entries []json.RawMessage) (running bool, err error)

func foldingOf[E, F any](fold func([]E) (F, error), running func(F) bool) folding {
	return func(entries []json.RawMessage) (bool, error) {
		log := make([]E, len(entries))
		var faults meas.Faults
		for i, text := range entries {
			if err := json.Unmarshal(text, &log[i]); err != nil {
				faults = append(faults, meas.Fault{Field: fmt.Sprintf("events[%d]", i), Text: fmt.Sprintf("Entry %d is not one of this log: %s", i+1, strings.TrimPrefix(err.Error(), "json: "))})
			}
		}
		if len(faults) > 0 {
			return false, faults
		}
		f, err := fold(log)
		return err == nil && running != nil && running(f), err
	}
}

// folding is how the logs of a book are read; nil where the book is not known.
func (s *Shop) folding(book string) folding {
	switch book {
	case conditionBook:
		return foldingOf(condition.Fold, nil)
	case partsBook:
		return foldingOf(parts.Fold, nil)
	case bathBook:
		return foldingOf(bath.Fold, func(b bath.Batch) bool { return !b.Ended() })
	case workBook:
		return foldingOf(work.FoldHours, func(h work.Hours) bool { return h.Open(s.WorkRule()) })
	case interventionsBook:
		return foldingOf(work.FoldOriginality, nil)
	case proposalBook:
		return foldingOf(proposal.Fold, nil)
	case trialBook:
		return foldingOf(trial.Fold, nil)
	case making.LogBook:
		return foldingOf(making.Fold, nil)
	case takenBook:
		return foldingOf(stores.FoldTaken, nil)
	}
	return nil
}

// passOverLogs has logs of books that this program does not know kept like
// everything in a file that is not known.
func passOverLogs(f *job.File) error {
	known := append(clockBooks(), takenBook)
	for i, l := range f.Logs {
		if slices.Contains(known, l.Book) {
			continue
		}
		at := fmt.Sprintf("logs[%d]", i)
		text, err := json.Marshal(map[string]any{"book": l.Book, "name": l.Name, "entries": l.Entries})
		if err != nil || len(text) > job.MaxText {
			return meas.Faults{{Field: at, Text: "This kind of log is not known to this program and holds more than 1 MB, which cannot be kept with the clock; take it out"}}
		}
		f.Unread = append(f.Unread, job.Unread{Path: at, JSON: string(text)})
	}
	return nil
}

// mostLogFaults bounds what is said of logs that cannot be.
const mostLogFaults = 50

// importLogs puts the logs of a file into the book as they stand there. The
// error is a meas.Faults of what cannot be.
func (s *Shop) importLogs(tx *store.Tx, c job.Clock, logs []job.Log) error {
	var faults meas.Faults
	for i, from := range logs {
		if s.folding(from.Book) == nil {
			continue // it was passed over
		}
		f, err := s.importLog(tx, c, from)
		if err != nil {
			return err
		}
		at := fmt.Sprintf("logs[%d].", i)
		for _, x := range f {
			x.Field = at + strings.Replace(x.Field, "events", "entries", 1)
			if faults = append(faults, x); len(faults) == mostLogFaults {
				return faults
			}
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

func (s *Shop) importLog(tx *store.Tx, c job.Clock, from job.Log) (meas.Faults, error) {
	l, err := tx.Log(from.Book, from.Name)
	switch {
	case err != nil:
		return nil, err
	case from.Book == bathBook && from.Name == "":
		return meas.Faults{{Field: "name", Text: "The batch has no name"}}, nil
	case from.Book != bathBook && from.Name != c.UID:
		return meas.Faults{{Field: "name", Text: "This log belongs to another clock: its name is not the clock's uid"}}, nil
	case l.Entries > 0:
		return meas.Faults{{Field: "name", Text: "This log is in the book already"}}, nil
	}
	var faults meas.Faults
	l.ClockID = c.ID
	if l.Running, err = s.folding(from.Book)(from.Entries); errors.As(err, &faults) {
		return faults, nil
	}
	if err != nil {
		return nil, err
	}
	entries := make([]verbatim, len(from.Entries))
	for i, text := range from.Entries {
		if err := json.Unmarshal(text, &entries[i]); err != nil {
			return nil, fmt.Errorf("shop: entry: %w", err)
		}
	}
	if l, err = store.Append(tx, l, entries...); err != nil || l.Book != partsBook {
		return nil, err
	}
	f, err := fold(tx, l, foldedLedger{})
	if err != nil {
		return nil, err
	}
	return nil, tx.IndexParts(c.ID, f.ledger.Parts())
}

// atMinute is how an instant stands in such a sentence.
const atMinute = "2006-01-02 15:04"

// What stands as the reason in the logs of a clock that was brought in.
const (
	bathElsewhere = "Under way when the clock's file was written. It goes on where it was begun; nothing is watched here."
	workElsewhere = "Running when the clock's file was written. It goes on where it was begun, and counts nothing here."
)

// endImported gives up the baths and strikes the work that were under way
// when the file of a clock was written, by further entries of their logs; the
// answer says so in sentences.
func (s *Shop) endImported(tx *store.Tx, by string, c job.Clock) ([]string, error) {
	var said []string
	logs, err := tx.ClockLogs(c.ID, bathBook)
	if err != nil {
		return nil, err
	}
	for _, l := range logs {
		if !l.Running {
			continue
		}
		b, err := s.changeBath(tx, by, l, BathChange{Kind: bath.Abandoned, Seen: l.Entries, Words: bathElsewhere})
		if faults := faultsIn(err); len(faults) > 0 {
			return nil, &Problem{Code: BadInput, Message: "A bath is under way in the file and its parts have changed since: " + faults[0].Text + ".", Hint: "Nothing was brought in. Close the bath or give it up where it was begun, and write the file anew."}
		}
		if err != nil {
			return nil, err
		}
		said = append(said, fmt.Sprintf("A bath begun %s by %s was under way. It is given up here and no alarm rings for it. Look where its parts are; begin another bath if they are here.", b.Began.In(s.Zone()).Format(atMinute), b.Log()[0].Who))
	}
	h, err := readHours(tx, c.ID)
	if err != nil {
		return nil, err
	}
	for _, x := range h.hours.Stretches() {
		if !x.Running() {
			continue
		}
		since, who := x.Start, x.Who
		x.Removed = job.Instant(s.now())
		if err := s.writeHours(tx, by, workElsewhere, &h, work.Event{Kind: work.Struck, Stretch: x}); err != nil {
			return nil, err
		}
		said = append(said, fmt.Sprintf("Work of %s was running since %s. It is marked removed here and counts nothing; take that back if it is to go on here.", who, since.In(s.Zone()).Format(atMinute)))
	}
	return said, nil
}
