package cli

import (
	"github.com/spf13/cobra"

	"seatboard/internal/io/photo"
)

// decodePictureCommand is the hidden command that the program starts itself
// with to look into a photograph under limits: the file on standard input, a
// form for the starting program on standard output. It has no use by hand.
func decodePictureCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use:    photo.ChildCommand,
		Short:  "Decode a photograph for the program itself",
		Hidden: true,
		Args:   noArgs,
		RunE: func(*cobra.Command, []string) error {
			if photo.Serve(env.In, env.Out) != 0 {
				return errDecode
			}
			return nil
		},
	}
}
