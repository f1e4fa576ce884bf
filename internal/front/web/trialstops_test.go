package web

import (
	"strings"
	"testing"
	"time"
)

// TestStops: a clock found standing is written down, set going, and its stops
// are held against each other.
func TestStops(t *testing.T) {
	now := time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)
	v, sh := onTrialAt(t, &now)
	path := "/clocks/1/trial/stops"
	says(v.get(path), 200, "No stop is written down", "Where the hands stand", "Before anything is touched")
	says(v.post(path, "hands", "25:70", "room", "9 kg", "words", "the rain"), 422, "The hands cannot stand at 25:70", "write a temperature like", "the rain")
	for i, hands := range []string{"10:47", "3:15:30"} {
		now = now.Add(50 * time.Hour)
		says(v.post(path, "do", "stood", "hands", hands, "strike", "warned", "weight", "310 mm"), 200, "Written down.", "too few", "Set going again")
		now = now.Add(time.Hour)
		says(v.post(path, "do", []string{"left", "set"}[i]), 200, "Written down.")
		if strings.Contains(v.page, "Set going again") {
			t.Error("it was set going")
		}
	}
	now = now.Add(50 * time.Hour)
	says(v.post(path, "hour", "12", "minute", "5", "strike", "not known"), 200, "Causes in order of evidence", "The stops in order", "310", "12:05")
	says(v.post(path, "do", "set", "after", "much"), 422, "There is a problem")
	says(v.post(path, "do", "back", "n", "5"), 200, "Taken back.", "too few")
	v.post(path, "do", "nonsense").want(404)
	x, err := sh.TrialStops(t.Context(), 1)
	if err != nil || len(x.Found) != 2 || x.Found[1].Second.Value != 30 || x.Still != nil {
		t.Errorf("%v %+v", err, x.Found)
	}
	v.get(path + "/stops.svg").want(404)
	v.get(path + "/sheet.pdf").want(200)
	v.get("/clocks/1/trial").want(200, "/clocks/1/trial/stops")
}
