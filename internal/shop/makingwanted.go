package shop

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"sync"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/book/making"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/train"
	"seatboard/internal/craft/train/missing"
	"seatboard/internal/io/store"
)

// WantedStep is what is to be done next about something that a clock lacks.
type WantedStep string

// The steps, in the order of the work.
const (
	FindCounts   WantedStep = "find"   // of what is missing in a train
	ChooseCounts WantedStep = "choose" // of those that a sheet has found, for the survey
	DrawPart     WantedStep = "draw"   // for cutting
	CutPart      WantedStep = "cut"    // by a sheet, and write it down
	ReplacePart  WantedStep = "part"   // that is missing from the take-down ledger
	ReplaceAt    WantedStep = "area"   // what the condition of an area says is missing
)

// Wanted is the next step about something that a clock lacks and that nothing
// under Making answers yet.
type Wanted struct {
	Step    WantedStep
	Members []missing.Lacking // of the trains, that it is about
	Sheet   int               // that goes on with it
	Part    parts.Number
	Name    string // of the part or the area
	Said    string // in the words of the record
}

// Wanted is the first of the clock with that number in the store; nil where
// nothing is lacking, or all of it is answered.
func (s *Shop) Wanted(ctx context.Context, clock int64) (*Wanted, error) {
	var (
		survey job.Survey
		book   making.Book
		ledger *parts.Ledger
		record condition.Record
	)
	err := s.store.View(ctx, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		if survey, err = tx.Survey(clock); err != nil {
			return err
		}
		if _, book, _, err = readMaking(tx, c); err != nil {
			return err
		}
		f, err := s.ledgerIn(tx, c)
		if err != nil {
			return err
		}
		ledger = f.ledger
		_, record, _, err = readCondition(tx, c)
		return err
	})
	if err != nil {
		return nil, explain(err)
	}
	if q := s.typedTrain(survey); q != nil {
		if w := wantedOfTrain(*q, book); w != nil {
			return w, nil
		}
	}
	if w := wantedOfParts(ledger); w != nil {
		return w, nil
	}
	return wantedOfAreas(record, ledger), nil
}

// wantedClocks keeps what clocks lack: of one of which nothing was written
// since, nothing is read again.
type wantedClocks struct {
	mu   sync.Mutex
	kept map[int64]wantedClock
}

type wantedClock struct {
	touch  int64
	wanted *Wanted
}

// keptWanted is how many clocks are kept.
const keptWanted = 500

