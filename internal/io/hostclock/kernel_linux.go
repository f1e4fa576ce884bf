package hostclock

import (
	"context"
	"fmt"

	"golang.org/x/sys/unix"

	"seatboard/internal/kit/unit"
)

// From <linux/timex.h>.
const (
	timeError = 5      // the return value: the clock is not synchronised
	staUnsync = 0x0040 // nothing steers it
)

// Disciplined asks the kernel whether anything keeps this computer's clock
// right. It reads only; no privilege is needed and nothing is sent.
func Disciplined(ctx context.Context) Status {
	if err := ctx.Err(); err != nil {
		return Status{How: "Not asked: " + err.Error() + "."}
	}
	var t unix.Timex
	state, err := unix.Adjtimex(&t)
	if err != nil {
		return Status{How: fmt.Sprintf("The system did not say whether its clock is kept right (%v).", err)}
	}
	return read(state, &t)
}

// read makes a status of the kernel's answer.
func read(state int, t *unix.Timex) Status {
	s := Status{
		Known:        true,
		Disciplined:  state != timeError && t.Status&staUnsync == 0,
		MaxError:     unit.Duration(float64(t.Maxerror) * 1e-6),
		EstError:     unit.Duration(float64(t.Esterror) * 1e-6),
		FrequencyPPM: float64(t.Freq)/65536 + (float64(t.Tick)-10000)*100,
	}
	if !s.Disciplined { // the kernel's figures are only ceilings then
		s.MaxError, s.EstError = 0, 0
		s.How = "Nothing keeps this computer's clock right, or it does not tell the system. Switch on network time (timedatectl set-ntp true), wait an hour, and calibrate again."
		return s
	}
	s.How = "A time service keeps this computer's clock right."
	return s
}
