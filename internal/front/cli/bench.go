package cli

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/paper/text"
	"seatboard/internal/shop"
)

// say writes a document as text.
func say(env Env, d doc.Doc) error {
	_, err := io.WriteString(env.Out, strings.TrimLeft(text.Render(d, text.Options{Width: env.Width, Colour: env.Terminal}), "\n"))
	return err
}

func todayCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use: "today", Short: "What needs a hand now: baths, forgotten hours, clocks on trial, promises, the clocks by stage", Args: noArgs,
		Example: "  seatboard today\n      the most urgent first\n  seatboard today --json\n      for programs",
		RunE: func(cmd *cobra.Command, _ []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				t, err := s.Today(ctx)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, todayAsJSON(t))
				}
				return say(env, todayDoc(t))
			})
		},
	}
}

// todayAsJSON is what needs a hand, for programs.
func todayAsJSON(t shop.Today) map[string]any {
	needs, promised, stages := []map[string]any{}, []map[string]any{}, []map[string]any{}
	for _, n := range t.Needs {
		x := map[string]any{"name": n.Name, "about": n.About, "words": n.Words, "late": n.Late}
		if n.Bath != nil {
			x["bath"] = n.Bath.ID
		}
		needs = append(needs, x)
	}
	for _, p := range t.Promised {
		promised = append(promised, map[string]any{"number": p.Clock.Number, "promise": p.When, "words": p.Words, "late": p.Late})
	}
	for _, st := range t.Stages {
		stages = append(stages, map[string]any{"stage": st.Stage, "clocks": st.Total})
	}
	return map[string]any{"needs": needs, "on_trial": triedAsJSON(t), "promised": promised, "low": append([]string{}, lowList(t).Items...), "stages": stages, "damage": append([]string{}, t.Damage...)}
}

func wantWords(x shop.OnTrial) []string {
	words := []string{}
	for _, w := range x.Wants {
		words = append(words, w.Words)
	}
	return words
}

func triedAsJSON(t shop.Today) []map[string]any {
	out := []map[string]any{}
	for _, x := range t.Trials {
		out = append(out, map[string]any{"number": x.Clock.Number, "rate": x.Rate, "going": x.Going, "gate": x.Gate, "wants": wantWords(x)})
	}
	return out
}

// todayDoc is what needs a hand, for people.
func todayDoc(t shop.Today) doc.Doc {
	d := doc.Doc{Title: "Today"}
	open := doc.Section{}
	for _, x := range t.Damage {
		open.Body = append(open.Body, doc.Notice{Kind: doc.CautionNotice, Title: "The records are damaged", Text: x + ".", Next: "Copy the shop’s folder away as it is, then restore the last backup into a new folder."})
	}
	if len(t.Needs)+len(t.Promised) == 0 {
		open.Body = append(open.Body, doc.Para{Text: "Nothing waits for a hand, and nothing is promised."})
	}
	if len(t.Needs) > 0 {
		table := doc.Table{Caption: "Wants a hand", Columns: []doc.Column{{Head: "What"}, {Head: "Time"}, {Head: "To do"}}}
		for _, n := range t.Needs {
			table.Rows = append(table.Rows, []string{n.Name, n.Words, n.About})
		}
		open.Body = append(open.Body, table)
	}
	if len(t.Trials) > 0 {
		table := doc.Table{Caption: "On trial", Columns: []doc.Column{{Head: "Clock"}, {Head: "Goes"}, {Head: "Gate"}, {Head: "Wants"}}}
		for _, x := range t.Trials {
			table.Rows = append(table.Rows, []string{x.Clock.Number, x.Going, x.Gate, strings.Join(wantWords(x), "; ")})
		}
		open.Body = append(open.Body, table)
	}
	if len(t.Promised) > 0 {
		table := doc.Table{Caption: "Promised", Columns: []doc.Column{{Head: "Clock"}, {Head: "What it is"}, {Head: "For"}, {Head: "That is"}}}
		for _, p := range t.Promised {
			table.Rows = append(table.Rows, []string{p.Clock.Number, p.Clock.Title, p.When, p.Words})
		}
		open.Body = append(open.Body, table)
	}
	if len(t.Low) > 0 {
		open.Body = append(open.Body, doc.Para{Text: "Low on the shelf:"}, lowList(t))
	}
	if len(t.Stages) > 0 {
		table := doc.Table{Caption: "In the house", Columns: []doc.Column{{Head: "Stage"}, {Head: "Clocks", Number: true}}}
		for _, st := range t.Stages {
			table.Rows = append(table.Rows, []string{st.Stage.Words(), fmt.Sprint(st.Total)})
		}
		open.Body = append(open.Body, table)
	}
	d.Sections = []doc.Section{open}
	return d
}

