package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/front/desk"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/paper/text"
	"seatboard/internal/shop"
)

// addShop adds the commands that work on the records.
func addShop(root *cobra.Command, env Env) {
	root.PersistentFlags().String("data", env.DataHome, "folder of the shop")
	serve := serveCommand(env)
	root.RunE = serve.RunE
	root.Flags().AddFlagSet(serve.Flags())
	root.Args = cobra.NoArgs
	root.AddCommand(listenCommand(env), serve, demoCommand(env), clocksCommand(env), addCommand(env), removeCommand(env), exportCommand(env), importCommand(env),
		receiptCommand(env), interventionsCommand(env), makingsCommand(env), storesCommand(env), hoursCommand(env), estimateCommand(env), labelsCommand(env), backupCommand(env), restoreCommand(env), checkCommand(env), sourcesCommand(env))
	root.AddCommand(todayCommand(env), partsCommand(env), readingsCommand(env), readingCommand(env), touchCommand(env), closeOutCommand(env), bathCommand(env))
	root.AddCommand(gatesCommand(env), platesCommand(env), remindersCommand(env))
}

// someArgs wants so many plain arguments; what says which.
func someArgs(least, most int, what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return usagef("say %s", what)
		case len(args) > most && most > 0:
			return usagef("%q is not wanted here; words that belong together stand in quotes", args[most])
		case len(args) > most:
			return usagef("%q is not wanted here", args[0])
		}
		return nil
	}
}

func noArgs(_ *cobra.Command, args []string) error { return someArgs(0, 0, "")(nil, args) }

// oneArg wants exactly one plain argument.
func oneArg(what string) cobra.PositionalArgs { return someArgs(1, 1, what) }

// openAnd opens the shop that --data names, does the work and closes it.
func openAnd(cmd *cobra.Command, env Env, do func(context.Context, *shop.Shop) error) error {
	dir, _ := cmd.Flags().GetString("data")
	if dir == "" {
		return usagef("say with --data where the shop is kept")
	}
	s, err := shop.Open(cmd.Context(), dir, time.Now)
	if err != nil {
		return err
	}
	defer s.Close()
	s.ReadSurveys(desk.ReadSurvey)
	return do(cmd.Context(), s)
}

// openBegun is openAnd of a shop that is there already: a folder with no shop
// is not looked through or backed up as an empty one.
func openBegun(cmd *cobra.Command, env Env, do func(context.Context, *shop.Shop) error) error {
	if dir, _ := cmd.Flags().GetString("data"); dir != "" && !shop.Begun(dir) {
		return &shop.Problem{Code: shop.NotFound, Message: "There is no shop in " + dir + ".", Hint: "Say with --data where it is kept."}
	}
	return openAnd(cmd, env, do)
}

func asJSON(cmd *cobra.Command) bool {
	on, _ := cmd.Flags().GetBool("json")
	return on
}

func clocksCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use: "clocks [WORDS]", Aliases: []string{"find"}, Short: "List the clocks, or find them and their parts by parts of words and numbers",
		Example: "  seatboard clocks\n      all, the one touched last first\n  seatboard clocks longcase 1785\n      those whose file has both\n  seatboard clocks third wheel\n      parts too: by name, by where they lie, by number, with a word of their clock",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				words := strings.Join(args, " ")
				all, err := findAll(ctx, s, words)
				if err != nil {
					return err
				}
				found, more, err := s.FindParts(ctx, words)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"clocks": all, "parts": foundLines(found), "more_parts": more})
				}
				return printFound(env, all, found, more)
			})
		},
	}
}

func findAll(ctx context.Context, s *shop.Shop, words string) ([]job.Summary, error) {
	all := []job.Summary{}
	after := ""
	for {
		l, err := s.Find(ctx, words, after)
		if err != nil {
			return nil, err
		}
		all = append(all, l.Clocks...)
		if after = l.After; after == "" {
			return all, nil
		}
	}
}

// foundLine is a part that was found, for programs.
type foundLine struct {
	Clock  string       `json:"clock"`
	Title  string       `json:"title"`
	Number parts.Number `json:"number"`
	Whole  string       `json:"whole_number"`
	Name   string       `json:"name"`
	Pieces int          `json:"pieces"`
	State  parts.State  `json:"state"`
	Place  string       `json:"place"`
}

func foundLines(found []shop.FoundPart) []foundLine {
	out := []foundLine{}
	for _, p := range found {
		out = append(out, foundLine{p.Clock, p.Title, p.Number, p.Whole(), p.Name, p.Count, p.State, p.Place})
	}
	return out
}

func printFound(env Env, all []job.Summary, found []shop.FoundPart, more bool) error {
	var body []doc.Block
	if len(all) > 0 {
		t := doc.Table{Columns: []doc.Column{{Head: "Number"}, {Head: "What it is"}, {Head: "Owner"}, {Head: "Where it is"}}}
		for _, c := range all {
			t.Rows = append(t.Rows, []string{c.Number, c.Title, c.Owner, c.Stage.Words()})
		}
		body = append(body, t)
	}
	if len(found) > 0 {
		t := doc.Table{Caption: "Parts", Columns: []doc.Column{{Head: "Number"}, {Head: "Part"}, {Head: "Where it lies"}, {Head: "How it stands"}, {Head: "Clock"}}}
		for _, p := range found {
			t.Rows = append(t.Rows, []string{p.Whole(), countedName(p.Count, p.Name), p.Place, p.State.Words(), p.Title})
		}
		body = append(body, t)
	}
	if more {
		body = append(body, doc.Para{Text: fmt.Sprintf("These are the first %d parts; with another word there are fewer.", len(found))})
	}
	if len(body) == 0 {
		_, err := fmt.Fprintln(env.Out, "Nothing was found.")
		return err
	}
	return say(env, doc.Doc{Sections: []doc.Section{{Body: body}}})
}

