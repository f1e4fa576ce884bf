package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// estimateCommand shows what is proposed for a clock.
func estimateCommand(env Env) *cobra.Command {
	var p printing
	var version int
	cmd := &cobra.Command{
		Use: "estimate NUMBER", Short: "The range of the work on a clock, or a version for its owner", Args: oneArg("the number of the clock"),
		Example: "  seatboard estimate 2026-014\n      the draft beside what was worked\n  seatboard estimate 2026-014 --version 1 --pdf proposal.pdf\n      what was put before the owner, to print",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				e, err := s.Estimate(ctx, c.ID)
				if err != nil {
					return err
				}
				a, d := e.Answer, present.Estimate(e.Answer, present.Worked{Total: e.Total, On: e.DoneOn})
				if version != 0 {
					v, ok := e.Proposal.Find(version)
					if !ok {
						return &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("There is no version %d of the proposal for %s.", version, c.Number), Hint: fmt.Sprintf("It has %s; without --version the draft is shown.", counted(len(e.Proposal.Versions), "version"))}
					}
					a, d = v.Answer, present.Proposal(v, e.Proposal.Consents, e.Proposal.Deposits)
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, a)
				}
				return p.write(ctx, env, s, d, shop.Foot(e.Clock))
			})
		},
	}
	cmd.Flags().IntVar(&version, "version", 0, "a fixed version; the draft where it is not given")
	p.flags(cmd)
	return cmd
}
