package present

import (
	"testing"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/check"
	"seatboard/internal/paper/text"
)

// The documents of what was heard as a terminal shows them.
func TestListenGolden(t *testing.T) {
	nothing := listen.Answer{Hearing: beat.Hearing{Verdict: beat.NoBeat, Why: "Nothing repeats as a clock does. Lay the recorder on the case and record a minute.", Length: 60, Rate: 48000, Complete: true}}
	nothing.Findings = nothing.Say()
	for file, a := range map[string]listen.Answer{
		"listen-heard.txt": heard(), "listen-broken.txt": broken(),
		"listen-nothing.txt": nothing,
	} {
		check.Golden(t, file, text.Render(Listen(a), text.Options{Width: 100, Working: true}))
	}
}
