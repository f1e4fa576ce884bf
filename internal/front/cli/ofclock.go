package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/front/desk"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// trialOfClock gives the regulation a clock of the book: without a file its
// trial is answered, with one its survey lends what was not typed.
func trialOfClock(cmd *cobra.Command, env Env, out *output) {
	number := cmd.Flags().String("clock", "", "the trial of a clock of the book, by its number; with a file, what its survey knows of the nut and the rod")
	cmd.Example += "\n  seatboard regulate --clock 2026-011\n      what the readings written down of a clock on trial come to"
	desked := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if *number == "" {
			return desked(cmd, args)
		}
		given := len(args) > 0 || cmd.Flags().Changed("lines") || cmd.Flags().Changed("from")
		err := openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
			c, err := byNumber(ctx, s, *number)
			if err != nil {
				return err
			}
			t, err := s.Trial(ctx, c.ID)
			switch {
			case err != nil:
				return err
			case given:
				return lendTrial(cmd, t.Query)
			case len(t.Unsolved) > 0:
				return t.Unsolved
			}
			a := *t.Answer
			a.Questions = t.Questions
			return out.write(env, desk.Outcome{Answer: a, Doc: present.Regulate(a), Log: func() doc.Table { return present.RegulationLog(a) }}, asJSON(cmd))
		})
		if err != nil || !given {
			return err
		}
		return desked(cmd, args)
	}
}

// lendTrial fills in the flags that were not typed with what is known of a
// clock.
func lendTrial(cmd *cobra.Command, q *regulate.Query) error {
	lend := map[string]string{"per-turn": rateTyped(q.Known.PerTurn), "per-gram": rateTyped(q.Known.PerGram), "want": rateTyped(meas.Exactly(q.Wanted.Rate)), "move": rateTyped(q.Wanted.Move)}
	if b := q.Wanted.Band; b > 0 {
		lend["band"] = rateTyped(meas.Exactly(b))
	}
	if !cmd.Flags().Changed("rod") {
		lend["per-kelvin"] = rateTyped(q.Known.PerKelvin)
	}
	if n := q.Known.Divisions; n > 0 {
		lend["divisions"] = fmt.Sprint(n)
	}
	for name, value := range lend {
		if value == "" || cmd.Flags().Changed(name) {
			continue
		}
		if err := cmd.Flags().Set(name, value); err != nil {
			return err
		}
	}
	return nil
}

// rateTyped is a rate as a person would type it; "" where it is not known.
func rateTyped(r meas.Result[unit.Rate]) string {
	switch {
	case !r.Set:
		return ""
	case r.HasU:
		return fmt.Sprintf("%.9f ± %.9f s/d", r.Value.PerDay(), r.U.PerDay())
	}
	return fmt.Sprintf("%.9f s/d", r.Value.PerDay())
}

// homeOfClock gives the new home a clock of the book.
func homeOfClock(cmd *cobra.Command, env Env, out *output) {
	number := cmd.Flags().String("clock", "", "a clock on trial, by its number: its survey, its trial, and the home written down with what counts as right")
	cmd.Example += "\n  seatboard home --clock 2026-011 --pdf home.pdf\n      the sheet to take along with a clock on trial"
	desked := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if *number == "" {
			return desked(cmd, args)
		}
		return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
			c, err := byNumber(ctx, s, *number)
			if err != nil {
				return err
			}
			n, err := s.NewHome(ctx, c.ID)
			switch {
			case err != nil:
				return err
			case len(n.Faults) > 0:
				return n.Faults
			}
			return out.write(env, desk.Outcome{Answer: n.Answer, Doc: present.Home(n.Answer)}, asJSON(cmd))
		})
	}
}
