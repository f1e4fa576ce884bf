package shop

import (
	"os"
	"testing"

	"seatboard/internal/io/audio"
	"seatboard/internal/io/photo"
)

// TestMain lets the test binary be the child that decodes.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == audio.ChildCommand {
		os.Exit(audio.Serve(os.Stdin, os.Stdout))
	}
	if len(os.Args) == 2 && os.Args[1] == photo.ChildCommand {
		os.Exit(photo.Serve(os.Stdin, os.Stdout))
	}
	os.Exit(m.Run())
}