// WantedOf is Wanted of a clock as a list has it.
func (s *Shop) WantedOf(ctx context.Context, c job.Summary) (*Wanted, error) {
	k := &s.lacking
	k.mu.Lock()
	was, ok := k.kept[c.ID]
	k.mu.Unlock()
	if ok && c.Touch != 0 && was.touch == c.Touch {
		return was.wanted, nil
	}
	w, err := s.Wanted(ctx, c.ID)
	if err != nil {
		return nil, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil || len(k.kept) >= keptWanted {
		k.kept = map[int64]wantedClock{}
	}
	k.kept[c.ID] = wantedClock{c.Touch, w}
	return w, nil
}

// typedTrain is the train of a survey, nil where there is none that can be read.
func (s *Shop) typedTrain(survey job.Survey) *train.Query {
	p, ok := survey[job.TrainPart]
	if s.surveyed == nil || !ok || !p.Removed.IsZero() {
		return nil
	}
	return s.surveyed(map[string]map[string][]string{job.TrainPart: p.Values}).Train
}

// wantedOfTrain goes from counts that are missing to the part that is written
// down. A count that was inferred without a search under Making is of a part
// that is there.
func wantedOfTrain(q train.Query, book making.Book) *Wanted {
	var lost, inferred []missing.Lacking
	for _, l := range missing.Lacks(q) {
		if l.Teeth == 0 {
			lost = append(lost, l)
		} else {
			inferred = append(inferred, l)
		}
	}
	search := making.Standing{}
	sheets := slices.DeleteFunc(book.All(), func(x making.Standing) bool { return x.Struck != 0 })
	for _, x := range sheets {
		if x.Calculation == "missing" && seeks(x.Sheet, append(lost, inferred...)) {
			search = x
		}
	}
	switch {
	case len(lost) > 0 && search.N == 0:
		return &Wanted{Step: FindCounts, Members: lost}
	case len(lost) > 0:
		return &Wanted{Step: ChooseCounts, Members: lost, Sheet: search.N}
	case search.N == 0 || len(search.Parts) > 0:
		return nil
	}
	for _, l := range inferred {
		cut, made := 0, false
		for _, x := range sheets {
			if cuts(x.Sheet, l.Teeth) {
				cut, made = x.N, made || len(x.Parts) > 0
			}
		}
		switch one := []missing.Lacking{l}; {
		case made:
		case cut > 0:
			return &Wanted{Step: CutPart, Members: one, Sheet: cut}
		default:
			return &Wanted{Step: DrawPart, Members: one, Sheet: search.N}
		}
	}
	return nil
}

// seeks tells whether a search was for one of the members.
func seeks(is making.Sheet, members []missing.Lacking) bool {
	fields := map[string]string{"motion work": "motion", "count wheel": "strike-report"} // the others have the name of their train
	return slices.ContainsFunc(members, func(l missing.Lacking) bool {
		field, ok := fields[l.Train]
		if !ok {
			field = l.Train
		}
		return slices.ContainsFunc(is.Values[field], func(v string) bool { return strings.Contains(v, "?") })
	})
}

// cuts tells whether a sheet is for cutting a part of so many teeth.
func cuts(is making.Sheet, n train.Teeth) bool {
	for _, field := range map[string][]string{"tooth": {"wheel", "leaves"}, "escape-wheel": {"count"}}[is.Calculation] {
		if v := is.Values[field]; len(v) > 0 && strings.TrimSpace(v[0]) == strconv.Itoa(int(n)) {
			return true
		}
	}
	return false
}

// wantedOfParts is the first part that is said to be missing and that no other
// stands for.
func wantedOfParts(l *parts.Ledger) *Wanted {
	replaced := map[parts.Number]bool{}
	for _, p := range l.Parts() {
		replaced[p.Replaces] = true
	}
	for _, p := range l.Parts() {
		for _, said := range []string{p.Place, p.Reason} {
			if saysMissing(said) && !replaced[p.Number] && p.State != parts.BackOn && p.State != parts.UsedUp {
				return &Wanted{Step: ReplacePart, Part: p.Number, Name: p.Name, Said: said}
			}
		}
	}
	return nil
}

// wantedOfAreas is the first area of which the last observation says that
// something is missing, and for which no part was made.
func wantedOfAreas(r condition.Record, l *parts.Ledger) *Wanted {
	made := map[string]bool{}
	for _, p := range l.Parts() {
		if p.New {
			made[condition.AreaOfPart(l, p.Number)] = true
		}
	}
	for _, area := range r.Seen() {
		if last := r.Of(area)[0]; saysMissing(last.Seen) && !made[area] {
			return &Wanted{Step: ReplaceAt, Name: area, Said: last.Seen}
		}
	}
	return nil
}

// saysMissing tells whether words say that a piece is not there: that it is
// missing or wanting, in a clause that does not deny it.
func saysMissing(words string) bool {
	for _, clause := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return strings.ContainsRune(".;,:\n", r) }) {
		says, denies := false, false
		for _, w := range strings.Fields(clause) {
			switch strings.Trim(w, "“”\"'()!?") {
			case "missing", "wanting":
				says = true
			case "no", "not", "nothing", "none", "without", "never":
				denies = true
			}
		}
		if says && !denies {
			return true
		}
	}
	return false
}
