package cli

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/book/bath"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// bathDeed is what is to be done with a batch, as it was typed.
type bathDeed struct {
	tick, seen, minutes, why string
	end, giveUp, back        bool
}

// change is the change of a batch; nil where it is only to be looked at.
func (d bathDeed) change() (*shop.BathChange, error) {
	var all []shop.BathChange
	if d.tick != "" {
		all = append(all, shop.BathChange{Kind: bath.Ticked, Step: d.tick, Words: d.seen})
	}
	if d.minutes != "" {
		in, err := shop.BathMinutes(d.minutes)
		if err != nil {
			return nil, err
		}
		all = append(all, shop.BathChange{Kind: bath.Moved, In: in, Words: d.why})
	}
	if d.end {
		all = append(all, shop.BathChange{Kind: bath.Closed})
	}
	if d.giveUp {
		all = append(all, shop.BathChange{Kind: bath.Abandoned, Words: d.why})
	}
	if d.back {
		all = append(all, shop.BathChange{Kind: bath.Undone})
	}
	switch len(all) {
	case 0:
		return nil, nil
	case 1:
		return &all[0], nil
	}
	return nil, usagef("one thing at a time: --tick, --minutes, --close, --give-up or --back")
}

func bathCommand(env Env) *cobra.Command {
	var d bathDeed
	cmd := &cobra.Command{
		Use: "bath [BATCH]", Short: "The baths under way, or one of them: tick its steps, close it; begin one",
		Long: "The baths under way, the most urgent first, or one of them by the beginning of its name (which may be left out where there is one only); its steps are ticked in their order, and then it is closed.\n" +
			"The alarm rings while Seatboard is open on this computer (seatboard serve). A command rings nothing by itself.",
		Example: "  seatboard bath\n      those under way\n  seatboard bath begin 2026-014 1 2.1 --liquid water\n      parts 1 and 2.1 go in now\n" +
			"  seatboard bath 4f2c --tick rinse\n      the rinse of the batch whose name begins so is done\n  seatboard bath 4f2c --close\n      all is ticked",
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			change, err := d.change()
			if err != nil {
				return err
			}
			if len(args) > 1 {
				return usagef("say one batch, by the beginning of its name")
			}
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				running, err := s.RunningBaths(ctx)
				if err != nil {
					return err
				}
				if len(args) == 0 && change == nil {
					if asJSON(cmd) {
						return jsonout.Write(env.Out, map[string]any{"baths": bathLines(running)})
					}
					return printBaths(env, running)
				}
				b, err := oneBath(ctx, s, running, args)
				if err == nil && change != nil {
					change.Seen = b.Entries
					b, err = s.ChangeBath(ctx, who(), b.ID, *change)
				}
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"baths": bathLines([]shop.Bath{b})})
				}
				return say(env, bathDoc(b))
			})
		},
	}
	f := cmd.Flags()
	f.StringVar(&d.tick, "tick", "", "the step that is done now: "+strings.Join(stepKeys(), ", "))
	f.StringVar(&d.seen, "seen", "", "what was seen, for the inspection")
	f.StringVar(&d.minutes, "minutes", "", "the parts come out in so many minutes from now")
	f.BoolVar(&d.end, "close", false, "all is ticked: close the batch")
	f.BoolVar(&d.giveUp, "give-up", false, "the batch is given up; --why says why, and where its parts are")
	f.StringVar(&d.why, "why", "", "why they stay in longer, or why the batch is given up")
	f.BoolVar(&d.back, "back", false, "take the last entry back")
	_ = cmd.RegisterFlagCompletionFunc("tick", cobra.FixedCompletions(stepKeys(), cobra.ShellCompDirectiveNoFileComp)) // the flag exists
	cmd.AddCommand(beginBathCommand(env))
	return cmd
}

// beginBathCommand judges a batch and begins it.
func beginBathCommand(env Env) *cobra.Command {
	var ask shop.BathAsk
	var overrule []string
	var judge bool
	cmd := &cobra.Command{
		Use: "begin NUMBER PART…", Short: "Parts go into a bath now, where nothing forbids it",
		Long: "Parts of a clock go into a bath now. It is judged first, from what each part is said to be made of and what can hurt on it: what is for the safety of people is refused for good;\n" +
			"any other refusal gives way to a reason of its own (--overrule), which stays in the record.",
		Example: "  seatboard bath begin 2026-014 1 2.1 --liquid water --jar 'blue jar' --time '10 min'\n      as long as is said\n  seatboard bath begin 2026-014 3 --liquid alcohol --judge\n      may it go in? Nothing is begun\n" +
			"  seatboard bath begin 2026-014 1 --liquid brass-liquid --no-flash yes --overrule 'material=dipped for a minute and rinsed at once'\n      all the same",
	}
	fields := form.Bath(&ask.Query)
	typed := typedFlags(cmd.Flags(), fields)
	for _, f := range fields.Fields() {
		completeChoice(cmd, f)
	}
	cmd.Flags().StringVar(&ask.Jar, "jar", "", "which bath: the jar or tank, as you call it")
	cmd.Flags().StringArrayVar(&overrule, "overrule", nil, "CODE=WHY: the code of a refusal, and why it is done all the same")
	cmd.Flags().BoolVar(&judge, "judge", false, "only say whether they may go in")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) < 2 {
			return usagef("say the clock and the parts that go into the bath")
		}
		faults := readBath(&ask, fields, typed, args, overrule)
		return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
			c, err := byNumber(ctx, s, args[0])
			if err != nil {
				return err
			}
			if len(faults) > 0 {
				return faults
			}
			if judge {
				a, err := s.JudgeBath(ctx, c.ID, ask)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, a)
				}
				return say(env, present.Clean(a))
			}
			return beginBath(ctx, cmd, env, s, c.ID, ask)
		})
	}
	return cmd
}

