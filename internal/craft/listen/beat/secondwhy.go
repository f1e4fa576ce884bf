package beat

import (
	"fmt"

	"seatboard/internal/kit/unit"
)

// Why no clock is heard, where the sound itself tells.
const (
	tooQuiet  = 0.002 // peak below which it is too quiet
	tooLoud   = 1e-3  // share of samples at full scale from which on it is too loud
	emptyness = 1e-4  // power of 4.2 to 8 kHz over that of 1 to 3 kHz below which nothing is there
)

// soFar says what is made of the sound while no clock is heard yet.
func (h *hearer) soFar(a, b int64) {
	h.narrow = h.tools.narrow(h.tape, a, b)
	e := h.ear
	e.mu.Lock()
	defer e.mu.Unlock()
	e.heard.Peak = float64(min(h.tape.peak, 1))
	e.heard.Clipped = float64(h.tape.full) / float64(max(1, h.tape.looked))
	e.heard.Length = max(e.heard.Length, h.seconds(float64(b)))
	if len(e.heard.Runs) == 0 {
		e.heard.Verdict, e.heard.Why = h.verdict(0)
	}
}

// loudness says whether the level is to blame, "" where it is not.
func (h *hearer) loudness() string {
	switch {
	case h.tape.looked == 0:
	case h.tape.peak == 0:
		return "The sound is exact silence: the microphone is switched off, or another program has it. Switch it on, or choose another."
	case h.tape.peak < tooQuiet:
		return "The sound is too quiet for a clock to be told in it. Put the phone on the case side, or turn the recorder up."
	case float64(h.tape.full) > tooLoud*float64(h.tape.looked):
		return "The sound is too loud: it is cut off at the top. Turn the recorder down, or move it away from the case."
	}
	return ""
}

// whyNone says why nothing was heard that repeats as a clock does.
func (h *hearer) whyNone() string {
	if why := h.loudness(); why != "" {
		return why
	}
	if h.narrow {
		return "Nothing repeats as a clock does, and the sound is that of a telephone line, with nothing above 4 kHz: a headset, Bluetooth or a call. Use the device's own microphone, on the case, and record a minute."
	}
	short := ""
	switch s := float64(h.tape.last()) / h.tools.rate; {
	case h.tape.last() == 0:
		return "There is no sound in it. Look whether the recorder was running, and record a minute."
	case h.tape.end && s < briefest:
		short = fmt.Sprintf(", but %s s of sound are too short to be sure", unit.Significant(s, 2))
	}
	return "Nothing repeats as a clock does" + short + ". Lay the recorder on the case, away from other sounds, and record a minute."
}

// narrow tells whether there is nothing in samples a to b above the band of a
// telephone line, though the sampling rate has room for it.
func (k *tools) narrow(t *tape, a, b int64) bool {
	if k.rate < 20000 || b-a < int64(k.rate) {
		return false
	}
	s := k.noise(t, [][2]int64{{a, b}})
	return s.over(4200/k.rate, 8000/k.rate) < emptyness*s.over(1000/k.rate, 3000/k.rate)
}

// over is the mean power from one frequency to another, as shares of the
// sampling rate.
func (s spectrum) over(from, to float64) float64 {
	const steps = 40
	var sum float64
	for i := range steps {
		sum += s.at(from+(to-from)*float64(i)/(steps-1)) / steps
	}
	return sum
}
