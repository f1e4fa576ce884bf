package cli

import (
	"context"

	"github.com/spf13/cobra"

	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// interventionsCommand prints the originality ledger of a clock.
func interventionsCommand(env Env) *cobra.Command {
	var p printing
	cmd := &cobra.Command{
		Use: "interventions NUMBER", Short: "What was done to a clock, and whether it can be undone", Args: oneArg("the number of the clock"),
		Example: "  seatboard interventions 2026-014\n      as text\n  seatboard interventions 2026-014 --pdf interventions.pdf\n      to print",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				o, err := s.Originality(ctx, c.ID)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "interventions": o.Ledger.Standing(), "log": o.Ledger.Log()})
				}
				return p.write(ctx, env, s, present.Originality(o.Clock, o.Ledger, o.Shots), shop.Foot(o.Clock))
			})
		},
	}
	p.flags(cmd)
	return cmd
}

// storesCommand lists what is on the shelf, or what a clock used of it.
func storesCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use: "stores [NUMBER]", Short: "What is left on the shelf, or what a clock used of it", Args: someArgs(0, 1, ""),
		Example: "  seatboard stores\n      what is left, and what is low\n  seatboard stores 2026-014\n      what one clock used",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				st, err := s.Stores(ctx)
				if err != nil {
					return err
				}
				if len(args) == 0 {
					if asJSON(cmd) {
						return jsonout.Write(env.Out, map[string]any{"stores": st.Shelf.Stock(), "findings": st.Shelf.Findings()})
					}
					return printDoc(env, present.Stores(st.Shelf))
				}
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				elsewhere, err := s.UsedElsewhere(ctx, c.UID)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "used": st.Shelf.UsedBy(c.Number), "used_elsewhere": elsewhere})
				}
				return printDoc(env, present.UsedFor(c.Number, st.Shelf, elsewhere))
			})
		},
	}
}
