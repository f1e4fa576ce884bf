package clean

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// findFlash finds the flash point, or that there is none, or that it is not
// known.
func (w *work) findFlash() {
	q := w.q
	switch lowest, ok := lowestFlash(w.substances); {
	case q.FlashPoint.Set:
		w.flash = meas.Result[unit.Temperature]{Value: q.FlashPoint.Value, U: q.FlashPoint.U, HasU: q.FlashPoint.HasU, Set: true}
		w.flashFrom = FromSheet
		w.flashStep("flash point of the data sheet", q.FlashPoint.String(), cite.Ref{Place: "safety data sheet of the product", Grade: cite.Measured, Note: "as entered"})
	case q.NoFlash:
		w.flashFrom = NoneSheet
		if ok {
			w.say(meas.Clash, "flash-none", "The data sheet is said to give no flash point, but "+lowest.Name+" is named as a part of it.",
				"Read the sheet again, section 9.", lowest.Ref)
		}
	case ok:
		w.flash, w.flashFrom = meas.Exactly(lowest.Flash), FromTable
		w.flashStep("the lowest of the substances named: "+lowest.Name, unit.Text(lowest.Flash, "°C", 0), lowest.Ref)
		w.say(meas.Note, "flash-table", "The flash point is that of "+lowest.Name+" by itself; a mixture can have a lower one.",
			"Enter the one on the data sheet.", lowest.Ref)
	case !w.liquid.NeedsSheet && w.liquid.Water:
		w.flashFrom = FromWater
	default:
		w.flashFrom = NotKnown
	}
}

func (w *work) flashStep(formula, value string, ref cite.Ref) {
	w.steps = append(w.steps, cite.Step{Name: "Flash point", Formula: formula, Numbers: value, Result: w.flash.Text("°C", 0), Ref: ref})
}

// lowestFlash is the substance with the lowest flash point; false where none
// has one.
func lowestFlash(list []Substance) (Substance, bool) {
	var low Substance
	for _, s := range list {
		if s.Burns && (!low.Burns || s.Flash < low.Flash) {
			low = s
		}
	}
	return low, low.Burns
}

// burns tells whether the liquid has a flash point, as far as is known. A
// named substance that burns counts against a sheet that is said to deny it.
func (w *work) burns() bool {
	if w.flash.Set {
		return true
	}
	_, ok := lowestFlash(w.substances)
	return ok
}

// flashRef is where the flash point is from.
func (w *work) flashRef() cite.Ref {
	for _, s := range w.steps {
		if s.Name == "Flash point" {
			return s.Ref
		}
	}
	return practice
}
