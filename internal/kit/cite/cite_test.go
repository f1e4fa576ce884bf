package cite_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/cite"
)

// TestRefReadsBack: a reference that was written is read, and says the same
// words, whatever they are.
func TestRefReadsBack(t *testing.T) {
	var works []string
	for _, s := range cite.Bibliography() {
		works = append(works, s.Key)
	}
	works = append(works, "")
	text := rapid.StringOf(rapid.SampledFrom([]rune("p. 3,-—é"))).Draw
	rapid.Check(t, func(t *rapid.T) {
		r := cite.Ref{Source: rapid.SampledFrom(works).Draw(t, "source"), Grade: cite.Grade(rapid.IntRange(0, 5).Draw(t, "grade")), Place: text(t, "place"), Note: text(t, "note")}
		if rapid.Bool().Draw(t, "grade in the place") {
			r.Place = strings.Join([]string{r.Place, cite.Memory.String(), r.Place}, ", ")
		}
		again(t, r.String())
	})
	rapid.Check(t, func(t *rapid.T) { again(t, rapid.String().Draw(t, "words")) })
}

func again(t *rapid.T, words string) {
	var r cite.Ref
	if err := r.UnmarshalText([]byte(words)); err != nil || r.String() != words {
		t.Errorf("%q is read as %#v, which says %q: %v", words, r, r.String(), err)
	}
}

func TestRefIsTakenApart(t *testing.T) {
	for _, r := range []cite.Ref{
		{},
		{Source: "beckett", Place: "p. 255, table"},
		{Source: "sp1065", Place: "eq. 7", Grade: cite.Exact, Note: "with a note, and another"},
		{Source: "eb11"},
		{Source: "machinery", Grade: cite.Memory},
		{Grade: cite.CommonPractice},
		{Place: "a place", Grade: cite.Computed, Note: "how"},
	} {
		var back cite.Ref
		if err := back.UnmarshalText([]byte(r.String())); err != nil || back != r {
			t.Errorf("%#v comes back as %#v: %v", r, back, err)
		}
	}
}

// TestWorkNoLongerKnown: an older program's words stay though the work is
// named otherwise now.
func TestWorkNoLongerKnown(t *testing.T) {
	const words = "E. Beckett, A Rudimentary Treatise, 3rd ed., London 1855, p. 9, from memory"
	var r cite.Ref
	if err := r.UnmarshalText([]byte(words)); err != nil || r.String() != words || r.Source != "" {
		t.Errorf("%#v %v", r, err)
	}
}
