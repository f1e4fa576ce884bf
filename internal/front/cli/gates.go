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

// gatesCommand prints how a clock stands with its gates, and signs one.
func gatesCommand(env Env) *cobra.Command {
	var p printing
	var begin, sign bool
	var anew, why, forHome, goes string
	cmd := &cobra.Command{
		Use: "gates NUMBER", Short: "How a clock on trial stands with the gates before it goes home", Args: oneArg("the number of the clock"),
		Example: "  seatboard gates 2026-011\n      what is right, what is wanted still\n  seatboard gates 2026-011 --sign\n      pass the gate that is under way, in your name\n  seatboard gates 2026-011 --pdf acceptance.pdf\n      the sheet of acceptance, to print",
		RunE: func(cmd *cobra.Command, args []string) error {
			if n := given(begin) + given(sign) + given(anew != "") + given(forHome != "") + given(goes != ""); n > 1 {
				return usagef("--begin, --sign, --anew, --for-home and --goes are different things; give one")
			}
			when, ok := map[string]trial.ForHome{"": "", "now": trial.FromNow, "last-gate": trial.AtLastGate, "never": trial.NotAtAll}[forHome]
			if !ok {
				return usagef("--for-home is now, last-gate or never; %q was given", forHome)
			}
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				g, err := s.Gates(ctx, c.ID)
				if err != nil {
					return err
				}
				if begin || sign || anew != "" {
					if g, err = moveGate(ctx, s, g, begin, sign, anew, why); err != nil {
						return err
					}
				}
				if forHome != "" || goes != "" {
					if g, err = sayOfAim(ctx, s, g, when, goes); err != nil {
						return err
					}
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "aim": g.Aim, "standing": g.Standing})
				}
				if p.file == "" {
					return printDoc(env, present.Gates(g.Clock, g.Standing, g.Now))
				}
				return p.write(ctx, env, s, present.Acceptance(g.Clock, g.Standing, g.Now), shop.Foot(g.Clock))
			})
		},
	}
	cmd.Flags().BoolVar(&begin, "begin", false, "begin the gate that comes next, from now")
	cmd.Flags().BoolVar(&sign, "sign", false, "pass the gate that is under way, in your name")
	cmd.Flags().StringVar(&anew, "anew", "", "begin the gate that is under way anew from now, for this reason")
	cmd.Flags().StringVar(&why, "why", "", "with --sign: why it is signed though not all is right")
	cmd.Flags().StringVar(&goes, "goes", "", "how long it goes from wound to down, like '8 d' or '30 h', where the survey does not tell it; never: do not remind of winding")
	cmd.Flags().StringVar(&forHome, "for-home", "", "when it is set here so that it is right at its home: now, last-gate (as it is where nobody says) or never")
	p.flags(cmd)
	cmd.AddCommand(aimCommand(env))
	return cmd
}

// sayOfAim writes down how long a clock goes, or when it is set for its home.
func sayOfAim(ctx context.Context, s *shop.Shop, g shop.Gates, when trial.ForHome, goes string) (shop.Gates, error) {
	var err error
	if goes != "" {
		err = s.WindTrial(ctx, who(), g.Clock.ID, g.Book.Len(), shop.WindAsk{Goes: goes, Never: goes == trial.NotWound})
	} else {
		err = s.SetForHome(ctx, who(), g.Clock.ID, g.Book.Len(), when)
	}
	if err != nil {
		return g, err
	}
	return s.Gates(ctx, g.Clock.ID)
}

func given(b bool) int {
	if b {
		return 1
	}
	return 0
}

// moveGate begins, signs or begins anew the gate that is under way or next.
func moveGate(ctx context.Context, s *shop.Shop, g shop.Gates, begin, sign bool, anew, why string) (shop.Gates, error) {
	st := g.Standing
	if st.Current >= len(st.Gates) {
		return g, &shop.Problem{Code: shop.Conflict, Message: "No gate of this clock is open.", Hint: present.GatesInShort(st, g.Now)}
	}
	key, seen := st.Gates[st.Current].Gate.Key, g.Book.Len()
	var err error
	switch {
	case begin:
		err = s.BeginGate(ctx, who(), g.Clock.ID, seen, key, time.Time{})
	case sign:
		err = s.SignGate(ctx, who(), g.Clock.ID, seen, key, why)
	default:
		err = s.FailGate(ctx, who(), g.Clock.ID, seen, key, anew, time.Time{})
	}
	if err != nil {
		return g, err
	}
	return s.Gates(ctx, g.Clock.ID)
}

// remindersCommand writes what is not to be forgotten for a calendar.
func remindersCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use: "reminders [NUMBER]", Short: "What is not to be forgotten, as a file for a calendar", Args: someArgs(0, 1, ""),
		Example: "  seatboard reminders > seatboard.ics\n      of the whole shop: readings, gates, promises, winding, baths\n  seatboard reminders 2026-011 > 2026-011.ics\n      of one clock; taken in again, a calendar moves what it has",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				var clock int64
				if len(args) == 1 {
					c, err := byNumber(ctx, s, args[0])
					if err != nil {
						return err
					}
					clock = c.ID
				}
				b, err := s.Reminders(ctx, clock)
				if err != nil {
					return err
				}
				if _, err = env.Out.Write(b); err != nil || clock == 0 {
					return err
				}
				t, err := s.Trial(ctx, clock)
				if w, ok := shop.WindingOf(t, s.Now()); err == nil && ok && w.Asked() {
					fmt.Fprintf(env.Err, "Asked: %s Write it down: seatboard touch %s wound --at 'yesterday 17:40', or seatboard gates %s --goes '8 d'.\n", w.Words(), args[0], args[0])
				}
				return err
			})
		},
	}
}
