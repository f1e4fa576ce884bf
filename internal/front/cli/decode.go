package cli

import (
	"errors"

	"github.com/spf13/cobra"

	"seatboard/internal/io/audio"
)

// errDecode is a decoder whose answer nobody took.
var errDecode = errors.New("cli: the decoder could not write its answer")

// decodeCommand is the hidden command that the program starts itself with to
// decode a recording under limits: the recording on standard input, a form
// for the starting program on standard output. It has no use by hand.
func decodeCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use:    audio.ChildCommand,
		Short:  "Decode a recording for the program itself",
		Hidden: true,
		Args:   noArgs,
		RunE: func(*cobra.Command, []string) error {
			if audio.Serve(env.In, env.Out) != 0 {
				return errDecode
			}
			return nil
		},
	}
}
