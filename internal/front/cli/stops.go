package cli

import (
	"context"

	"github.com/spf13/cobra"

	"seatboard/internal/front/desk"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// stopsOfClock lets the command of the stops take those that are written down
// of a clock on trial, with its survey.
func stopsOfClock(cmd *cobra.Command, env Env, out *output) {
	number := cmd.Flags().String("clock", "", "the stops written down of a clock of the book, by its number, with its survey")
	cmd.Example += "\n  seatboard stops --clock 2026-014\n      those written down of a clock on trial"
	desked := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if *number == "" {
			return desked(cmd, args)
		}
		if len(args) > 0 {
			return usagef("with --clock the stops are taken from the book: leave the hands out")
		}
		return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
			c, err := byNumber(ctx, s, *number)
			if err != nil {
				return err
			}
			t, err := s.TrialStops(ctx, c.ID)
			if err != nil {
				return err
			}
			if t.Answer == nil {
				return &shop.Problem{Code: shop.NotFound, Message: "No stop of " + c.Number + " is written down.", Hint: "Write one down on its page Trial, Stops, or give the hands: seatboard stops 10:47 3:15 8:20."}
			}
			return out.write(env, desk.Outcome{Answer: *t.Answer, Doc: present.Stops(*t.Answer)}, asJSON(cmd))
		})
	}
}
