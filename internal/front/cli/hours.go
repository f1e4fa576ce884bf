package cli

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/book/work"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// hoursCommand lists hours, and has the commands that write them down.
func hoursCommand(env Env) *cobra.Command {
	var week string
	var p printing
	cmd := &cobra.Command{
		Use: "hours [NUMBER]", Short: "Hours of the shop by day and person, or of a clock by task", Args: someArgs(0, 1, ""),
		Example: "  seatboard hours\n      of this week, and what is running\n  seatboard hours 2026-014\n      of one clock, by chapter and task",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				if len(args) == 1 {
					return clockHours(ctx, cmd, env, s, args[0], p)
				}
				return weekHours(ctx, cmd, env, s, week, p)
			})
		},
	}
	cmd.Flags().StringVar(&week, "week", "", "a day of the week to list, such as 2026-11-25; this week where it is not given")
	p.flags(cmd)
	cmd.AddCommand(startCommand(env), stopCommand(env), workCommand(env))
	return cmd
}

func clockHours(ctx context.Context, cmd *cobra.Command, env Env, s *shop.Shop, number string, p printing) error {
	c, err := byNumber(ctx, s, number)
	if err != nil {
		return err
	}
	h, err := s.Hours(ctx, c.ID)
	if err != nil {
		return err
	}
	if asJSON(cmd) {
		return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "hours": wireOf(h.Work), "total_s": h.Sums.Total.Seconds()})
	}
	d := present.Hours(c.Number, h.Sums)
	if len(h.Work) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Stretch by stretch", Body: []doc.Block{workTable(s, h.Work)}})
	}
	return p.write(ctx, env, s, d, shop.Foot(h.Clock))
}

func weekHours(ctx context.Context, cmd *cobra.Command, env Env, s *shop.Shop, day string, p printing) error {
	at := s.Now()
	if day != "" {
		d, err := time.ParseInLocation(time.DateOnly, day, s.Zone())
		if err != nil {
			return usagef("--week wants a day such as %s, not %q", at.Format(time.DateOnly), day)
		}
		at = d
	}
	week, err := s.Week(ctx, at)
	if err != nil {
		return err
	}
	open, err := s.OpenWork(ctx)
	if err != nil {
		return err
	}
	var all []shop.Work
	for _, d := range week.Days {
		all = append(all, d.Work...)
	}
	monday := week.Monday.Format(time.DateOnly)
	if asJSON(cmd) {
		return jsonout.Write(env.Out, map[string]any{"week": monday, "hours": wireOf(all), "total_s": week.Total.Seconds(), "open": wireOf(open)})
	}
	d := doc.Doc{Title: "Hours of the week from " + monday}
	if len(open) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Under way", Body: []doc.Block{workTable(s, open)}})
	}
	body := []doc.Block{doc.Say{Text: "No hours are written down in this week."}}
	if len(all) > 0 {
		body = []doc.Block{doc.Say{Text: work.Clocked(week.Total) + " hours."}, workTable(s, all)}
	}
	d.Sections = append(d.Sections, doc.Section{Heading: "By day and person", Body: body})
	return p.write(ctx, env, s, d, "")
}

func workTable(s *shop.Shop, all []shop.Work) doc.Table {
	t := doc.Table{Columns: []doc.Column{{Head: "When"}, {Head: "Hours", Number: true}, {Head: "Who"}, {Head: "For"}}}
	for _, w := range all {
		when := w.Day(s.Zone())
		if !w.DayOnly {
			when += " " + w.Typed(s.Zone())
		}
		t.Rows = append(t.Rows, []string{when, present.Clocked(w.Stretch, s.WorkRule(), s.Now()), w.Who, w.Words()})
	}
	return t
}

// workWire is a stretch as it is written for programs.
type workWire struct {
	work.Stretch
	Seconds float64 `json:"seconds"` // 0 while it runs
	Asked   string  `json:"asked"`   // why its true end is asked for, "" where it is not
}

func wireOf(all []shop.Work) []workWire {
	out := []workWire{}
	for _, w := range all {
		x := workWire{Stretch: w.Stretch, Seconds: w.Length().Seconds()}
		if w.Question != nil {
			x.Asked = w.Question.Text
		}
		out = append(out, x)
	}
	return out
}

