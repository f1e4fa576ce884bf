package cli

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"seatboard/internal/book/making"
	"seatboard/internal/front/desk"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// keeping is how an answer goes into a clock's file.
type keeping struct{ clock, title, note string }

func keepFlags(flags *pflag.FlagSet) *keeping {
	k := &keeping{}
	flags.StringVar(&k.clock, "keep", "", "keep the answer in the file of a clock, by its number")
	flags.StringVar(&k.title, "called", "", "what it is called there")
	flags.StringVar(&k.note, "keep-note", "", "a note with it")
	return k
}

// put keeps what came of values as [desk.Calculation.Typed] has them, where
// that is asked for, and says under which number.
func (k *keeping) put(cmd *cobra.Command, env Env, c desk.Calculation, values map[string][]string, o desk.Outcome) error {
	if k.clock == "" {
		if k.title != "" || k.note != "" {
			return usagef("say with --keep in which clock's file it is to be kept")
		}
		return nil
	}
	is, err := c.SheetOf(values, o)
	if err != nil {
		return err
	}
	is.Title, is.Note = k.title, k.note
	if is.Title == "" {
		is.Title = c.Title
	}
	return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
		clock, err := byNumber(ctx, s, k.clock)
		if err != nil {
			return err
		}
		n, err := s.KeepSheet(ctx, who(), clock.ID, is)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(env.Err, "Kept in the file of %s as sheet %d.\n", clock.Number, n)
		return err
	})
}

// makingsCommand lists what was worked out for a clock, or tells one of it
// again.
func makingsCommand(env Env) *cobra.Command {
	var p printing
	drawings := false
	cmd := &cobra.Command{
		Use: "makings NUMBER [SHEET]", Short: "What was worked out for a clock, and the drawings of its parts", Args: someArgs(1, 2, "the number of the clock"),
		Example: "  seatboard makings 2026-012\n      the sheets of a clock\n  seatboard makings 2026-012 3 --json\n      one of them, with its values and its answer as it was told\n  seatboard makings 2026-012 --drawings --pdf drawings.pdf\n      all drawings at true size, with a list in front",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				m, err := s.Making(ctx, c.ID)
				switch {
				case err != nil:
					return err
				case len(args) == 2:
					return tellSheet(cmd, env, s, m, args[1], p)
				case drawings:
					all, err := desk.Drawings(ctx, m.Book)
					if err != nil {
						return err
					}
					return p.write(cmd.Context(), env, s, present.Drawings(m.Clock, all), shop.Foot(m.Clock))
				case asJSON(cmd):
					return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "sheets": m.Book.All(), "log": m.Book.Log()})
				}
				return p.write(cmd.Context(), env, s, present.Making(m.Clock, m.Book), shop.Foot(m.Clock))
			})
		},
	}
	cmd.Flags().BoolVar(&drawings, "drawings", false, "the drawings of all sheets, worked out anew")
	p.flags(cmd)
	return cmd
}

// tellSheet works one sheet out anew and says what was told otherwise.
func tellSheet(cmd *cobra.Command, env Env, s *shop.Shop, m shop.Making, number string, p printing) error {
	n, err := strconv.Atoi(number)
	if err != nil {
		return usagef("%q is not the number of a sheet; seatboard makings %s lists them", number, m.Clock.Number)
	}
	x, ok := m.Book.Find(n)
	if !ok {
		return &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("There is no sheet %d.", n), Hint: "seatboard makings " + m.Clock.Number + " lists them."}
	}
	if asJSON(cmd) {
		return jsonout.Write(env.Out, map[string]any{"clock": m.Clock.Number, "sheet": x})
	}
	c, ok := desk.Find(x.Calculation)
	if !ok {
		return &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("This Seatboard does not know the calculation %q.", x.Calculation), Hint: "What was told stands in --json."}
	}
	values := c.Typed(x.Values)
	o, err := worked(cmd, env, c, values)
	if err != nil {
		return err
	}
	now, err := c.SheetOf(values, o)
	if err != nil {
		return err
	}
	for _, d := range making.Differing(x.Answer, now.Answer) {
		if o.Stopped {
			break // it was not brought to its end now
		}
		fmt.Fprintf(env.Err, "Told otherwise by %s: %s was %s, is now %s.\n", x.Program, d.Field, d.Before, d.After)
	}
	return p.write(cmd.Context(), env, s, o.Doc, shop.Foot(m.Clock))
}
