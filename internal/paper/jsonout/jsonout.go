// Package jsonout writes answers and problems as JSON for programs: two
// spaces of indent, a newline at the end, and no HTML escaping, so that "<"
// and "&" stay readable. The shape of an answer is its own JSON tags; the
// shape of a problem is [Problem]. Both are described in docs/data-format.md.
package jsonout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"seatboard/internal/kit/meas"
)

// Problem is why there is no answer: a stable code for programs, what is
// wrong, what to do, and the faults field by field.
type Problem struct {
	Code    string      `json:"code"`
	Message string      `json:"message"`
	Hint    string      `json:"hint,omitempty"`
	Fields  meas.Faults `json:"fields,omitempty"`
}

// Write writes an answer. An answer that cannot be written, such as one that
// holds a number that is not finite, leaves w untouched.
func Write(w io.Writer, answer any) error {
	b, err := marshal(answer)
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

// WriteProblem writes {"problem": {…}}.
func WriteProblem(w io.Writer, p Problem) error {
	return Write(w, struct {
		Problem Problem `json:"problem"`
	}{p})
}

func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, fmt.Errorf("jsonout: %w", err)
	}
	return b.Bytes(), nil
}
