package shop

import (
	"context"

	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
)

// demoParts takes an invented movement down as far as its going train.
func (s *Shop) demoParts(ctx context.Context, clock int64) error {
	brass, steel := []clean.Material{clean.Brass}, []clean.Material{clean.Steel}
	list := []parts.Event{
		{Part: "", To: parts.Off, Count: 2, Detail: &parts.Detail{Name: "hands", Place: "bag", Material: "blued steel", Made: []clean.Material{clean.Blued}}},
		{Part: "", To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "dial", Place: "box", Material: "painted iron", Made: []clean.Material{clean.Painted}, Note: "paint lifting at VII"}},
		{Part: "2.", To: parts.Off, Count: 4, Detail: &parts.Detail{Name: "dial feet pins", Place: "bag", Made: steel}},
		{Part: "", To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "pallets", Place: "tray 1", Way: "long arm to the left, seen from the back", Repair: "soft solder at the arbor", Made: steel}},
		{Part: "", To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "escape wheel", Place: "tray 1", Made: brass}},
		{Part: "", To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "third arbor, without its wheel", Place: "tray 1", Mark: "one dot at the seat", Made: steel}},
		{Part: "", To: parts.Off, Count: 1, Detail: &parts.Detail{Name: "centre wheel", Place: "tray 1", Made: brass}},
		{Part: "", To: parts.OnClock, Count: 5, Detail: &parts.Detail{Name: "pillars", Place: parts.LeftInPlace, Made: brass}},
	}
	_, err := s.ChangeParts(ctx, DemoName, clock, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		var out []parts.Event
		for _, e := range list {
			e.Entry, e.Kind = head, parts.Recorded
			done, faults := l.Add(e)
			if len(faults) > 0 {
				return nil, faults
			}
			out = append(out, done)
		}
		moved, faults := l.MoveAll(head, parts.OnBench, "", "3")
		return append(out, moved...), faults
	})
	return err
}
