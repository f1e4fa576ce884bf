package trial

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
)

// table checks what a table says.
func (f *faultsOf) table(e Event) {
	f.need(strings.TrimSpace(e.Source) != "", "source", "Say which table it is")
	f.need(len(e.Readings)+len(e.Air)+len(e.Touches) > 0, "readings", "There is nothing in this table")
	if len(e.Readings) > 0 {
		f.readings(e.Readings)
	}
	if len(e.Air) > 0 {
		f.air(e.Air)
	}
	f.need(len(e.Touches) <= regulate.MaxTouches, "touches", "These are %d touches; a clock has at most %d", len(e.Touches), regulate.MaxTouches)
	for i := range e.Touches {
		if len(f.all) > mostFaults {
			return
		}
		f.touch(fmt.Sprintf("touches[%d]", i), &e.Touches[i])
	}
}

// taps checks that taps belong to one reading by tap or by the strike.
func (f *faultsOf) taps(e Event) {
	if e.Taps == nil {
		return
	}
	one := len(e.Readings) == 1 && (e.Readings[0].How == regulate.ByTap || e.Readings[0].How == regulate.ByStrike)
	f.need(one, "taps", "Taps are of one reading by tap or by the strike")
	for _, x := range e.Taps.Check() {
		f.all = append(f.all, meas.Fault{Field: "taps", Text: x.Text})
	}
}
