package clean

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is a bath and what is to go into it. Fields may be left out; what
// then cannot be told is asked for.
type Query struct {
	Liquid     string   `json:"liquid"`               // a key of Liquids
	Product    string   `json:"product,omitempty"`    // as on the label
	Substances []string `json:"substances,omitempty"` // as on the label: names or CAS numbers

	FlashPoint meas.Reading[unit.Temperature] `json:"flash_point"`        // of the safety data sheet; wins
	NoFlash    bool                           `json:"no_flash,omitempty"` // the sheet says that there is none

	Heated      bool                           `json:"heated,omitempty"`
	Temperature meas.Reading[unit.Temperature] `json:"temperature"` // of the bath
	Ultrasound  bool                           `json:"ultrasound,omitempty"`
	Time        meas.Reading[unit.Duration]    `json:"time"` // wanted in the bath; the limit where not stated

	Age  meas.Reading[unit.Duration] `json:"age"`            // of the bath since it was mixed
	Uses int                         `json:"uses,omitempty"` // batches that went through it before
	Blue bool                        `json:"blue,omitempty"` // it has turned blue or green

	Pieces []Piece `json:"pieces"`
}

// Piece is what goes in: one part or several alike.
type Piece struct {
	Number    string     `json:"number"` // "2026-014.3"
	Name      string     `json:"name"`
	Materials []Material `json:"materials"`           // all that it is made of and carries
	Assembled bool       `json:"assembled,omitempty"` // other parts are still on it
}

// called is how a sentence names the piece.
func (p Piece) called() string {
	switch {
	case p.Name == "":
		return p.Number
	case p.Number == "":
		return p.Name
	}
	return p.Number + " " + p.Name
}

// mostPieces bounds a batch.
const mostPieces = 2000

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if _, ok := FindLiquid(q.Liquid); !ok {
		add("liquid", "Choose the liquid: %s", liquidNames())
	}
	if q.NoFlash && q.FlashPoint.Set {
		add("flash-point", "A flash point of %s was entered and that there is none; the data sheet says one of the two", q.FlashPoint)
	}
	within(add, "flash-point", "The flash point", q.FlashPoint, 273.15-60, 273.15+300, "−60 °C and 300 °C")
	within(add, "temperature", "The temperature of the bath", q.Temperature, 273.15-5, 273.15+100, "−5 °C and 100 °C")
	within(add, "time", "The time in the bath", q.Time, 1, 24*3600, "1 s and 24 h")
	within(add, "age", "The age of the bath", q.Age, 0, 20*365*86400, "0 and 20 years")
	if q.Uses < 0 || q.Uses > 100000 {
		add("uses", "The batches before this one are counted from 0; %d was entered", q.Uses)
	}
	for _, s := range q.Substances {
		if _, ok := FindSubstance(s); !ok {
			add("substances", "“%s” is not in the table of substances; enter the flash point of the data sheet instead", meas.Clip(s))
		}
	}
	q.checkPieces(add)
	return f
}

func (q Query) checkPieces(add func(field, format string, a ...any)) {
	if len(q.Pieces) > mostPieces {
		add("pieces", "There are %d pieces; a batch has at most %d", len(q.Pieces), mostPieces)
		return
	}
	seen := map[string]bool{}
	for i, p := range q.Pieces {
		at := fmt.Sprintf("pieces.%d", i+1)
		switch {
		case strings.TrimSpace(p.called()) == "":
			add(at, "Say which part row %d is", i+1)
		case p.Number != "" && seen[p.Number]:
			add(at, "%s stands twice", meas.Clip(p.Number))
		}
		seen[p.Number] = true
		for _, m := range p.Materials {
			if !m.Known() {
				add(at, "“%s” is not in the table of materials; choose from the list, or “not known”", meas.Clip(string(m)))
			}
		}
	}
}

func liquidNames() string {
	var names []string
	for _, l := range Liquids() {
		names = append(names, l.Name)
	}
	return strings.Join(names, "; ")
}

// within refuses a quantity outside a range, named in words.
func within[Q unit.Quantity](add func(field, format string, a ...any), field, what string, r meas.Reading[Q], low, high float64, words string) {
	if r.Set && !(float64(r.Value) >= low && float64(r.Value) <= high) {
		add(field, "%s must be between %s; “%s” was entered", what, words, r)
	}
}
