package shop

import (
	"context"
	"errors"
	"io"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/io/audio"
)

// recording is sound that is decoded as it is read.
type recording interface {
	beat.Source
	Notes() []string // sentences on what was odd
	io.Closer
}

// decode opens a recording; what it is, its bytes say. Its error may be
// shown.
func decode(ctx context.Context, sound io.Reader, channel int) (recording, error) {
	s, err := audio.OpenReader(ctx, sound, audio.Options{Channel: channel})
	if err != nil {
		return nil, soundProblem(err)
	}
	return s, nil
}

// soundProblem explains a recording that cannot be read.
func soundProblem(err error) error {
	var f *audio.FormatError
	if !errors.As(err, &f) {
		return err
	}
	return &Problem{Code: BadInput, Message: f.Error(), cause: err}
}

// framesOf is how many samples a recording says that it has, 0 where it does
// not.
func framesOf(s beat.Source) int64 {
	if x, ok := s.(audio.Sound); ok {
		return max(x.Info().Frames, 0)
	}
	return 0
}