// countedName is a part's name behind its number of pieces, where it has
// several.
func countedName(n int, name string) string {
	if n == 1 {
		return name
	}
	return strings.TrimSpace(fmt.Sprintf("%d %s", n, name))
}

func addCommand(env Env) *cobra.Command {
	var c job.Clock
	cmd := &cobra.Command{
		Use: "add", Short: "Take a clock into the book", Args: noArgs,
		Example: "  seatboard add --title 'Longcase clock, eight-day' --owner 'the reading room'\n      with the next number\n  seatboard add --number 2026-014\n      the rest can follow",
		RunE: func(cmd *cobra.Command, _ []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				if c.Number == "" {
					n, err := s.NextNumber(ctx)
					if err != nil {
						return err
					}
					c.Number = n
				}
				kept, err := s.AddClock(ctx, who(), c)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"clock": kept.Summary()})
				}
				_, err = fmt.Fprintf(env.Out, "%s is in the book.\n", kept.Number)
				return err
			})
		},
	}
	cmd.Flags().StringVar(&c.Number, "number", "", "number in the shop; the next one where it is not given")
	cmd.Flags().StringVar(&c.Title, "title", "", "what it is, in a few words")
	cmd.Flags().StringVar(&c.Owner.Name, "owner", "", "whose it is")
	return cmd
}

func exportCommand(env Env) *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use: "export NUMBER", Short: "Write one clock's file as JSON", Args: oneArg("the number of the clock"),
		Example: "  seatboard export 2026-014\n      to standard output\n  seatboard export 2026-014 --to clock.json\n      to a file",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				var b bytes.Buffer
				if err := s.Export(ctx, c.ID, &b); err != nil {
					return err
				}
				return writeWhole(env, out, b.Bytes())
			})
		},
	}
	cmd.Flags().StringVar(&out, "to", "-", "file to write, - for standard output")
	return cmd
}

// byNumber finds the one clock with a number.
func byNumber(ctx context.Context, s *shop.Shop, number string) (job.Summary, error) {
	all, err := findAll(ctx, s, number)
	if err != nil {
		return job.Summary{}, err
	}
	for _, c := range all {
		if job.NumberKey(c.Number) == job.NumberKey(number) {
			return c, nil
		}
	}
	return job.Summary{}, &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("There is no clock %q in the book.", number), Hint: "seatboard clocks lists them."}
}

func importCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use: "import FILE", Short: "Take in a clock from its JSON file", Args: oneArg("the file, or - for standard input"),
		Example: "  seatboard import clock.json\n      with its history and what was listened to\n  seatboard import - < clock.json\n      the same",
		RunE: func(cmd *cobra.Command, args []string) error {
			in := env.In
			if args[0] != "-" {
				f, err := os.Open(args[0])
				if err != nil {
					return &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("The file %q cannot be read.", args[0]), Hint: "Check its name."}
				}
				defer f.Close()
				in = f
			}
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				got, err := s.Import(ctx, who(), in)
				if err != nil {
					return err
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]any{"clock": got.Clock.Summary(), "unread": got.Unread, "ended": got.Ended})
				}
				for _, sentence := range got.Ended {
					fmt.Fprintln(env.Err, sentence)
				}
				if len(got.Unread) > 0 {
					fmt.Fprintf(env.Err, "Not understood, and kept in the history as it stands there: %s.\n", strings.Join(got.Unread, ", "))
				}
				_, err = fmt.Fprintf(env.Out, "%s is in the book.\n", got.Clock.Number)
				return err
			})
		},
	}
}

func sourcesCommand(env Env) *cobra.Command {
	var validation, markdown bool
	cmd := &cobra.Command{
		Use: "sources", Short: "Where every constant is from, and printed figures beside ours", Args: noArgs,
		Example: "  seatboard sources\n      every constant and table\n  seatboard sources --validation\n      printed figures beside those worked out now",
		RunE: func(cmd *cobra.Command, _ []string) error {
			d := present.Sources(shop.Chapters())
			if validation {
				d = present.Validation(shop.Chapters())
			}
			if markdown {
				_, err := io.WriteString(env.Out, asMarkdown(d))
				return err
			}
			_, err := io.WriteString(env.Out, text.Render(d, text.Options{Width: env.Width, Colour: env.Terminal}))
			return err
		},
	}
	cmd.Flags().BoolVar(&validation, "validation", false, "printed figures beside ours")
	cmd.Flags().BoolVar(&markdown, "markdown", false, "write Markdown")
	return cmd
}

// asMarkdown sets the tables of a document for docs/.
func asMarkdown(d doc.Doc) string {
	var b strings.Builder
	cell := strings.NewReplacer("|", `\|`, "\n", " ")
	fmt.Fprintf(&b, "# %s\n\nWritten by `go generate ./...`; do not edit.\n\n%s\n", d.Title, d.Lead)
	for _, s := range d.Sections {
		fmt.Fprintf(&b, "\n## %s\n", s.Heading)
		for _, x := range s.Body {
			t, ok := x.(doc.Table)
			if !ok {
				continue
			}
			b.WriteString("\n|")
			for _, c := range t.Columns {
				b.WriteString(" " + cell.Replace(c.Head) + " |")
			}
			b.WriteString("\n|" + strings.Repeat("---|", len(t.Columns)) + "\n")
			for _, r := range t.Rows {
				b.WriteString("|")
				for _, x := range r {
					b.WriteString(" " + cell.Replace(x) + " |")
				}
				b.WriteString("\n")
			}
		}
	}
	return b.String()
}
