package shop

import (
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
)

func TestWholeNumber(t *testing.T) {
	s := open(t)
	for _, number := range []string{"2026-014", "7", "7.2"} {
		c := add(t, s, job.Clock{Number: number})
		for _, parent := range []parts.Number{"", "", "2"} {
			if _, err := s.RecordPart(t.Context(), "tester", c.ID, parent, "", parts.Event{To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "wheel"}}, ""); err != nil {
				t.Fatal(err)
			}
		}
	}
	for text, want := range map[string]struct {
		clock int64
		part  parts.Number
	}{"2026-014.2.1": {1, "2.1"}, " 2026-014.2 ": {1, "2"}, "7.1": {2, "1"}, "7.2.1": {3, "1"}, "2026-014.9": {}, "2026-014": {}, "3.5 mm": {}, "...": {}, "": {}, "1999.1": {}, ".2": {}} {
		clock, n, ok, err := s.WholeNumber(t.Context(), text)
		if err != nil || ok != (want.clock != 0) || ok && (clock != want.clock || n != want.part) {
			t.Errorf("%q: clock %d part %s %v %v, want %+v", text, clock, n, ok, err, want)
		}
	}
}
