package cli

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/book/trial/table"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/progress"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// readingsCommand lists the readings of a clock on trial, and has the command
// that brings in a table of them.
func readingsCommand(env Env) *cobra.Command {
	var asCSV bool
	var to string
	cmd := &cobra.Command{
		Use: "readings NUMBER", Short: "The readings of a clock on trial, or a table of them brought in", Args: oneArg("the number of the clock"),
		Example: "  seatboard readings 2026-014\n      as text\n  seatboard readings 2026-014 --csv -o readings.csv\n      readings, touches and air as one table, in UTC, which readings import takes again",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				t, err := s.Trial(ctx, c.ID)
				if err != nil {
					return err
				}
				switch {
				case asJSON(cmd):
					return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "readings": t.Query.Readings, "touches": t.Query.Touches, "air": t.Query.Air})
				case asCSV:
					return streamWhole(env, to, func(w io.Writer) error { return table.Write(w, *t.Query) })
				}
				return printDoc(env, doc.Doc{Title: c.Number + ", readings", Sections: []doc.Section{{Body: []doc.Block{readingsTable(t.Query.Readings, s.Zone())}}}})
			})
		},
	}
	cmd.Flags().BoolVar(&asCSV, "csv", false, "as a table for a spreadsheet")
	cmd.Flags().StringVarP(&to, "output", "o", "-", "file to write, - for standard output; with --csv")
	cmd.AddCommand(bringReadings(env))
	return cmd
}

func readingsTable(all []regulate.Reading, zone *time.Location) doc.Table {
	t := doc.Table{Columns: []doc.Column{{Head: "Time"}, {Head: "Error", Unit: "s", Number: true}, {Head: "Rate", Unit: "s/d", Number: true}, {Head: "Doubt", Number: true}, {Head: "How"}, {Head: "Weight"}}}
	for _, r := range all {
		row := []string{r.At.In(zone).Format("2006-01-02 15:04:05"), unit.Number(float64(r.Error), 2), "", unit.Number(r.U, 2), string(r.How), "counts"}
		if !r.From.IsZero() {
			row[0] = r.From.In(zone).Format("2006-01-02 15:04") + " to " + r.At.In(zone).Format("2006-01-02 15:04")
			row[1], row[2], row[3] = "", unit.Number(r.Rate.PerDay(), 3), unit.Number(r.U*86400, 3)
		}
		if r.U == 0 {
			row[3] = ""
		}
		if r.Out {
			row[5] = "put aside"
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// bringing is what is said of a table on the command line.
type bringing struct {
	columns     []string
	dates, zone string
	look        bool
}

// bringReadings brings in a table.
func bringReadings(env Env) *cobra.Command {
	var b bringing
	cmd := &cobra.Command{
		Use: "import NUMBER FILE", Short: "Bring in readings from a CSV file", Args: someArgs(2, 2, "the number of the clock, and the file, or - for standard input"),
		Long: "Bring in readings, air and touches from a CSV file, all of it or nothing.\n" +
			"What the columns mean is guessed from their headings; --look shows the guess and brings in nothing. What the file does not tell is asked.\n" +
			"A column means one of: " + meanings() + ".",
		Example: "  seatboard readings import 2026-014 old.csv --look\n      how it would be read\n  seatboard readings import 2026-014 old.csv --map 'temp_F=temperature °F' --map 5=skip --zone UTC",
		RunE: func(cmd *cobra.Command, args []string) error {
			in, name, err := tableFile(env, args[1])
			if err != nil {
				return err
			}
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error { return b.run(ctx, cmd, env, s, args[0], name, in) })
		},
	}
	cmd.Flags().StringArrayVar(&b.columns, "map", nil, "what a column means, by its heading or number: 'temp_F=temperature °F', 5=skip; as often as needed")
	cmd.Flags().StringVar(&b.dates, "dates", "", "how days are written: "+orders())
	cmd.Flags().StringVar(&b.zone, "zone", "local", "zone of times that name none: local, UTC, or like +01:00")
	cmd.Flags().BoolVar(&b.look, "look", false, "show how the file would be read, and bring in nothing")
	return cmd
}

func meanings() string {
	var out []string
	for _, c := range table.Meanings() {
		out = append(out, string(c.Meaning))
	}
	return strings.Join(out, ", ")
}

func orders() string {
	var out []string
	for _, o := range table.Orders() {
		out = append(out, string(o))
	}
	return strings.Join(out, ", ")
}

// tableFile reads a file, at most as much as a table may have and a byte.
func tableFile(env Env, path string) (content []byte, name string, err error) {
	in := env.In
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return nil, "", &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("The file %q cannot be read.", path), Hint: "Check its name."}
		}
		defer f.Close()
		in, name = f, filepath.Base(path)
	}
	content, err = io.ReadAll(io.LimitReader(in, table.MaxBytes+1))
	if name == "" {
		name = "standard input"
	}
	return content, name, err
}

