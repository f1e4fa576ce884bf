package mesh

import (
	"testing"

	"seatboard/internal/kit/check"
)

func TestChecks(t *testing.T) { check.All(t, Checks()) }
