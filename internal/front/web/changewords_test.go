package web

import (
	"testing"

	"seatboard/internal/book/job"
)

func TestChangesAreNamedAsTheirForm(t *testing.T) {
	for _, x := range []struct{ record, field, want string }{
		{"survey/drive", "weight", "Drive: Weight with hook and pulley"},
		{"survey/train", "going-arbors.5.wheel", "Wheel trains: Wheel, teeth, arbor 5"},
		{"survey/train", "gone", "Wheel trains: gone"},
		{"clock", "object.made.text", "Date or period, in words"},
		{"clock", "stage", "Where it is"},
		{"owner", "name", "Owner"},
		{"holder", "2.how", "Whose it was 2: How it is known"},
		{"piece", "1.count", "Loose piece 1: How many"},
		{"intervention", "hours", "Hours"},
		{"intervention", "kept_at", "Where the original piece is"},
		{"intervention", "removed", "Material that went"},
		{"intervention", "undo", "Can it be undone"},
		{"intervention", "before", "Photographs from before"},
		{"intervention", "struck", "Struck out"},
		{"listening", "91e0.added", "listening: 91e0.added"},
	} {
		if got := changeWords(job.Change{Record: x.record, Field: x.field}); got != x.want {
			t.Errorf("%s %s is called %q, not %q", x.record, x.field, got, x.want)
		}
	}
	if got := differWords(job.Change{Record: "photo", Field: "caption"}); got != "caption" {
		t.Errorf("a caption is called %q", got)
	}
}