func (b bringing) run(ctx context.Context, cmd *cobra.Command, env Env, s *shop.Shop, number, name string, content []byte) error {
	c, err := byNumber(ctx, s, number)
	if err != nil {
		return err
	}
	g, err := shop.LookTable(strings.NewReader(string(content)))
	if err != nil {
		return err
	}
	asked, err := b.settle(&g)
	if err != nil {
		return err
	}
	if b.look {
		if asJSON(cmd) {
			return jsonout.Write(env.Out, map[string]any{"columns": g.Plan.Columns, "names": g.Names, "dates": g.Plan.Dates, "zone": g.Plan.Zone, "heading": g.Plan.Heading, "rows_above": g.Plan.Above, "rows_of_units": g.Plan.Under, "decimal_comma": g.Plan.Comma, "separator": string(g.Plan.Separator), "asks": g.Asks})
		}
		return printDoc(env, lookedDoc(name, g))
	}
	if len(asked) > 0 {
		return &shop.Problem{Code: shop.BadInput, Message: "The file does not tell how it is to be read; nothing was brought in.", Fields: asked, Hint: "seatboard readings import NUMBER FILE --look shows how it would be read."}
	}
	var count progress.Counter
	count.Expect(int64(len(content)))
	var got table.Table
	err = watchedAs(env, func() string { d, t := count.Sample(); return fmt.Sprintf("%d of %d kB", d>>10, t>>10) }, func() (err error) {
		got, err = s.BringTable(ctx, who(), c.ID, name, strings.NewReader(string(content)), g.Plan, &count)
		return err
	})
	if err != nil {
		return err
	}
	if asJSON(cmd) {
		return jsonout.Write(env.Out, map[string]any{"clock": c.Number, "readings": len(got.Readings), "air": len(got.Air), "touches": len(got.Touches), "rows": got.Rows, "left_out": got.Left, "first": got.First, "last": got.Last})
	}
	_, err = fmt.Fprintf(env.Out, "%s: %s, from %s to %s.\n", c.Number, got.Words(), got.First.In(s.Zone()).Format(time.DateOnly), got.Last.In(s.Zone()).Format(time.DateOnly))
	return err
}

// settle puts what was said into a guess; asked is what is not settled.
func (b bringing) settle(g *table.Guess) (asked meas.Faults, err error) {
	said := map[string]bool{"dates": b.dates != ""}
	was := append([]table.Meaning(nil), g.Plan.Columns...)
	if f := g.Plan.Override(g.Names, b.columns); len(f) > 0 {
		return nil, f
	}
	for i := range was {
		said[fmt.Sprintf("column-%d", i+1)] = len(b.columns) > 0 && (was[i] != g.Plan.Columns[i] || named(b.columns, g.Names, i))
	}
	if b.dates != "" {
		g.Plan.Dates = table.Dates(b.dates)
		if !strings.Contains(", "+orders()+", ", ", "+b.dates+", ") {
			return nil, meas.Faults{{Field: "dates", Text: fmt.Sprintf("“%s” is no order of dates; write one of %s", b.dates, orders())}}
		}
	}
	g.Plan.Zone = b.zone
	for _, a := range g.Asks {
		if a.Level == meas.Doubt && !said[a.About[0]] {
			field, text := "dates", a.Text
			if column, ok := strings.CutPrefix(a.About[0], "column-"); ok {
				field, text = "map", "Column "+column+": "+a.Text
			}
			asked = append(asked, meas.Fault{Field: field, Text: text})
		}
	}
	return asked, nil
}

// named tells whether a column was named.
func named(columns, names []string, i int) bool {
	for _, c := range columns {
		head, _, _ := strings.Cut(c, "=")
		if strings.TrimSpace(head) == fmt.Sprint(i+1) || strings.EqualFold(strings.TrimSpace(head), strings.TrimSpace(names[i])) {
			return true
		}
	}
	return false
}

// lookedDoc is a guess to be read by people.
func lookedDoc(name string, g table.Guess) doc.Doc {
	t := doc.Table{Columns: []doc.Column{{Head: "Column"}, {Head: "Heading"}, {Head: "Means"}, {Head: "First rows"}}}
	for i, m := range g.Plan.Columns {
		var first []string
		for _, row := range g.Rows[:min(3, len(g.Rows))] {
			if i < len(row) {
				first = append(first, row[i])
			}
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), g.Names[i], string(m), strings.Join(first, " · ")})
	}
	body := []doc.Block{t, doc.Say{Text: "Dates: " + string(g.Plan.Dates) + ". Zone of times that name none: " + g.Plan.Zone + "."}}
	for _, a := range g.Asks {
		body = append(body, doc.Say{Text: a.Text})
	}
	return doc.Doc{Title: name, Sections: []doc.Section{{Body: body}}}
}