// readBath reads what was typed; the faults are all that cannot be.
func readBath(ask *shop.BathAsk, fields form.Form, typed map[string]*[]string, args, overrule []string) meas.Faults {
	values := map[string][]string{}
	for name, v := range typed {
		if len(*v) > 0 {
			values[name] = *v
		}
	}
	faults := fields.Fill(values)
	for _, text := range args[1:] {
		n, err := parts.ParseNumber(args[0], text)
		if err != nil {
			faults = append(faults, meas.Fault{Text: fmt.Sprintf("“%s” is no part: %s", text, err)})
		}
		ask.Parts = append(ask.Parts, n)
	}
	ask.Overruled = map[string]string{}
	for _, o := range overrule {
		code, why, ok := strings.Cut(o, "=")
		if !ok || strings.TrimSpace(why) == "" {
			faults = append(faults, meas.Fault{Field: "overrule", Text: fmt.Sprintf("Write it like material=WHY; “%s” gives no reason", o)})
		}
		ask.Overruled[strings.TrimSpace(code)] = strings.TrimSpace(why)
	}
	return faults
}

func beginBath(ctx context.Context, cmd *cobra.Command, env Env, s *shop.Shop, clock int64, ask shop.BathAsk) error {
	id, a, err := s.BeginBath(ctx, who(), clock, ask)
	if err != nil {
		return refusedBath(a, err)
	}
	b, err := s.Bath(ctx, id)
	if err != nil {
		return err
	}
	if asJSON(cmd) {
		return jsonout.Write(env.Out, map[string]any{"baths": bathLines([]shop.Bath{b}), "answer": a})
	}
	d := bathDoc(b)
	d.Sections = append(d.Sections, present.Clean(a).Sections...)
	return say(env, d)
}

// refusedBath says beside a refusal that gives way how a reason is written; any
// other stands by itself.
func refusedBath(a clean.Answer, err error) error {
	p := shop.AsProblem(err)
	if a.Verdict == "" || len(p.Fields) == 0 {
		return err
	}
	refused := *p
	refused.Message, refused.Fields = "They must not go in so; nothing was begun.", slices.Clone(p.Fields)
	for i, f := range refused.Fields {
		gives := slices.ContainsFunc(a.Refusals, func(r clean.Refusal) bool { return !r.Hard && r.Finding.Code == f.Field })
		refused.Fields[i].Field = ""
		if gives {
			refused.Fields[i].Field = "overrule " + f.Field + "=WHY"
		}
	}
	return &refused
}

func stepKeys() []string {
	var out []string
	for _, s := range clean.Steps() {
		out = append(out, s.Key)
	}
	return out
}

// oneBath finds the batch under way whose name begins so, or any by its whole
// name; without a name, the one that is under way.
func oneBath(ctx context.Context, s *shop.Shop, running []shop.Bath, names []string) (shop.Bath, error) {
	name := strings.ToLower(strings.Join(names, ""))
	if name == "" && len(running) != 1 {
		return shop.Bath{}, usagef("say one batch, by the beginning of its name; %d are under way", len(running))
	}
	var found []shop.Bath
	for _, b := range running {
		if strings.HasPrefix(b.ID, name) {
			found = append(found, b)
		}
	}
	switch {
	case len(found) == 0:
		if b, err := s.Bath(ctx, name); err == nil {
			return b, nil
		}
		return shop.Bath{}, &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("No batch under way is named %q.", name), Hint: "seatboard bath lists them; one that is over goes by its whole name."}
	case len(found) > 1:
		return shop.Bath{}, &shop.Problem{Code: shop.BadInput, Message: fmt.Sprintf("%d batches begin so.", len(found)), Fields: meas.Faults{{Text: "Write more of the name"}}}
	case found[0].Damaged != "":
		return shop.Bath{}, &shop.Problem{Code: shop.Storage, Message: found[0].Damaged, Hint: "Restore the shop from a backup."}
	}
	return found[0], nil
}

// bathLine is a batch for programs.
type bathLine struct {
	ID        string            `json:"id"`
	Clock     string            `json:"clock"`
	Jar       string            `json:"jar"`
	Parts     []string          `json:"parts"` // by whole number
	Next      string            `json:"next"`  // step to be ticked, "" where all are
	Until     time.Time         `json:"until"` // end of the bath
	Seconds   int               `json:"seconds_left"`
	In        bool              `json:"in_liquid"`
	Ticks     []tickLine        `json:"ticks"` // steps that are done
	Overruled map[string]string `json:"overruled,omitempty"`
	Ended     bool              `json:"ended"`
	GivenUp   string            `json:"given_up,omitempty"` // why
	Damaged   bool              `json:"damaged"`
}

