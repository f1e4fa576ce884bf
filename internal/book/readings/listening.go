package readings

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// What can be kept in one record.
const (
	MaxText   = 64 << 10 // bytes of a text a person or a browser wrote
	MaxAnswer = 16 << 20 // bytes of an answer
)

// Path is the way by which the sound came.
type Path string

// The ways, the most trustworthy first within live ones.
const (
	File      Path = "file"              // a recording
	Own       Path = "own microphone"    // of the computer that runs the program
	Processor Path = "browser processor" // MediaStreamTrackProcessor: blocks with a time stamp each
	Worklet   Path = "browser worklet"   // AudioWorklet, which may drop or insert blocks unseen
	Piped     Path = "piped"             // from another program's output
	Times     Path = "beat times"        // no sound: the beats' times from another sensor
)

// Paths lists the ways.
func Paths() []Path { return []Path{File, Own, Processor, Worklet, Piped, Times} }

// Known says how the beginning is known.
type Known string

// The ways to know it.
const (
	ByHost  Known = "by the computer's clock" // when the first sample came in
	InFile  Known = "as the file says"
	ByHand  Known = "typed"
	Unknown Known = ""
)

// Listening is one stretch of listening.
type Listening struct {
	ID      int64     `json:"-"`
	UID     string    `json:"uid"` // 16 hexadecimal digits, the same everywhere
	ClockID int64     `json:"-"`   // in whose file it is; 0 in none yet
	Started time.Time `json:"started,omitzero"`
	How     Known     `json:"started_how"`

	Length   unit.Duration     `json:"length"`   // by the recorder's clock
	Source   string            `json:"source"`   // file name or the device's label
	Path     Path              `json:"path"`     //
	Settings string            `json:"settings"` // JSON as the browser or recorder reported it; "" for none
	Rate     float64           `json:"rate"`     // samples a second as stated; 0 for beat times
	Clock    sampleclock.Clock `json:"sample_clock"`

	Verdict beat.Verdict `json:"verdict"`
	Gist    Gist         `json:"gist"`
	Answer  string       `json:"answer"` // JSON as given; "" where not read or none
	Program string       `json:"program"`

	Note  string `json:"note"`
	By    string `json:"by"`
	Audio string `json:"audio"` // SHA-256 of the sound kept, in hexadecimal; "" where it was not kept

	Count    int         `json:"-"` // beats kept
	Beats    []beat.Beat `json:"-"` // nil where not read
	Finished bool        `json:"-"` // false while it runs, or where it was cut off before anyone kept it
	Saved    time.Time   `json:"saved,omitzero"`
	Removed  time.Time   `json:"removed,omitzero"`
}

// Gist is what a list shows of an answer.
type Gist struct {
	Mean      meas.Interval[unit.Rate]     `json:"mean"`       // true rate over the stretch
	PerHour   meas.Interval[unit.Ratio]    `json:"per_hour"`   // beats in a true hour
	BeatError meas.Interval[unit.Duration] `json:"beat_error"` // tick to tock less tock to tick
	First     string                       `json:"first"`      // the most urgent finding
}

// Calibration is what was found of one recorder's clock.
type Calibration struct {
	Device string            `json:"device"` // the recorder's key: its label, or its identifier
	Clock  sampleclock.Clock `json:"sample_clock"`
	When   time.Time         `json:"when"`
	Length unit.Duration     `json:"length"` // how long it was compared; 0 where stated
	By     string            `json:"by"`

	Against string                         `json:"against"`     // what kept the computer's clock right meanwhile; "" where stated
	Warm    meas.Reading[unit.Temperature] `json:"temperature"` // of the room; unset where nobody said
}

