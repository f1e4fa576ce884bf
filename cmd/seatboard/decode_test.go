package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"seatboard/internal/io/audio"
)

// TestDecodesItself: the program has the hidden command that it starts itself
// with to decode a recording, and does not speak of it.
func TestDecodesItself(t *testing.T) {
	f, err := os.Open("../../internal/io/audio/testdata/clicks.flac")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c := exec.Command(os.Args[0], audio.ChildCommand)
	c.Stdin = f
	out, err := c.Output()
	if err != nil || !strings.HasPrefix(string(out), "sound 1\n") || len(out) < 2*48000 {
		t.Errorf("%d bytes, %v", len(out), err)
	}
	help := exec.Command(os.Args[0], "--help")
	help.Env = append(os.Environ(), "SEATBOARD_TEST_MAIN=1")
	if out, err := help.Output(); err != nil || strings.Contains(string(out), audio.ChildCommand) {
		t.Errorf("help: %v %s", err, out)
	}
}
