package shop

// Exact zeros: the air is never so still. A long run of them is taken out and
// splits the sound, a short one splits the run.
const (
	stillShort = 8e-3  // s: a browser puts in blocks of ten milliseconds
	stillLong  = 40e-3 // s
	gateMost   = 20    // runs of zeros from which on
	gateApart  = 3.0   // s on the mean between them it is not the microphone that fails
)

// stillness follows exact zeros through the blocks of a run.
type stillness struct {
	run     int64 // zeros at the end of what came
	count   int64 // samples that came
	runs    int   // of zeros
	firstAt int64 // of the first of them
	gated   bool
	short   []hush // runs that have ended in the last block and were not long
}

// hush is a short run of zeros.
type hush struct {
	end int // in the block: the first sample that is none
	n   int64
}

// sounding is a part of a block that is to be heard.
type sounding struct {
	from, to int
	after    int64 // zeros before it, where they were so many that it is to stand for itself
}

func (s *stillness) long(rate float64) bool { return !s.gated && float64(s.run) >= stillLong*rate }

// gate tells whether something makes the quiet between the beats exact zeros,
// as noise suppression does: then they are no breaks.
func (s *stillness) gate() bool { return s.gated }

// sounding lists the parts of a block without the long runs of zeros; the
// first forty milliseconds of a run stay, as nobody knows yet.
func (s *stillness) sounding(x []float32, rate float64) []sounding {
	var out []sounding
	most := int64(stillLong * rate)
	begin, after := 0, int64(0)
	s.short = s.short[:0]
	if s.long(rate) {
		begin = -1 // in a long run
	}
	for i, v := range x {
		s.count++
		if v == 0 {
			if s.run++; s.run == most && !s.gated && begin >= 0 {
				if i > begin {
					out = append(out, sounding{begin, i, after})
				}
				begin, after = -1, 0
			}
			continue
		}
		if float64(s.run) >= stillShort*rate {
			s.found(rate)
		}
		if begin < 0 {
			begin, after = i, s.run
		} else if float64(s.run) >= stillShort*rate {
			s.short = append(s.short, hush{i, s.run})
		}
		s.run = 0
	}
	if begin >= 0 && begin < len(x) {
		out = append(out, sounding{begin, len(x), after})
	}
	return out
}

// found counts a run of zeros that has ended.
func (s *stillness) found(rate float64) {
	if s.runs++; s.runs == 1 {
		s.firstAt = s.count
	}
	if s.runs >= gateMost && float64(s.count-s.firstAt) < gateApart*rate*float64(s.runs) {
		s.gated = true
	}
}
