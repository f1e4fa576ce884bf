package shop

import (
	"errors"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/meas"
)

// Code is the kind of a problem; front ends map it to a status.
type Code string

// The codes.
const (
	BadInput Code = "bad-input" // what was typed; Fields says where
	NotFound Code = "not-found"
	Conflict Code = "conflict" // someone else changed it meanwhile
	InUse    Code = "in-use"   // another Seatboard has the folder
	TooLarge Code = "too-large"
	Storage  Code = "storage" // the disk is full, read-only or failing
	Gone     Code = "gone"    // it was there once: a code that was used or has ended
	TooOften Code = "too-often"
	Internal Code = "internal"
)

// Problem is an error that may be shown: what is wrong and what to do. Every
// other error is internal; its text goes to the log alone.
type Problem struct {
	Code    Code
	Message string
	Hint    string
	Fields  meas.Faults
	Differ  []job.Change // of a Conflict: Before is what stands, After what was to be saved
	cause   error
}

func (p *Problem) Error() string { return p.Message }

// Unwrap gives the cause, for logs.
func (p *Problem) Unwrap() error { return p.cause }

// AsProblem turns any error into a Problem: its own, the mistakes of a form,
// or Internal.
func AsProblem(err error) *Problem {
	var p *Problem
	if errors.As(err, &p) {
		return p
	}
	var f meas.Faults
	if errors.As(err, &f) {
		return &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: f, cause: err}
	}
	return &Problem{Code: Internal, Message: "Something went wrong inside Seatboard.", Hint: "Try once more; if it stays, the log says what it was.", cause: err}
}
