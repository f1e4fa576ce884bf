package regulate_test

import (
	"testing"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/check"
)

func TestPrintedFigures(t *testing.T) { check.All(t, regulate.Checks()) }
