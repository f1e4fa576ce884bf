package culprit_test

import (
	"testing"

	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
)

func TestPrintedFigures(t *testing.T) { check.All(t, culprit.Checks()) }

func TestSources(t *testing.T) {
	for _, e := range culprit.Sources() {
		if _, ok := cite.Find(e.Ref.Source); e.Ref.Source != "" && !ok {
			t.Errorf("%s: %q is not in the bibliography", e.Name, e.Ref.Source)
		}
	}
	for _, c := range culprit.Checks() {
		if _, ok := cite.Find(c.Ref.Source); !ok {
			t.Errorf("%s: %q is not in the bibliography", c.What, c.Ref.Source)
		}
	}
}
