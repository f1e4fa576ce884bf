package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"seatboard/internal/book/job"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// removeCommand takes a clock out of the book, or puts it back.
func removeCommand(env Env) *cobra.Command {
	var back bool
	cmd := &cobra.Command{
		Use: "remove [NUMBER]", Short: "Take a clock out of the book, or put it back; list those taken out", Args: someArgs(0, 1, ""),
		Long: "Take a clock out of the book that was written down by mistake or twice. It leaves the lists and is not found; all of its file stays,\n" +
			"its number is not given again, and it can be put back.",
		Example: "  seatboard remove 2026-014\n      it is out\n  seatboard remove 2026-014 --back\n      it is in again\n  seatboard remove\n      those that are out",
		RunE: func(cmd *cobra.Command, args []string) error {
			if back && len(args) == 0 {
				return usagef("say the number of the clock that is to be put back")
			}
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				out, err := s.TakenOut(ctx)
				if err != nil {
					return err
				}
				if len(args) == 0 {
					return listOut(cmd, env, out)
				}
				c, said, err := removeOne(ctx, s, out, args[0], back)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"clock": c, "taken_out": !back})
				}
				_, err = fmt.Fprintf(env.Out, "%s %s\n", c.Number, said)
				return err
			})
		},
	}
	cmd.Flags().BoolVar(&back, "back", false, "put it back")
	return cmd
}

// removeOne does it; the answer says how the clock stands now.
func removeOne(ctx context.Context, s *shop.Shop, out []job.Summary, number string, back bool) (c job.Summary, said string, err error) {
	if !back {
		if c, err = byNumber(ctx, s, number); err == nil {
			err = s.TakeOut(ctx, who(), c.ID)
		}
		return c, "is taken out of the book. seatboard remove " + c.Number + " --back puts it back.", err
	}
	for _, c := range out {
		if job.NumberKey(c.Number) == job.NumberKey(number) {
			return c, "is in the book again.", s.PutBack(ctx, who(), c.ID)
		}
	}
	return c, "", &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("No clock %q was taken out of the book.", number), Hint: "seatboard remove lists those that were."}
}

func listOut(cmd *cobra.Command, env Env, out []job.Summary) error {
	if asJSON(cmd) {
		return jsonout.Write(env.Out, map[string]any{"taken_out": append([]job.Summary{}, out...)})
	}
	if len(out) == 0 {
		_, err := fmt.Fprintln(env.Out, "No clock was taken out of the book.")
		return err
	}
	return printFound(env, out, nil, false)
}
