package audio

import (
	"os"
	"testing"
	"time"
)

// TestMain lets the test binary be the child too.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 {
		switch os.Args[1] {
		case ChildCommand:
			os.Exit(Serve(os.Stdin, os.Stdout))
		case "take-memory":
			limitProcess()
			_, _ = os.Stdout.WriteString(wireMark)
			take()
		case "stand-still":
			time.Sleep(time.Hour)
		case "babble":
			_, _ = os.Stdout.WriteString("usage: something else entirely\n")
			os.Exit(0)
		}
	}
	os.Exit(m.Run())
}

// take asks for memory without end.
func take() {
	var all [][]byte
	for {
		b := make([]byte, 1<<30)
		for i := 0; i < len(b); i += 4096 {
			b[i] = 1
		}
		all = append(all, b)
		if len(all) > 8 {
			os.Exit(3) // the limit does not hold
		}
	}
}
