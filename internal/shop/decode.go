package shop

import (
	"context"
	"io"

	"seatboard/internal/craft/listen/beat"
)

// decode makes a source of a recording.
func decode(_ context.Context, _ string, _ io.Reader, _ int) (beat.Source, error) {
	return nil, &Problem{Code: BadInput, Message: "Recordings cannot be read yet."}
}
