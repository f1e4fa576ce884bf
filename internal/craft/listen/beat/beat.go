package beat

import "seatboard/internal/kit/unit"

// Beat is one beat heard.
type Beat struct {
	At       unit.Duration `json:"at"`       // of the main impact by the recorder's clock, after the first sample
	U        unit.Duration `json:"u"`        // standard uncertainty from the sound alone; 0 where not known
	N        int64         `json:"n"`        // number in its run, silent beats counted; even is one side, odd the other
	Run      int           `json:"run"`      // the unbroken stretch it belongs to: 0, 1, …
	Strength float32       `json:"strength"` // of the impact, the run's mean is 1; 0 where not known
}

// Tock tells whether the beat is one of the second side of its run.
func (b Beat) Tock() bool { return b.N&1 == 1 }

// Run is a stretch in which the clock was followed without a break.
type Run struct {
	From      unit.Duration `json:"from"` // first and last beat
	To        unit.Duration `json:"to"`
	Heard     int           `json:"heard"`      // beats heard
	Silent    int           `json:"silent"`     // expected and not heard
	Extra     int           `json:"extra"`      // heard where none belongs
	Beat      unit.Duration `json:"beat"`       // mean interval
	SNR       float64       `json:"snr"`        // power of the impact over that of the noise, a ratio
	OffsetU   unit.Duration `json:"offset_u"`   // standard uncertainty of the place of tick against tock, for the beat error
	EndedBy   Ending        `json:"ended_by"`   //
	Tick      Shape         `json:"tick"`       // the sounds learned
	Tock      Shape         `json:"tock"`       //
	OneShape  bool          `json:"one_shape"`  // too short for a shape of each side: one was used for both
	ShareKept float64       `json:"share_kept"` // beats heard over beats expected, 0 to 1
}

// Ending says what ended a run.
type Ending string

// The endings.
const (
	EndOfSound Ending = "end"     // the recording ended
	Stopped    Ending = "stopped" // the beats ceased and the sound went on
	Stepped    Ending = "stepped" // all later beats are shifted: samples were lost or put in
	Silence    Ending = "silence" // the sound itself was cut off: exact zeros
)

// Shape is a learned sound: its samples, evenly spaced from Start before or
// after the impact (negative is before).
type Shape struct {
	Start unit.Duration `json:"start"`
	Step  unit.Duration `json:"step"`
	Y     []float32     `json:"y"` // greatest magnitude 1
}

// Mark is something heard that is not a beat.
type Mark struct {
	At   unit.Duration `json:"at"`
	Kind MarkKind      `json:"kind"`
	Size unit.Duration `json:"size,omitempty"` // of a step, positive when later beats come late; of a stretch its length
}

// MarkKind says what was heard.
type MarkKind string

// The kinds of marks.
const (
	SilentBeat MarkKind = "silent beat" // expected here and not heard
	ExtraBeat  MarkKind = "extra beat"  // the clock's own sound where none belongs
	Step       MarkKind = "step"        // samples lost or put in
	Zeros      MarkKind = "zeros"       // exact digital silence
	Repeat     MarkKind = "repeat"      // the very samples heard before
)

// Verdict is what the ear makes of a recording.
type Verdict string

// The verdicts.
const (
	Regular Verdict = "regular beat"
	NotSure Verdict = "not sure"
	NoBeat  Verdict = "no regular beat"
	Edited  Verdict = "cut or looped" // beats are there, but the recording is not one piece of time

	TwoClocks Verdict = "two clocks" // beats are there, but they are those of two clocks and cannot be kept apart
)

// Hearing is all that was heard in a recording.
type Hearing struct {
	Verdict  Verdict       `json:"verdict"`
	Why      string        `json:"why"`     // one sentence, what to do included
	Length   unit.Duration `json:"length"`  // of the sound, by its own clock
	Rate     float64       `json:"rate"`    // samples a second as stated; 0 for beat times
	Peak     float64       `json:"peak"`    // greatest sample over full scale, 0 to 1
	Clipped  float64       `json:"clipped"` // share of samples at full scale
	Runs     []Run         `json:"runs"`
	Beats    []Beat        `json:"-"`
	Marks    []Mark        `json:"marks"`
	Second   *Second       `json:"second"`   // another clock heard as well; null where none is
	Complete bool          `json:"complete"` // false when it was stopped before the end
}

// Source is sound of one channel in the order it was recorded. ReadFloat
// fills up to len(dst) samples, full scale 1, and returns io.EOF with or
// after the last; a live source waits for more.
type Source interface {
	Rate() float64 // samples a second as the recorder states it
	ReadFloat(dst []float32) (int, error)
}

// Source16 is a Source whose samples are whole numbers of 16 bits: reading
// them as such is faster. One source is read in one of the two ways only.
type Source16 interface {
	Source
	ReadInt16(dst []int16) (int, error)
}
