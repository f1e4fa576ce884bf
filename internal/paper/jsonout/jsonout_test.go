package jsonout_test

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/jsonout"
)

func TestWrite(t *testing.T) {
	answer := struct {
		Rod      meas.Reading[unit.Length] `json:"rod"`
		Findings []meas.Finding            `json:"findings"`
		Complete bool                      `json:"complete"`
	}{
		Rod:      meas.Reading[unit.Length]{Value: 0.994, Set: true, Entered: "994 mm"},
		Findings: []meas.Finding{{Level: meas.Clash, Code: "motion-work", Text: "10 < 12 & so it stays"}},
	}
	var b bytes.Buffer
	if err := jsonout.Write(&b, answer); err != nil {
		t.Fatal(err)
	}
	check.Golden(t, "answer.json", b.String())
	if !json.Valid(b.Bytes()) || !bytes.Contains(b.Bytes(), []byte("10 < 12 & so")) {
		t.Error(b.String())
	}
}

func TestWriteProblem(t *testing.T) {
	var b bytes.Buffer
	err := jsonout.WriteProblem(&b, jsonout.Problem{Code: "bad-input", Message: "Two fields need a look", Hint: "Enter them and try again.",
		Fields: meas.Faults{{Field: "teeth", Text: "Tooth count must be a whole number, like 64"}}})
	if err != nil {
		t.Fatal(err)
	}
	check.Golden(t, "problem.json", b.String())
}

func TestNotFiniteWritesNothing(t *testing.T) {
	var b bytes.Buffer
	if err := jsonout.Write(&b, []float64{1, math.NaN()}); err == nil || b.Len() != 0 {
		t.Errorf("err %v, wrote %q", err, b.String())
	}
}
