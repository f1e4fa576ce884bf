package store

import (
	"cmp"
	"database/sql"
	"fmt"
	"maps"
	"math"
	"math/bits"
	"slices"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
)

// How parts are looked for. The figures decide between ways that find the
// same, by what is quickest at 500,000 parts.
const (
	fewLines  = 500 // asked for by one statement
	fewClocks = 200 // each asked for its parts
)

// FindParts gives the parts of clocks in the book that have all the words
// (folded by job.Words), at most so many: those that are numbered so, then
// those that have all the words themselves, then those that share them with
// their clock; among these the one written of last first. A word may stand in what is written of the part, be its whole number or the
// beginning of it ("2026-014.2", also "014.2"), or stand in the file of its
// clock; one at least is the part's own. more tells whether there are others.
// It is for a look, not for a change.
func (tx *Tx) FindParts(words []string, most int) (rows []FoundPart, more bool, err error) {
	if len(words) == 0 {
		return nil, false, nil
	}
	f := partFinder{tx: tx, words: words, want: most + 1, have: map[int64]bool{}}
	if f.lines, f.stands, err = tx.found.lineMasks(tx, words); err != nil {
		return nil, false, err
	}
	if err := f.find(); err != nil {
		return nil, false, err
	}
	if more = len(f.ids) > most; more {
		f.ids = f.ids[:most]
	}
	rows, err = tx.foundParts(f.ids)
	return rows, more, err
}

// PartsIn gives the parts of clocks in the book that lie in a place, as it was
// typed, the one written of last first, at most so many.
func (tx *Tx) PartsIn(place string, most int) (rows []FoundPart, more bool, err error) {
	ids, err := tx.numbersOf(`SELECT id FROM part_search WHERE place = $1 AND place <> '' ORDER BY id DESC LIMIT $2`, place, most+1)
	if err != nil {
		return nil, false, err
	}
	if more = len(ids) > most; more {
		ids = ids[:most]
	}
	rows, err = tx.foundParts(ids)
	return rows, more, err
}

// foundParts reads parts in the order of their ids; those of clocks that were
// removed are left out.
func (tx *Tx) foundParts(ids []int64) ([]FoundPart, error) {
	if len(ids) == 0 {
		return nil, nil
	}
	at := map[int64]FoundPart{}
	args := anys(ids)
	err := tx.each(`SELECT p.id, c.id, c.number, c.title, p.number, p.name, p.place, p.state, p.pieces FROM part_search p JOIN clock c ON c.id = p.clock_id
WHERE c.removed = '' AND p.id IN (`+places(1, len(args))+`)`, args, func(r *sql.Rows) error {
		var id int64
		var x FoundPart
		err := r.Scan(&id, &x.ClockID, &x.Clock, &x.Title, &x.Number, &x.Name, &x.Place, &x.State, &x.Count)
		at[id] = x
		return err
	})
	var out []FoundPart
	for _, id := range ids {
		if x, ok := at[id]; ok {
			out = append(out, x)
		}
	}
	return out, err
}

func anys(ids []int64) []any {
	out := make([]any, len(ids))
	for i, id := range ids {
		out[i] = id
	}
	return out
}

// partFinder gathers the parts of one search.
type partFinder struct {
	tx     *Tx
	words  []string
	want   int
	ids    []int64
	have   map[int64]bool
	lines  []uint16 // which of the words a line has, by its id
	stands []bool   // whether a clock was not removed, by its id
	fits   []bool   // whether it has the words that are looked for in its file
	recent []indexedPart
}

// indexedPart is a row of part_search, without what is shown of it.
type indexedPart struct {
	id, line, clock int64
	number          parts.Number
}

// rest is the words that are not of a mask.
func (f *partFinder) rest(own uint16) (out []string) {
	for i, w := range f.words {
		if own&(1<<i) == 0 {
			out = append(out, w)
		}
	}
	return out
}

// finds tells whether a part has all the words: in its line just those of own,
// the others in its clock's file.
func (f *partFinder) finds(p indexedPart, own uint16) bool {
	return f.lines[p.line] == own && f.fits[p.clock]
}

func (f *partFinder) add(ids ...int64) {
	for _, id := range ids {
		if !f.have[id] && !f.enough() {
			f.have[id] = true
			f.ids = append(f.ids, id)
		}
	}
}

func (f *partFinder) enough() bool { return len(f.ids) >= f.want }

// find looks for whole numbers, then for parts that have all the words
// themselves, then for those that share them with their clock, those with the
// most first.
func (f *partFinder) find() error {
	for i := range f.words {
		if err := f.numbered(i); err != nil {
			return err
		}
	}
	shares := map[uint16][]int64{}
	for id, own := range f.lines {
		if own != 0 {
			shares[own] = append(shares[own], int64(id))
		}
	}
	order := slices.SortedFunc(maps.Keys(shares), func(a, b uint16) int {
		return cmp.Or(bits.OnesCount16(b)-bits.OnesCount16(a), cmp.Compare(a, b))
	})
	for _, own := range order {
		if f.enough() {
			break
		}
		found, err := f.shared(own, shares[own])
		if err != nil {
			return err
		}
		slices.SortFunc(found, func(a, b int64) int { return cmp.Compare(b, a) })
		f.add(found...)
	}
	return nil
}

