package cli

import (
	"io"
	"testing"
)

// TestCommandsAreListedOnce: each command that may be typed stands in one
// chapter of the help.
func TestCommandsAreListedOnce(t *testing.T) {
	root := newRoot(Env{Out: io.Discard, Err: io.Discard})
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	listed := map[string]int{}
	for _, c := range append([]chapter{toBegin()}, chapters()...) {
		if got := len(commandsOf(root, c)); got != len(c.names) {
			t.Errorf("%s names %d commands, and there are %d", c.words, len(c.names), got)
		}
		for _, name := range c.names {
			listed[name]++
		}
	}
	for _, cmd := range root.Commands() {
		if !cmd.Hidden && listed[cmd.Name()] != 1 {
			t.Errorf("%s stands %d times in the help", cmd.Name(), listed[cmd.Name()])
		}
	}
}
