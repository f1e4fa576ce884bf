package regulate

import "seatboard/internal/kit/cite"

// Checks sets figures certified by others beside ours.
func Checks() []cite.Check { return append(nileChecks(), regressionChecks()...) }