// lowList is what is low on the shelf, a line each.
func lowList(t shop.Today) (l doc.List) {
	for _, f := range t.Low {
		l.Items = append(l.Items, f.Text+" "+f.Next)
	}
	return l
}

// hurting is the cautions of the parts that have any.
type hurting = map[parts.Number][]clean.Hazard

// ledgerCommand is a command that shows something of a clock's ledger.
func ledgerCommand(env Env, cmd *cobra.Command, show func(shop.TakeDown, hurting) doc.Doc, forPrograms func(shop.TakeDown, hurting) map[string]any) *cobra.Command {
	var p printing
	cmd.Args = oneArg("the number of the clock")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
			c, err := byNumber(ctx, s, args[0])
			if err != nil {
				return err
			}
			t, err := s.TakeDown(ctx, c.ID)
			if err != nil {
				return err
			}
			if len(t.Damaged) > 0 {
				fmt.Fprintf(env.Err, "! The ledger is damaged; %s cannot be read and left out. Restore the shop from a backup.\n", counted(len(t.Damaged), "line"))
			}
			hurts, err := s.LedgerHazards(ctx, t)
			if err != nil {
				return err
			}
			if asJSON(cmd) {
				return jsonout.Write(env.Out, forPrograms(t, hurts))
			}
			return p.write(ctx, env, s, show(t, hurts), shop.Foot(t.Clock))
		})
	}
	p.flags(cmd)
	return cmd
}

// partLine is a part for programs.
type partLine struct {
	Number parts.Number `json:"number"`
	Whole  string       `json:"whole_number"`
	Name   string       `json:"name"`
	Pieces int          `json:"pieces"`
	State  parts.State  `json:"state"`
	Place  string       `json:"place"`
	Repair string       `json:"repair,omitempty"`
	Reason string       `json:"reason,omitempty"`
	Hurts  []string     `json:"cautions,omitempty"` // by their keys
}

func partLineOf(clock string, p parts.Part, hurts hurting) partLine {
	l := partLine{p.Number, p.Number.Of(clock), p.Name, p.Count, p.State, p.Place, p.Repair, p.Reason, nil}
	for _, h := range hurts[p.Number] {
		l.Hurts = append(l.Hurts, h.Key)
	}
	return l
}

func partsCommand(env Env) *cobra.Command {
	cmd := &cobra.Command{
		Use: "parts NUMBER", Short: "What was taken down from a clock, where each part is",
		Example: "  seatboard parts 2026-014\n      by number\n  seatboard parts 2026-014 --pdf parts.pdf\n      to print",
	}
	return ledgerCommand(env, cmd, func(t shop.TakeDown, hurts hurting) doc.Doc { return present.Parts(t.Clock.Number, t.Ledger, hurts) }, func(t shop.TakeDown, hurts hurting) map[string]any {
		lines := []partLine{}
		for _, p := range t.Ledger.Parts() {
			lines = append(lines, partLineOf(t.Clock.Number, p, hurts))
		}
		return map[string]any{"clock": t.Clock.Number, "parts": lines}
	})
}

func closeOutCommand(env Env) *cobra.Command {
	cmd := &cobra.Command{
		Use: "closeout NUMBER", Short: "What came off a clock against what went back",
		Example: "  seatboard closeout 2026-014\n      and whether the clock may go on trial\n  seatboard closeout 2026-014 --json\n      for programs",
	}
	return ledgerCommand(env, cmd, func(t shop.TakeDown, _ hurting) doc.Doc { return present.CloseOut(t.Clock.Number, t.Ledger) }, func(t shop.TakeDown, hurts hurting) map[string]any {
		c := t.Ledger.CloseOut()
		ready, _ := t.Ledger.ReadyForTrial()
		lines := []partLine{}
		for _, l := range c.Unexplained() {
			lines = append(lines, partLineOf(t.Clock.Number, l.Part, hurts))
		}
		return map[string]any{"clock": t.Clock.Number, "ready_for_trial": ready, "balances": c.Balances(), "came_off": c.CameOff, "made_new": c.New, "back_on": c.Back, "kept": c.Kept, "used_up": c.UsedUp, "elsewhere": c.Elsewhere, "unexplained": lines}
	})
}
