package store

import (
	"bytes"
	"database/sql"
	"fmt"
	"slices"
	"sync"
)

// searched is what the store keeps in memory of the texts that parts are found
// by, while it is open: what came since is read before each use.
type searched struct {
	mu    sync.Mutex
	line  int64 // the last row of part_line that was read; they are only ever added
	touch int64 // the last clock that was read
	lines textHeap
	files textHeap // of clocks; "" for one that was removed
}

// textHeap is many texts behind each other, by key; of two with one key the later
// one stands. Keys are small and close together, as row ids are.
type textHeap struct {
	all  []byte   // each with a line feed behind it
	ends []int    // of each text in all
	keys []int64  // of each text
	at   []int    // by key: which text stands, from 1; 0 for none
	n    [256]int // how often each byte is in all
}

func (t *textHeap) put(key int64, text string) {
	for i := range len(text) {
		t.n[text[i]]++
	}
	t.all = append(append(t.all, text...), '\n')
	t.ends, t.keys = append(t.ends, len(t.all)), append(t.keys, key)
	for int64(len(t.at)) <= key {
		t.at = append(t.at, 0)
	}
	t.at[key] = len(t.ends)
}

// text is a text with the line feed behind it.
func (t *textHeap) text(i int) []byte {
	if i == 0 {
		return t.all[:t.ends[0]]
	}
	return t.all[t.ends[i-1]:t.ends[i]]
}

// tidy throws away what does not stand any more, once it is most.
func (t *textHeap) tidy() {
	if len(t.ends) < 2*len(t.at)+1000 {
		return
	}
	var kept textHeap
	for i, key := range t.keys {
		if t.at[key] == i+1 {
			kept.put(key, string(bytes.TrimSuffix(t.text(i), []byte{'\n'})))
		}
	}
	*t = kept
}

// masks is by key which of the words a text has: bit i for word i.
func (t *textHeap) masks(words []string) []uint16 {
	out := make([]uint16, len(t.at))
	for bit, w := range words {
		anchor := t.rarest(w)
		i := 0
		for from := 0; from < len(t.all); from = t.ends[i] {
			hit := t.next(from, w, anchor)
			if hit < 0 {
				break
			}
			for t.ends[i] <= hit {
				i++
			}
			if key := t.keys[i]; t.at[key] == i+1 {
				out[key] |= 1 << bit
			}
		}
	}
	return out
}

// rarest is where in a word the byte stands that is rarest in all texts: it is
// jumped to, from one to the next.
func (t *textHeap) rarest(word string) int {
	at := 0
	for i := range len(word) {
		if t.n[word[i]] < t.n[word[at]] {
			at = i
		}
	}
	return at
}

// next is where a word begins, at from or behind it; -1 where it is not.
func (t *textHeap) next(from int, word string, anchor int) int {
	for i := from + anchor; i < len(t.all); i++ {
		jump := bytes.IndexByte(t.all[i:], word[anchor])
		if jump < 0 {
			break
		}
		i += jump
		if at := i - anchor; at+len(word) <= len(t.all) && string(t.all[at:at+len(word)]) == word {
			return at
		}
	}
	return -1
}

// has tells whether the text of a key has all the words.
func (t *textHeap) has(key int64, words []string) bool {
	if key >= int64(len(t.at)) || t.at[key] == 0 {
		return len(words) == 0
	}
	text := t.text(t.at[key] - 1)
	for _, w := range words {
		if !bytes.Contains(text, []byte(w)) {
			return false
		}
	}
	return true
}

// standing tells by key whether there is a text and it is not empty.
func (t *textHeap) standing() []bool {
	out := make([]bool, len(t.at))
	for key, i := range t.at {
		out[key] = i > 0 && len(t.text(i-1)) > 1
	}
	return out
}

// lineMasks tells which of the words each line of a part has, and which clocks
// were not removed. tx must not be a change: what that has written may never
// come to stand.
func (s *searched) lineMasks(tx *Tx, words []string) (lines []uint16, stands []bool, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.read(tx); err != nil {
		return nil, nil, fmt.Errorf("store: texts of the search: %w", err)
	}
	return s.lines.masks(words), s.files.standing(), nil
}

// clocksWith lists the clocks whose file has all the words, as of the last
// lineMasks or later. The longest, which is the rarest, is looked for in every
// file, the others in those that have it.
func (s *searched) clocksWith(words []string) (clocks []int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	longest := slices.MaxFunc(words, func(a, b string) int { return len(a) - len(b) })
	for key, m := range s.files.masks([]string{longest}) {
		if m != 0 && s.files.has(int64(key), words) {
			clocks = append(clocks, int64(key))
		}
	}
	return clocks
}

// fileHas tells whether the file of a clock has all the words.
func (s *searched) fileHas(clock int64, words []string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.files.has(clock, words)
}

// read takes in what came since.
func (s *searched) read(tx *Tx) error {
	err := tx.each(`SELECT id, folded FROM part_line WHERE id > $1 ORDER BY id`, []any{s.line}, func(r *sql.Rows) error {
		var text string
		if err := r.Scan(&s.line, &text); err != nil {
			return err
		}
		s.lines.put(s.line, text)
		return nil
	})
	if err != nil {
		return err
	}
	s.files.tidy()
	return tx.each(`SELECT touch, clock_id, folded FROM clock_search WHERE touch > $1 ORDER BY touch`, []any{s.touch}, func(r *sql.Rows) error {
		var clock int64
		var text string
		if err := r.Scan(&s.touch, &clock, &text); err != nil {
			return err
		}
		s.files.put(clock, text)
		return nil
	})
}
