package present

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/check"
)

func TestReceiptGolden(t *testing.T) {
	gone := time.Date(2026, 11, 3, 0, 0, 0, 0, time.UTC)
	c := job.Clock{Number: "2026-014", Title: "Longcase clock, eight-day", Promise: "2026-12-24", Owner: job.Owner{Name: "The reading room", Contact: "Quay Lane 3", Note: "stops at night"},
		Object: job.Object{Type: "clock, longcase", Features: "split in the plinth"},
		Pieces: []job.Piece{{N: 1, What: "weights", Count: "2", Received: true}, {N: 2, What: "crank", Count: "1", Note: "stays with the owner"}, {N: 3, What: "finials", Count: "3", Received: true}, {N: 4, What: "key", Count: "9", Received: true, Removed: gone}}}
	whole := shownWhole(Receipt(c))
	c.Pieces[0].Count = "a pair"
	unsure := Receipt(c)
	check.Golden(t, "receipt.txt", whole+"\n\n"+shownWhole(Receipt(job.Clock{Number: "7"})))
	if got := shownWhole(unsure); !strings.Contains(got, "Of 2 lines handed over, 1 has no count in figures; the others come to 3 pieces.") {
		t.Error(got)
	}
}
