package drive

import (
	"testing"

	"seatboard/internal/kit/check"
)

func TestPrintedFigures(t *testing.T) { check.All(t, Checks()) }
