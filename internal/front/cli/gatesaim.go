package cli

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"seatboard/internal/book/trial"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// aimFlag is the flag of a field.
func aimFlag(f trial.AimField) string { return strings.NewReplacer(".", "-", "_", "-").Replace(f.Name) }

// aimLabel is what a field is called, away from the others of its home.
func aimLabel(f trial.AimField) string {
	if strings.HasPrefix(f.Name, "home.") {
		return "Its home: " + lower(f.Label)
	}
	return f.Label
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }

func aimHelp(f trial.AimField) string {
	s := lower(aimLabel(f))
	if f.Unit != "" {
		s += ", in " + f.Unit + " unless a unit is written"
	}
	if f.Hint != "" {
		s += "; " + lower(f.Hint)
	}
	return s
}

// aimSaid is what was typed, with the unit that a bare figure has.
func aimSaid(f trial.AimField) string {
	if _, err := strconv.ParseFloat(*f.To, 64); err == nil && f.Unit != "" {
		return *f.To + " " + f.Unit
	}
	return *f.To
}

// aimCommand shows and changes what counts as right for a clock.
func aimCommand(env Env) *cobra.Command {
	var typed trial.AimTyped
	var kind, strikes string
	var gates []string
	cmd := &cobra.Command{
		Use: "aim NUMBER", Short: "What counts as right for a clock, its gates, what was promised, where it goes", Args: oneArg("the number of the clock"),
		Long: "What counts as right for a clock, its gates, what was promised and the home it goes to. What is given is changed, all else stays; an empty value takes one away.\n" + trial.PresetWords,
		Example: "  seatboard gates aim 2026-011\n      as it stands\n  seatboard gates aim 2026-011 --kind regulator --promise 'right to ten seconds a week'\n      as is common for the kind\n" +
			"  seatboard gates aim 2026-011 --home-place 'the boathouse' --home-latitude '58.6° N' --home-temperature '12 ± 2 °C'\n      where it goes: the advice can be for there\n" +
			"  seatboard gates aim 2026-011 --gate 'Two weeks in the case; 14; 8; 3'\n      one gate: days, readings at least, longest time without one in days",
	}
	flags := cmd.Flags()
	for _, f := range typed.Fields() {
		flags.StringVar(f.To, aimFlag(f), "", aimHelp(f))
	}
	flags.StringVar(&kind, "kind", "", "band, beat and gates as is common for: "+strings.Join(kindKeys(), ", "))
	flags.StringVar(&strikes, "strikes", "", "its strike is counted: yes or no")
	flags.StringArrayVar(&gates, "gate", nil, "a gate as 'NAME; days; readings at least; longest without one in days'; once for each, in their order, in place of those there are")
	_ = cmd.RegisterFlagCompletionFunc("kind", cobra.FixedCompletions(kindKeys(), cobra.ShellCompDirectiveNoFileComp)) // the flag exists
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
			c, err := byNumber(ctx, s, args[0])
			if err != nil {
				return err
			}
			g, err := s.Gates(ctx, c.ID)
			if err != nil {
				return err
			}
			if flags.NFlag() > globalsGiven(cmd) {
				aim, faults := changedAim(g.Aim, flags, kind, strikes, gates)
				if len(faults) > 0 {
					return faults
				}
				if err = s.SetAim(ctx, who(), c.ID, g.Book.Len(), aim); err != nil {
					return err
				}
				if g, err = s.Gates(ctx, c.ID); err != nil {
					return err
				}
			}
			if asJSON(cmd) {
				return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "aim": g.Aim, "said": g.Said})
			}
			return say(env, aimDoc(g))
		})
	}
	return cmd
}

// globalsGiven counts the flags that are of every command.
func globalsGiven(cmd *cobra.Command) (n int) {
	cmd.InheritedFlags().Visit(func(*pflag.Flag) { n++ })
	return n
}

func kindKeys() (out []string) {
	for _, p := range trial.Presets() {
		out = append(out, p.Key)
	}
	return out
}

// changedAim is what counted until now with what was given changed in it.
func changedAim(was trial.Aim, flags *pflag.FlagSet, kind, strikes string, gates []string) (trial.Aim, meas.Faults) {
	var faults meas.Faults
	begin := was
	if kind != "" {
		known := false
		for _, p := range trial.Presets() {
			if p.Key == kind {
				begin, known = p.For(was), true
			}
		}
		if !known {
			faults = append(faults, meas.Fault{Field: "kind", Text: fmt.Sprintf("“%s” is no kind of clock here; write one of %s", kind, strings.Join(kindKeys(), ", "))})
		}
	}
	now := begin.Typed()
	for _, f := range now.Fields() {
		if name := aimFlag(f); flags.Changed(name) {
			*f.To = strings.TrimSpace(flags.Lookup(name).Value.String())
		}
	}
	switch strikes {
	case "":
	case "yes", "no":
		now.Strikes = strikes == "yes"
	default:
		faults = append(faults, meas.Fault{Field: "strikes", Text: fmt.Sprintf("Write yes or no; “%s” was given", strikes)})
	}
	if flags.Changed("gate") {
		now.Gates = nil
		for _, text := range gates {
			now.Gates = append(now.Gates, gateTyped(begin, text))
		}
	}
	aim, more := now.Read(begin)
	for _, f := range more {
		faults = append(faults, flagged(f, now))
	}
	return aim, faults
}

// flagged says a mistake of the flag that it was made in.
func flagged(f meas.Fault, x trial.AimTyped) meas.Fault {
	for _, a := range x.Fields() {
		if a.Name == f.Field {
			f.Field = aimFlag(a)
		}
	}
	for i, g := range x.Gates {
		if of, ok := strings.CutPrefix(f.Field, fmt.Sprintf("gates[%d].", i)); ok {
			f.Field, f.Text = "gate", fmt.Sprintf("“%s”, %s: %s", g.Name, of, f.Text)
		}
	}
	return f
}

// gateTyped reads 'NAME; days; readings; gap'. One that is called as one that
// there is goes on as that one.
func gateTyped(was trial.Aim, text string) trial.GateTyped {
	cells := append(strings.SplitN(text, ";", 4), "", "", "")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	g := trial.GateTyped{Name: cells[0], Days: cells[1], Least: cells[2], Gap: cells[3]}
	for i, old := range was.Gates {
		if old.Name == g.Name {
			g.Was = i + 1
		}
	}
	return g
}

// aimDoc is what counts as right, to be read.
func aimDoc(g shop.Gates) doc.Doc {
	x := g.Aim.Typed()
	table := doc.Table{Columns: []doc.Column{{Head: "What"}, {Head: "As typed"}}}
	for _, f := range x.Fields() {
		if *f.To != "" {
			table.Rows = append(table.Rows, []string{aimLabel(f), aimSaid(f)})
		}
	}
	if x.Strikes {
		table.Rows = append(table.Rows, []string{"Its strike is counted", "yes"})
	}
	list := doc.Table{Caption: "Gates", Columns: []doc.Column{{Head: "Gate"}, {Head: "Days"}, {Head: "Readings, at least"}, {Head: "Longest without one, days"}}}
	for _, gate := range x.Gates {
		list.Rows = append(list.Rows, []string{gate.Name, gate.Days, gate.Least, gate.Gap})
	}
	d := doc.Doc{Title: "What counts as right, " + g.Clock.Number, Sections: []doc.Section{{Body: []doc.Block{table, list}}}}
	if !g.Said {
		d.Lead = "Nothing was said for this clock: this is what is common. " + trial.PresetWords
	}
	return d
}
