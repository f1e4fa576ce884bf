package trial

import (
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/tap"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Kind is what an event says.
type Kind string

// The kinds.
const (
	Read     Kind = "read"     // Readings: one by hand, tap, ear or strike; Taps are what one by tap is from
	Tabled   Kind = "tabled"   // Readings, Air and Touches of one table made elsewhere, which Source names
	Touched  Kind = "touched"  // Touch
	Aired    Kind = "aired"    // Air: temperature, pressure, humidity, arc, weight; one or many
	Stood    Kind = "stood"    // Stop: it was found standing
	Answered Kind = "answered" // Answer to a question about a reading or a moment
	Aimed    Kind = "aimed"    // Aim: what counts as right for this clock
	Began    Kind = "began"    // a gate was begun: the clock is on the stand, or in its case
	Passed   Kind = "passed"   // a gate was passed and signed by Who
	Failed   Kind = "failed"   // the gate begins anew, Why says the reason
	Struck   Kind = "struck"   // Strike: an hour heard, with the blows counted
	Undone   Kind = "undone"
)

// Event is one entry of a clock's trial. When is when it was written down;
// what it tells of has its own instants.
type Event struct {
	ledger.Entry
	Kind     Kind               `json:"kind"`
	Readings []regulate.Reading `json:"readings,omitempty"` // their ID is 0 here: see [Book.ID]
	Source   string             `json:"source,omitempty"`   // of a table or a listening: file name, UID
	Host     *Host              `json:"host,omitempty"`     // what the time of day came from
	Taps     *tap.Query         `json:"taps,omitempty"`
	Touch    *regulate.Touch    `json:"touch,omitempty"`
	Touches  []regulate.Touch   `json:"touches,omitempty"` // of a table
	Air      []regulate.Air     `json:"air,omitempty"`
	Stop     *Stop              `json:"stop,omitempty"`
	Answer   *Reply             `json:"answer,omitempty"`
	Aim      *Aim               `json:"aim,omitempty"`
	Gate     string             `json:"gate,omitempty"` // the key of a gate of Aim
	At       time.Time          `json:"at,omitzero"`    // of Began and Failed: from when the gate counts; When where zero
	Strike   *Strike            `json:"strike,omitempty"`
}

// Moment is when what an entry tells of was, of a table the last of it; when it
// was written down where it tells of no moment.
func (e Event) Moment() time.Time {
	switch {
	case len(e.Readings) > 0:
		return e.Readings[len(e.Readings)-1].At
	case e.Kind == Touched && e.Touch != nil:
		return e.Touch.At
	case len(e.Air) > 0:
		return e.Air[len(e.Air)-1].At
	case e.Kind == Stood && e.Stop != nil:
		return e.Stop.Found
	case e.Kind == Struck && e.Strike != nil:
		return e.Strike.At
	}
	return e.When
}

// Host is where the time of day came from.
type Host struct {
	From string        `json:"from"` // "computer", "phone", "typed"
	U    unit.Duration `json:"u"`    // its own doubt, one standard uncertainty; 0 where not known
	Kept string        `json:"kept"` // "kept right", "not kept right", "not known"

	// By so much the computer's clock was set since the entry before, as far as
	// one run of the program could see; positive where it was put forward.
	Stepped unit.Duration `json:"stepped,omitempty"`
}

// Where the time of day came from, and how it is kept.
const (
	ByComputer = "computer"
	ByPhone    = "phone"
	ByTyping   = "typed" // from a time of day that the person looked at

	KeptRight    = "kept right"
	NotKeptRight = "not kept right"
	NotKnown     = "not known"
)

// Stop is a clock found standing. What was not looked at is "" or not Set.
type Stop struct {
	Found    time.Time                     `json:"found"`
	Hour     int                           `json:"hour"`           // as the hands stand, 0 to 11, or to 23
	Dial     int                           `json:"dial,omitempty"` // 24 where the hour hand goes round once in a day
	Minute   float64                       `json:"minute"`         // 0 to under 60
	Second   meas.Result[unit.Duration]    `json:"second"`         // of a seconds hand, 0 to under 60 s
	U        unit.Duration                 `json:"u"`              // of the hands' position; 0 for half a minute
	Weight   meas.Result[unit.Length]      `json:"weight"`         // its bottom above the floor of the case
	Strike   string                        `json:"strike"`         // "at rest", "warned", "striking", "not known"
	Wound    time.Time                     `json:"wound,omitzero"` // when it was wound last
	Room     meas.Result[unit.Temperature] `json:"room"`
	Pendulum string                        `json:"pendulum"` // what was seen of it
	Words    string                        `json:"words"`
}

// Reply answers a question. Of a reading (Reading) it says that it is right, or
// what it is to be put right by (Shift, Later), or, with neither and no Touch, that it
// is wrong; the last reply about a reading counts. Without one it is about a
// moment (From): nothing was wrong (Right), or what was done then (Touch).
type Reply struct {
	About   regulate.Doubtful `json:"about"`
	Reading int               `json:"reading,omitempty"`
	From    time.Time         `json:"from,omitzero"`
	Right   bool              `json:"right"`           // the reading is right as it stands
	Shift   unit.Duration     `json:"shift"`           // it is to be put right by so much: half a day, an hour, a minute
	Later   unit.Duration     `json:"later,omitempty"` // it was taken so much later than it says
	Touch   *regulate.Touch   `json:"touch,omitempty"` // what was done and not written down
}

// Strike is an hour heard.
type Strike struct {
	At    time.Time `json:"at"`
	Hour  int       `json:"hour"`  // that it should have struck, 1 to 12
	Blows int       `json:"blows"` // counted
}
