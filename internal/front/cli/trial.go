package cli

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/book/trial"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// readingCommand writes down a look at a clock on trial.
func readingCommand(env Env) *cobra.Command {
	var ask shop.TrialAsk
	cmd := &cobra.Command{
		Use: "reading NUMBER [SEEN]", Short: "Write down what a clock on trial is wrong by, or what it shows", Args: someArgs(1, 2, "the number of the clock, and what it is wrong by, such as '12 s fast'"),
		Long: "Write down a look at a clock on trial: what it is wrong by (12 s fast, 1 min 3 s slow, right; −12 behind --) or what its hands show (9:14:12).\n" +
			"The time of day is this computer's, at the moment the command is given, unless --at says another. The air alone can be written down without SEEN.",
		Example: "  seatboard reading 2026-011 '12 s fast' --temperature '17.5 °C'\n  seatboard reading 2026-011 9:14:12 --at 'yesterday 9:14:00'",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 {
				ask.Seen = args[1]
			}
			return writeTrial(cmd, env, args[0], func(ctx context.Context, s *shop.Shop, clock int64) ([]trial.Event, error) {
				return s.ReadTrial(ctx, who(), clock, 0, ask)
			})
		},
	}
	cmd.Flags().StringVar(&ask.At, "at", "", "the true time of the look: 9:14:30, yesterday 17:40, 2026-11-24 17:40, 10 min ago; now where it is not given")
	cmd.Flags().StringVar(&ask.Air.Temperature, "temperature", "", "of the room; a bare number is °C")
	cmd.Flags().StringVar(&ask.Air.Pressure, "pressure", "", "of the air; a bare number is hPa")
	cmd.Flags().StringVar(&ask.Air.Humidity, "humidity", "", "of the air; a bare number is per cent")
	cmd.Flags().StringVar(&ask.Air.Arc, "arc", "", "half arc of the pendulum; a bare number is degrees")
	cmd.Flags().StringVar(&ask.Air.Weight, "weight", "", "how far the weight has still to fall; a bare number is mm")
	return cmd
}

// touchCommand writes down what was done to a clock on trial.
func touchCommand(env Env) *cobra.Command {
	var ask shop.TouchAsk
	cmd := &cobra.Command{
		Use: "touch NUMBER WHAT", Short: "Write down what was done to a clock on trial", Args: someArgs(2, 2, "the number of the clock, and what was done, such as 'nut down 1/4'"),
		Long:    "Write down what was done to a clock on trial: nut up 1/2, nut down 12 divisions, tray 2 g on, set 3 s slow, started right, stopped, moved, levelled, oiled, wound, or worked and what was done.",
		Example: "  seatboard touch 2026-011 'nut up 1/2'\n  seatboard touch 2026-011 'set right' --at 'yesterday 17:40' --words 'by the wireless'",
		RunE: func(cmd *cobra.Command, args []string) error {
			ask.What = args[1]
			return writeTrial(cmd, env, args[0], func(ctx context.Context, s *shop.Shop, clock int64) ([]trial.Event, error) {
				return s.TouchTrial(ctx, who(), clock, 0, ask)
			})
		},
	}
	cmd.Flags().StringVar(&ask.At, "at", "", "when: 9:14, yesterday 17:40, 2026-11-24 17:40, 10 min ago; now where it is not given")
	cmd.Flags().StringVar(&ask.Words, "words", "", "a remark")
	return cmd
}

// writeTrial writes entries of a clock's trial, and says what stands there now
// and what is asked.
func writeTrial(cmd *cobra.Command, env Env, number string, write func(context.Context, *shop.Shop, int64) ([]trial.Event, error)) error {
	return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
		c, err := byNumber(ctx, s, number)
		if err != nil {
			return err
		}
		events, err := write(ctx, s, c.ID)
		if err != nil {
			return err
		}
		t, err := s.Trial(ctx, c.ID)
		if err != nil {
			return err
		}
		if asJSON(cmd) {
			return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "entries": events, "questions": t.Questions})
		}
		for _, e := range events {
			fmt.Fprintf(env.Out, "%s, entry %d, %s: %s\n", c.Number, e.N, momentWords(e, s.Zone()), present.TrialEntry(e))
		}
		for _, q := range t.Questions {
			fmt.Fprintf(env.Out, "Asked: %s. %s.\n", q.Text, q.Ask)
		}
		if len(t.Questions) > 0 {
			fmt.Fprintf(env.Out, "Answered on the page Trial of %s.\n", c.Number)
		}
		return nil
	})
}

// momentWords is when what an entry tells of was.
func momentWords(e trial.Event, zone *time.Location) string {
	return e.Moment().In(zone).Format("2006-01-02 15:04:05")
}
