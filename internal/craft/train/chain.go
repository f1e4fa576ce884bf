package train

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"seatboard/internal/kit/meas"
)

// The bounds of a text: more is not a train.
const (
	mostText   = 2000 // bytes
	mostArbors = 16
	mostErrors = 12 // sentences about one text
)

// Chain is a train as text, from the barrel or great wheel to the last wheel
// or pinion. It keeps what was typed; a chain that could not be read keeps
// its text and its mistakes.
type Chain struct {
	entered string
	arbors  []Arbor
	errs    ParseErrors
}

// ParseError is one mistake in the text of a train.
type ParseError struct {
	Word string // the word as typed, "" for the text as a whole
	At   int    // where it begins, in characters from 0
	Text string // what is wrong and what to write
}

func (e ParseError) Error() string { return e.Text }

// ParseErrors is all the mistakes in the text of a train, in order.
type ParseErrors []ParseError

func (e ParseErrors) Error() string {
	s := make([]string, len(e))
	for i, x := range e {
		s[i] = x.Text
	}
	return strings.Join(s, ". ")
}

// Unwrap gives the mistakes as faults of a field yet to be named.
func (e ParseErrors) Unwrap() error {
	f := make(meas.Faults, len(e))
	for i, x := range e {
		f[i].Text = x.Text
	}
	return f
}

// ParseChain reads a train as handbooks print it; the error is ParseErrors.
// An empty text gives the empty Chain.
func ParseChain(s string) (Chain, error) {
	c := Chain{entered: strings.TrimSpace(s)}
	if len(c.entered) > mostText {
		c.entered = strings.ToValidUTF8(c.entered[:mostText], "")
		c.errs = ParseErrors{{Text: fmt.Sprintf("The text is %d characters long; a train is a line like 96/8 60/8 56/7 30", len(s))}}
		return c, c.errs
	}
	if !utf8.ValidString(c.entered) {
		c.entered = strings.ToValidUTF8(c.entered, "�")
	}
	p := chainParser{words: splitWords(c.entered)}
	c.arbors, c.errs = p.read()
	if len(c.errs) > 0 {
		c.arbors = nil
		return c, c.errs
	}
	return c, nil
}

// MustChain is ParseChain for the program's own texts; it panics on others.
func MustChain(s string) Chain {
	c, err := ParseChain(s)
	if err != nil {
		panic(err)
	}
	return c
}

// ChainOf is a chain of these arbors, as if it had been typed.
func ChainOf(arbors []Arbor) Chain { return Chain{arbors: append([]Arbor(nil), arbors...)} }

// Empty tells that nothing was entered.
func (c Chain) Empty() bool { return c.entered == "" && len(c.arbors) == 0 }

// Err is the mistakes of the text, nil where there are none.
func (c Chain) Err() error {
	if len(c.errs) == 0 {
		return nil
	}
	return c.errs
}

// Arbors lists the arbors of the chain, a copy.
func (c Chain) Arbors() []Arbor { return append([]Arbor(nil), c.arbors...) }

// Entered is the text as typed, "" for a chain made by the program.
func (c Chain) Entered() string { return c.entered }

// String writes the chain in one way: "96/8 60/8 56/7 30". A text that could
// not be read is written as it was typed.
func (c Chain) String() string {
	if len(c.errs) > 0 {
		return c.entered
	}
	var b strings.Builder
	for i, a := range c.arbors {
		switch {
		case a.Wheel.Status == None:
		case i+1 < len(c.arbors):
			fmt.Fprintf(&b, " %s/%s", a.Wheel, c.arbors[i+1].Pinion)
		default:
			fmt.Fprintf(&b, " %s", a.Wheel)
		}
	}
	return strings.TrimSpace(b.String())
}

// MarshalText writes the text as typed.
func (c Chain) MarshalText() ([]byte, error) {
	if c.entered != "" {
		return []byte(c.entered), nil
	}
	return []byte(c.String()), nil
}

// UnmarshalText reads what a person typed; the mistakes are the error.
func (c *Chain) UnmarshalText(b []byte) error {
	v, err := ParseChain(string(b))
	*c = v
	return err
}

// UnmarshalJSON reads a text. Mistakes in the counts are kept for
// [Query.Check] and are not an error here, so that a record saved as typed
// can be read again.
func (c *Chain) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return errors.New("train: a chain is a text like \"96/8 60/8 56/7 30\"")
	}
	*c, _ = ParseChain(s)
	return nil
}

// MarshalJSON writes the text as typed.
func (c Chain) MarshalJSON() ([]byte, error) {
	b, _ := c.MarshalText()
	return json.Marshal(string(b))
}