var (
	uidForm = regexp.MustCompile(`^[0-9a-f]{16}$`)
	sumForm = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// Check lists what cannot be kept. What is doubtful is not a fault.
func (l Listening) Check() []meas.Fault {
	var f faults
	if !uidForm.MatchString(l.UID) {
		f.add("uid", "The identifier must be 16 of the characters 0–9 and a–f")
	}
	if l.Audio != "" && !sumForm.MatchString(l.Audio) {
		f.add("audio", "The SHA-256 of the sound must be 64 of the characters 0–9 and a–f")
	}
	for _, t := range [][2]string{{"source", l.Source}, {"settings", l.Settings}, {"note", l.Note}, {"by", l.By}, {"program", l.Program},
		{"started_how", string(l.How)}, {"path", string(l.Path)}, {"verdict", string(l.Verdict)}, {"sample_clock.device", l.Clock.Device}} {
		f.text(t[0], t[1], MaxText)
	}
	f.text("answer", l.Answer, MaxAnswer)
	f.json("settings", l.Settings)
	f.json("answer", l.Answer)
	f.number("length", float64(l.Length))
	f.number("rate", l.Rate)
	f.clock("sample_clock", l.Clock)
	f.instant("started", l.Started)
	f.instant("removed", l.Removed)
	if len(l.Beats) > MaxBeats {
		f.add("beats", "There are %d beats; %d are the most. Keep it in two records", len(l.Beats), MaxBeats)
	}
	return f
}

// Check lists what cannot be kept.
func (c Calibration) Check() []meas.Fault {
	var f faults
	if strings.TrimSpace(c.Device) == "" {
		f.add("device", "Say which recorder this is of")
	}
	f.text("device", c.Device, 400)
	f.text("by", c.By, MaxText)
	f.text("against", c.Against, MaxText)
	f.text("temperature", c.Warm.Entered, MaxText)
	f.number("length", float64(c.Length))
	f.clock("sample_clock", c.Clock)
	f.instant("when", c.When)
	return f
}

type faults []meas.Fault

func (f *faults) add(field, format string, a ...any) {
	*f = append(*f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
}

func (f *faults) text(field, s string, most int) {
	switch {
	case len(s) > most:
		f.add(field, "This text is %d bytes long; %d are the most", len(s), most)
	case strings.IndexByte(s, 0) >= 0:
		f.add(field, "There is a NUL character in this text; take it out")
	case !utf8.ValidString(s):
		f.add(field, "This text is damaged: it is not UTF-8")
	}
}

func (f *faults) json(field, s string) {
	if s != "" && !json.Valid([]byte(s)) {
		f.add(field, "This is not whole JSON")
	}
}

func (f *faults) number(field string, x float64) {
	if !(x >= 0 && x <= 1e12) { // NaN is not
		f.add(field, "This must be a number of 0 or more")
	}
}

// clock refuses an error of a clock that is no number or leaves nothing of
// a second.
func (f *faults) clock(field string, c sampleclock.Clock) {
	if e := float64(c.Error); !(e > -1 && e < 1) {
		f.add(field+".error", "The error of a recorder's clock must be a small number, like 0.00002 for 20 ppm")
	}
	if u := float64(c.Limit); !(u >= 0 && u < 1) {
		f.add(field+".limit", "The limit of a recorder's clock must be a small number of 0 or more, like 0.00005 for 50 ppm")
	}
	f.instant(field+".when", c.When)
}

func (f *faults) instant(field string, t time.Time) {
	if y := t.UTC().Year(); !t.IsZero() && (y < 1 || y > 9999) {
		f.add(field, "The year %d cannot be kept; write one from 1 to 9999", y)
	}
}

// Words is the record in one line, for the history: "regular beat, 599
// beats, longcase.wav".
func (l Listening) Words() string {
	n := l.Count
	if l.Beats != nil {
		n = len(l.Beats)
	}
	out := fmt.Sprintf("%s, %d beats", l.Verdict, n)
	if l.Verdict == "" {
		out = fmt.Sprintf("%d beats", n)
	}
	if l.Source != "" {
		out += ", " + l.Source
	}
	return out
}
