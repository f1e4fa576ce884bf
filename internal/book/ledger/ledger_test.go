package ledger

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func entry(n, undoes int) Entry {
	return Entry{N: n, Who: "A", When: time.Unix(int64(n), 0), Undoes: undoes}
}

func TestStanding(t *testing.T) {
	for name, c := range map[string]struct {
		undoes []int
		want   []bool
	}{
		"nothing undone":    {[]int{0, 0}, []bool{true, true}},
		"undone":            {[]int{0, 1}, []bool{false, true}},
		"undo undone":       {[]int{0, 1, 2}, []bool{true, false, true}},
		"undone three deep": {[]int{0, 1, 2, 3}, []bool{false, true, false, true}},
		"first of two":      {[]int{0, 0, 1}, []bool{false, true, true}},
	} {
		var log []Entry
		for i, u := range c.undoes {
			log = append(log, entry(i+1, u))
		}
		if got := Standing(log); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", name, got, c.want)
		}
		if f := Check(log); len(f) > 0 {
			t.Errorf("%s: %v", name, f)
		}
	}
}

func TestCheckNamesAllFaults(t *testing.T) {
	f := Check([]Entry{{N: 2, Undoes: 1}})
	if len(f) != 4 {
		t.Errorf("got %v, want the number, the person, the instant and the undo", f)
	}
}

func TestCanUndo(t *testing.T) {
	log := []Entry{entry(1, 0), entry(2, 1)}
	for n, ok := range map[int]bool{0: false, 1: false, 2: true, 3: false} {
		if got := len(CanUndo(log, n)) == 0; got != ok {
			t.Errorf("entry %d: %v", n, got)
		}
	}
}

// Undoing the last entry of any log and undoing that again leaves what stood.
func TestUndoTwiceIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var log []Entry
		for i := range rapid.IntRange(1, 20).Draw(t, "n") {
			undoes := rapid.IntRange(0, i).Draw(t, "undoes")
			if undoes > 0 && len(CanUndo(log, undoes)) > 0 {
				undoes = 0
			}
			log = append(log, entry(i+1, undoes))
		}
		before := Standing(log)
		n := rapid.IntRange(1, len(log)).Draw(t, "which")
		if len(CanUndo(log, n)) > 0 {
			return
		}
		log = append(log, entry(len(log)+1, n), entry(len(log)+2, len(log)+1))
		if after := Standing(log); !slices.Equal(after[:len(before)], before) {
			t.Fatalf("got %v, want %v", after[:len(before)], before)
		}
	})
}
