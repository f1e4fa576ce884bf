package trial

import (
	"testing"
	"time"

	"seatboard/internal/craft/regulate"
)

func TestStill(t *testing.T) {
	at := time.Date(2026, 11, 3, 8, 0, 0, 0, time.UTC)
	var b Book
	add := func(e Event) Event {
		t.Helper()
		e.When, e.Who = at, "tester"
		done, faults := b.Add(e)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		return done
	}
	still := func(want bool, when string) {
		t.Helper()
		if _, got := b.Still(); got != want {
			t.Errorf("%s: still %v", when, got)
		}
	}
	still(false, "nothing")
	add(OfReadings(nil, "", regulate.Reading{At: at, How: regulate.ByHand, U: 0.5}))
	stop := add(OfStop(nil, Stop{Found: at.Add(time.Hour), Hour: 8, Minute: 31, Strike: "not known"}))
	still(true, "found standing")
	if s, _ := b.Still(); s.Minute != 31 {
		t.Errorf("%+v", s)
	}
	start := add(OfTouch(nil, regulate.Touch{At: at.Add(2 * time.Hour), Kind: regulate.Started}))
	still(false, "set going")
	add(Undo(start.N))
	still(true, "that was taken back")
	add(OfReadings(nil, "", regulate.Reading{At: at.Add(3 * time.Hour), How: regulate.ByHand, U: 0.5}))
	still(false, "seen going")
	add(OfStop(nil, Stop{Found: at.Add(4 * time.Hour), Hour: 11, Strike: "not known"}))
	still(true, "again")
	add(Undo(stop.N))
	still(true, "the first was no stop, the second was")
}