// shared finds parts whose lines are given and have the words of own, the
// newest among others, in the way that reads least.
func (f *partFinder) shared(own uint16, lines []int64) (found []int64, err error) {
	f.fits = f.stands
	if rest := f.rest(own); len(rest) > 0 {
		f.fits = make([]bool, len(f.stands))
		var clocks []int64
		for _, id := range f.tx.found.clocksWith(rest) {
			if id < int64(len(f.stands)) && f.stands[id] {
				f.fits[id], clocks = true, append(clocks, id)
			}
		}
		if len(clocks) <= fewClocks {
			return f.ofClocks(own, clocks)
		}
	}
	if found, err = f.newest(own); err != nil || len(found) >= f.want {
		return found, err
	}
	return f.ofLines(own, lines)
}

// numbered adds the parts of which a word is the whole number, or its
// beginning, and that have the other words.
func (f *partFinder) numbered(word int) error {
	w := f.words[word]
	for dot := strings.IndexByte(w, '.'); dot > 0 && !f.enough(); dot = nextDot(w, dot) {
		n := strings.TrimSuffix(w[dot+1:], ".")
		if n != "" && !parts.Number(n).Valid() {
			continue
		}
		clocks, err := f.tx.clocksEnding(w[:dot])
		if err != nil {
			return err
		}
		for _, id := range clocks {
			if err := f.underNumber(id, n, 1<<word); err != nil {
				return err
			}
		}
	}
	return nil
}

func nextDot(w string, after int) int {
	if i := strings.IndexByte(w[after+1:], '.'); i >= 0 {
		return after + 1 + i
	}
	return -1
}

// mostEndings is how many clocks whose numbers end alike are looked at, and
// leastEnding how long such an end is.
const (
	mostEndings = 20
	leastEnding = 3
)

// clocksEnding lists the clocks whose number is the text, or ends in it where
// it is no number itself.
func (tx *Tx) clocksEnding(text string) ([]int64, error) {
	key := job.NumberKey(text)
	exact, err := tx.numbersOf(`SELECT id FROM clock WHERE number_key = $1`, key)
	if err != nil || len(exact) > 0 || len(key) < leastEnding {
		return exact, err
	}
	return tx.numbersOf(`SELECT id FROM clock WHERE number_key LIKE $1 ESCAPE '\' ORDER BY number_key DESC LIMIT $2`, "%"+escapeLike(key), mostEndings)
}

// underNumber adds the parts of a clock whose number begins so, in the order
// of their numbers, where they have all words but the one that is the number.
func (f *partFinder) underNumber(clock int64, n string, number uint16) error {
	found, err := f.tx.indexedParts(`clock_id = $1 AND number LIKE $2`, clock, n+"%")
	slices.SortFunc(found, func(a, b indexedPart) int { return parts.Compare(a.number, b.number) })
	for _, p := range found {
		if f.stands[clock] && f.tx.found.fileHas(clock, f.rest(f.lines[p.line]|number)) {
			f.add(p.id)
		}
	}
	return err
}

func (tx *Tx) indexedParts(where string, args ...any) (out []indexedPart, err error) {
	err = tx.each(`SELECT id, line_id, clock_id, number FROM part_search WHERE `+where, args, func(r *sql.Rows) error {
		var p indexedPart
		err := r.Scan(&p.id, &p.line, &p.clock, &p.number)
		out = append(out, p)
		return err
	})
	return out, err
}

// recentSteps is how many of the newest parts are read at a time; what is
// common stands among them.
var recentSteps = [...]int{250, 2750}

// newest finds parts among those written of last.
func (f *partFinder) newest(own uint16) (found []int64, err error) {
	read, before := 0, int64(math.MaxInt64)
	for _, step := range recentSteps {
		if read += step; len(f.recent) < read {
			if n := len(f.recent); n > 0 {
				before = f.recent[n-1].id
			}
			more, err := f.tx.indexedParts(fmt.Sprintf(`id < $1 ORDER BY id DESC LIMIT %d`, step), before)
			if err != nil {
				return nil, err
			}
			f.recent = append(f.recent, more...)
		}
		found = nil
		for _, p := range f.recent {
			if f.finds(p, own) {
				found = append(found, p.id)
			}
		}
		if len(found) >= f.want {
			break
		}
	}
	return found, nil
}

// ofClocks lists the parts of some clocks whose line has the words of own.
func (f *partFinder) ofClocks(own uint16, clocks []int64) (found []int64, err error) {
	for _, clock := range clocks {
		all, err := f.tx.indexedParts(`clock_id = $1`, clock)
		if err != nil {
			return nil, err
		}
		for _, p := range all {
			if f.finds(p, own) {
				found = append(found, p.id)
			}
		}
	}
	return found, nil
}

// ofLines lists the parts with one of the lines that have all the words.
func (f *partFinder) ofLines(own uint16, lines []int64) (found []int64, err error) {
	for some := range slices.Chunk(lines, fewLines) {
		err := f.tx.each(`SELECT id, line_id, clock_id FROM part_search WHERE line_id IN (`+places(1, len(some))+`)`, anys(some), func(r *sql.Rows) error {
			var p indexedPart
			err := r.Scan(&p.id, &p.line, &p.clock)
			if f.finds(p, own) {
				found = append(found, p.id)
			}
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return found, nil
}
