package shop

import (
	"context"
	"errors"
	"io"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/io/audio"
)

// decode makes a source of a recording. What the recording lacks is a problem
// to be shown.
func decode(ctx context.Context, _ string, sound io.Reader, channel int) (beat.Source, error) {
	s, err := audio.OpenReader(ctx, sound, audio.Options{Channel: channel})
	if f := (*audio.FormatError)(nil); errors.As(err, &f) {
		return nil, &Problem{Code: BadInput, Message: f.Error(), Fields: nil, cause: err}
	}
	if err != nil {
		return nil, err
	}
	return s, nil
}