type tickLine struct {
	Step string    `json:"step"`
	At   time.Time `json:"at"`
	Who  string    `json:"who"`
	Seen string    `json:"seen"`
}

func bathLines(all []shop.Bath) []bathLine {
	out := []bathLine{}
	for _, b := range all {
		l := bathLine{ID: b.ID, Clock: b.Clock.Number, Jar: b.Jar, Until: b.Until, Damaged: b.Damaged != "", Parts: []string{}, Ticks: []tickLine{}, Overruled: b.Overruled}
		if !l.Damaged {
			step, _ := b.Next()
			l.Next, l.Seconds, l.In = step.Key, int(b.Remains/time.Second), b.InLiquid()
			l.Ended, l.GivenUp = b.Ended(), b.Abandoned
		}
		for _, p := range b.Asked.Pieces {
			l.Parts = append(l.Parts, p.Number)
		}
		for _, t := range b.Ticks {
			l.Ticks = append(l.Ticks, tickLine{t.Step, t.At, t.Who, t.Seen})
		}
		out = append(out, l)
	}
	return out
}

// shortBath is as much of a batch's name as tells it from others.
func shortBath(b shop.Bath) string { return b.ID[:min(6, len(b.ID))] }

// bathDoc is one batch, for people.
func bathDoc(b shop.Bath) doc.Doc {
	d := doc.Doc{Title: "Bath", Lead: strings.TrimSpace(shortBath(b) + ", " + b.Clock.Number + " " + b.Jar)}
	open := doc.Section{Body: []doc.Block{doc.Say{Text: bathWords(b)}}}
	steps := doc.Table{Columns: []doc.Column{{Head: "Step"}, {Head: "Done"}, {Head: "By"}, {Head: "Seen"}}}
	for i, s := range clean.Steps() {
		row := []string{s.Name, "", "", ""}
		if i < len(b.Ticks) {
			t := b.Ticks[i]
			row = []string{s.Name, t.At.Local().Format("15:04"), t.Who, t.Seen}
		}
		steps.Rows = append(steps.Rows, row)
	}
	in := doc.List{}
	for _, p := range b.Asked.Pieces {
		in.Items = append(in.Items, strings.TrimSpace(p.Number+" "+p.Name))
	}
	open.Body = append(open.Body, steps, doc.Para{Text: "In it:"}, in)
	for i, text := range b.Refused {
		open.Body = append(open.Body, doc.Notice{Kind: doc.ClashNotice, Title: "Overruled", Text: text})
		if i == len(b.Refused)-1 {
			for _, code := range slices.Sorted(maps.Keys(b.Overruled)) {
				open.Body = append(open.Body, doc.Para{Text: "Why it was done all the same: " + b.Overruled[code]})
			}
		}
	}
	if b.InLiquid() {
		open.Body = append(open.Body, doc.Para{Text: "The alarm rings while Seatboard is open on this computer (seatboard serve); a command rings nothing by itself."})
	}
	d.Sections = []doc.Section{open}
	return d
}

// bathWords is how a batch stands, and what is to be done next.
func bathWords(b shop.Bath) string {
	step, open := b.Next()
	switch {
	case b.Abandoned != "":
		return "Given up: " + b.Abandoned
	case b.Ended():
		return "Closed at " + b.Closed.Local().Format("15:04 on 2006-01-02") + "."
	case b.InLiquid():
		return fmt.Sprintf("In since %s, to come out at %s: %s. Then: seatboard bath %s --tick %s", b.Began.Local().Format("15:04"), b.Until.Local().Format("15:04"), shop.Minutes(b.Remains), shortBath(b), step.Key)
	case open:
		return fmt.Sprintf("%s: %s Then: seatboard bath %s --tick %s", step.Name, step.What, shortBath(b), step.Key)
	}
	return fmt.Sprintf("All is ticked. Then: seatboard bath %s --close", shortBath(b))
}

func printBaths(env Env, all []shop.Bath) error {
	if len(all) == 0 {
		_, err := fmt.Fprintln(env.Out, "No bath is under way.")
		return err
	}
	t := doc.Table{Columns: []doc.Column{{Head: "Batch"}, {Head: "Clock and jar"}, {Head: "Time"}, {Head: "To be ticked"}}}
	for _, b := range all {
		left, next := "out", "all is ticked; close it"
		step, open := b.Next()
		switch {
		case b.Damaged != "":
			left, next = "damaged", "look at the jar now"
		case open:
			next = step.Key
		}
		if b.Damaged == "" && b.InLiquid() {
			left = shop.Minutes(b.Remains)
		}
		t.Rows = append(t.Rows, []string{shortBath(b), strings.TrimSpace(b.Clock.Number + " " + b.Jar), left, next})
	}
	return say(env, doc.Doc{Sections: []doc.Section{{Body: []doc.Block{t}}}})
}