func startCommand(env Env) *cobra.Command {
	var chapter, task string
	var over bool
	cmd := &cobra.Command{
		Use: "start [NUMBER]", Short: "Begin work, on a clock or on none yet", Args: someArgs(0, 1, ""),
		Example: "  seatboard hours start 2026-014 --task pivots\n      it runs until it is stopped, on this computer or on the page\n  seatboard hours start\n      what it is for may follow",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				clock := int64(0)
				if len(args) == 1 {
					c, err := byNumber(ctx, s, args[0])
					if err != nil {
						return err
					}
					clock = c.ID
				}
				w, err := s.StartWork(ctx, who(), clock, strings.TrimSpace(chapter), strings.TrimSpace(task), over)
				return wrote(cmd, env, w, err, "Work has begun: "+w.Words())
			})
		},
	}
	cmd.Flags().StringVar(&chapter, "chapter", "", "chapter of the work, such as Movement")
	cmd.Flags().StringVar(&task, "task", "", "task, in the words of the estimate where there is one")
	cmd.Flags().BoolVar(&over, "change", false, "stop what is running for you first")
	return cmd
}

// wrote says what was written down.
func wrote(cmd *cobra.Command, env Env, w shop.Work, err error, words string) error {
	if err != nil {
		return err
	}
	if asJSON(cmd) {
		return jsonout.Write(env.Out, wireOf([]shop.Work{w})[0])
	}
	_, err = fmt.Fprintln(env.Out, words+".")
	return err
}

func stopCommand(env Env) *cobra.Command {
	var end string
	cmd := &cobra.Command{
		Use: "stop", Short: "Stop what is running for you", Args: noArgs,
		Example: "  seatboard hours stop\n      now\n  seatboard hours stop --end 17:30\n      of what was forgotten: the true end, on the day it began or the night after",
		RunE: func(cmd *cobra.Command, _ []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				open, err := s.OpenWork(ctx)
				if err != nil {
					return err
				}
				w, ok := shop.RunningOf(open, who())
				switch {
				case !ok:
					return &shop.Problem{Code: shop.NotFound, Message: "No work is running for " + who() + ".", Hint: "seatboard hours lists what is under way."}
				case end != "":
					w, err = s.AnswerWork(ctx, who(), w.ClockID, w.N, w.Entry, end)
				case w.Question != nil:
					return &shop.Problem{Code: shop.BadInput, Message: w.Question.Text, Hint: "Say it with --end, such as --end 17:30. Nothing was stopped or cut short."}
				default:
					w, err = s.StopWork(ctx, who(), w.ClockID, w.N)
				}
				return wrote(cmd, env, w, err, "Stopped: "+w.Words()+", "+work.Clocked(w.Length())+" h")
			})
		},
	}
	cmd.Flags().StringVar(&end, "end", "", "the true end, such as 17:30")
	return cmd
}

func workCommand(env Env) *cobra.Command {
	var ask shop.WorkAsk
	cmd := &cobra.Command{
		Use: "add SPAN", Short: "Write hours down by hand", Args: oneArg("how long, such as 1:30 or 1.5 h, or from–to, such as 9:15–11:40"),
		Example: "  seatboard hours add 1:30 --clock 2026-014 --task pivots\n      an hour and a half, today\n  seatboard hours add 9:15-11:40 --day 2026-11-25\n      from–to, for no clock yet",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				ask.Span = args[0]
				if ask.Who == "" {
					ask.Who = who()
				}
				w, err := s.AddWork(ctx, who(), ask)
				return wrote(cmd, env, w, err, "Written down: "+work.Clocked(w.Length())+" h, "+w.Words())
			})
		},
	}
	cmd.Flags().StringVar(&ask.Clock, "clock", "", "number of the clock; none yet where it is not given")
	cmd.Flags().StringVar(&ask.Chapter, "chapter", "", "chapter of the work, such as Movement")
	cmd.Flags().StringVar(&ask.Task, "task", "", "task, in the words of the estimate where there is one")
	cmd.Flags().StringVar(&ask.Note, "note", "", "a note")
	cmd.Flags().StringVar(&ask.Day, "day", "", "the day it began; today where it is not given")
	cmd.Flags().StringVar(&ask.Who, "who", "", "who worked; you where it is not given")
	return cmd
}
