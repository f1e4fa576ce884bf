package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/front/desk"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/csv"
	"seatboard/internal/paper/dxf"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/text"
	"seatboard/internal/shop"
)

// maxInput bounds what is read from a file or standard input.
const maxInput = 1 << 20

// calculation makes the command of one calculation: its flags are the form's
// fields, and how its answer is written.
func calculation(env Env, c desk.Calculation) (*cobra.Command, *output) {
	use := c.Name
	if c.Arg != "" {
		use += " [" + c.Arg + "]"
	}
	cmd := &cobra.Command{Use: use, Short: c.Title + ": " + gist(c.Lead), Long: c.Lead, Example: examples(c)}
	typed := typedFlags(cmd.Flags(), c.Begin().Form)
	for _, f := range c.Begin().Form.Fields() {
		completeChoice(cmd, f)
	}
	out, keep := outputFlags(cmd.Flags(), c.Draws), keepFlags(cmd.Flags())
	cmd.SetUsageFunc(func(cmd *cobra.Command) error { return usage(cmd, c) })
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		values, err := gather(env, c, typed, out, args)
		if err != nil {
			return err
		}
		if keep.clock != "" {
			values = c.Typed(values) // what is kept is what was worked out
		}
		o, err := worked(cmd, env, c, values)
		if err != nil {
			return err
		}
		if err := keep.put(cmd, env, c, values, o); err != nil {
			return err
		}
		asJSON, _ := cmd.Flags().GetBool("json")
		return out.write(env, o, asJSON)
	}
	return cmd, out
}

// worked works values out for as long as it takes. What takes long shows on a
// terminal how far it is, and Ctrl-C ends it with what it has.
func worked(cmd *cobra.Command, env Env, c desk.Calculation, values map[string][]string) (o desk.Outcome, err error) {
	s := c.Begin()
	if s.SoFar == nil {
		return s.Work(cmd.Context(), values)
	}
	ctx, stop := stoppable(cmd.Context())
	defer stop()
	err = watchedAs(env, func() string { return searched(s.SoFar()) }, func() (err error) {
		o, err = s.Work(ctx, values)
		return err
	})
	if o.Stopped {
		fmt.Fprintln(env.Err, "seatboard: stopped before its end; this is not complete, the best so far.")
	}
	return o, err
}

// searched is "Searching, 23 %, 81,313 found".
func searched(f desk.SoFar) string {
	s := "Searching"
	if f.Share > 0 {
		s += fmt.Sprintf(", %.0f %%", 100*f.Share)
	}
	return s + ", " + phrase.Counted(float64(f.Found)) + " found"
}

func examples(c desk.Calculation) string {
	var b strings.Builder
	for _, e := range c.Examples {
		fmt.Fprintf(&b, "  seatboard %s %s\n      %s\n", c.Name, e.Args, e.Says)
	}
	return strings.TrimRight(b.String(), "\n")
}

// typedFlags makes a flag of every field but the grids, which are for pages.
func typedFlags(flags *pflag.FlagSet, f form.Form) map[string]*[]string {
	typed := map[string]*[]string{}
	for _, fd := range f.Fields() {
		if fd.Kind == form.Grid {
			continue
		}
		v := new([]string)
		typed[fd.Name] = v
		flags.Var(&typedValue{v, fd.Kind}, fd.Name, fd.Label)
	}
	return typed
}

// typedValue keeps what was typed; the form parses it later, all at once.
type typedValue struct {
	to   *[]string
	kind form.Kind
}

func (v *typedValue) String() string { return "" }
func (v *typedValue) Type() string   { return "" }

func (v *typedValue) Set(s string) error {
	if v.kind == form.Area {
		*v.to = append(*v.to, s)
	} else {
		*v.to = []string{s}
	}
	return nil
}

func completeChoice(cmd *cobra.Command, f form.Field) {
	if f.Kind != form.Select {
		return
	}
	var words []cobra.Completion
	for _, o := range f.Options {
		words = append(words, cobra.CompletionWithDesc(o.Value, o.Label))
	}
	_ = cmd.RegisterFlagCompletionFunc(f.Name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)) // the flag exists
}

// gather puts together what the file, the flags and the arguments say.
func gather(env Env, c desk.Calculation, typed map[string]*[]string, out *output, args []string) (map[string][]string, error) {
	values, err := fromFile(env, out.from)
	if err != nil {
		return nil, err
	}
	for name, v := range typed {
		if len(*v) > 0 {
			values[name] = *v
		}
	}
	if len(args) == 0 {
		return values, nil
	}
	for _, f := range c.Begin().Form.Fields() {
		if !f.Arg {
			continue
		}
		if len(args) == 1 && (args[0] == "-" || f.File) {
			b, err := readNamed(env, args[0])
			values[f.Name] = []string{string(b)}
			return values, err
		}
		values[f.Name] = []string{strings.Join(args, " ")}
		return values, nil
	}
	return nil, usagef("%q is not wanted: %s takes its values by flags", args[0], c.Name)
}

// fromFile reads values as a JSON object of field names, from a file or -.
func fromFile(env Env, name string) (map[string][]string, error) {
	values := map[string][]string{}
	if name == "" {
		return values, nil
	}
	b, err := readNamed(env, name)
	if err != nil {
		return nil, err
	}
	var raw map[string]any
	if err := json.Unmarshal(b, &raw); err != nil {
		return nil, &shop.Problem{Code: shop.BadInput, Message: "The values are not a JSON object: " + err.Error() + ".", Hint: `Write it like {"length": "994 mm", "beats": "3600"}.`}
	}
	for k, v := range raw {
		list, ok := v.([]any)
		if !ok {
			list = []any{v}
		}
		for _, x := range list {
			if word := written(x); word != "" {
				values[k] = append(values[k], word)
			}
		}
	}
	return values, nil
}

// readNamed reads a file, or standard input for -.
func readNamed(env Env, name string) ([]byte, error) {
	if name == "-" {
		return readAll(env.In)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("The file %q cannot be read.", name), Hint: "Check its name."}
	}
	defer f.Close()
	return readAll(f)
}

// written is a JSON value as a person would type it: a quantity of an answer
// as its number, doubt and unit, null as nothing.
func written(v any) string {
	q, ok := v.(map[string]any)
	switch {
	case v == nil:
		return ""
	case !ok:
		return fmt.Sprint(v)
	case q["entered"] != nil:
		return fmt.Sprint(q["entered"])
	case q["value"] == nil:
		return fmt.Sprint(v)
	}
	s := fmt.Sprint(q["value"])
	if u := q["u"]; u != nil {
		s += " ± " + fmt.Sprint(u)
	}
	if unit, ok := q["unit"].(string); ok {
		s += " " + unit
	}
	return s
}

func readAll(r io.Reader) ([]byte, error) {
	b, err := io.ReadAll(io.LimitReader(r, maxInput+1))
	if err != nil {
		return nil, err
	}
	if len(b) > maxInput {
		return nil, &shop.Problem{Code: shop.TooLarge, Message: "More than 1 MB was given.", Hint: "Give one clock's values, not a collection."}
	}
	return b, nil
}

// output is how the answer is written.
type output struct {
	from, svg, figure string
	csv               string
	pdf               string
	dxf, drawing      string
	on                shop.Printer
	working           bool
	width             int
}

func outputFlags(flags *pflag.FlagSet, draws bool) *output {
	o := drawFlags(flags)
	flags.StringVar(&o.csv, "csv", "", "write the numbers of the picture, or the log, as CSV to a file, or - for standard output")
	if draws {
		flags.StringVar(&o.dxf, "dxf", "", "write the drawing at true size as DXF to a file, or - for standard output")
		flags.StringVar(&o.drawing, "drawing", "", "which drawing, where there are several; --svg and --pdf then write it alone, at true size")
		flags.StringVar(&o.on.BarAcross, "bar-across", "", "what the bar of 100 mm across measured on paper: the drawing is corrected for that printer")
		flags.StringVar(&o.on.BarDown, "bar-down", "", "likewise the bar down")
	}
	flags.StringVar(&o.from, "from", "", "read values from a JSON file of field names, or - for standard input")
	return o
}

// drawFlags are those of them that a command without a form has too.
func drawFlags(flags *pflag.FlagSet) *output {
	o := &output{}
	flags.BoolVar(&o.working, "working", false, "show the sums with their sources")
	flags.StringVar(&o.svg, "svg", "", "write the picture to a file, or - for standard output")
	flags.StringVar(&o.pdf, "pdf", "", "write all of it as PDF to a file, or - for standard output")
	flags.StringVar(&o.on.Paper, "paper", shop.Papers()[0], "paper of the PDF: A4 or Letter")
	flags.StringVar(&o.figure, "figure", "", "which picture, where there are several")
	flags.IntVar(&o.width, "width", 0, "characters on a line")
	return o
}

func (o *output) write(env Env, out desk.Outcome, asJSON bool) error {
	if o.csv != "" {
		if err := o.table(env, out); err != nil {
			return err
		}
	}
	if done, err := o.files(env, out.Doc); done || err != nil || o.csv == "-" {
		return err
	}
	if asJSON {
		return jsonout.Write(env.Out, out.Answer)
	}
	return o.print(env, out.Doc)
}

// files writes the picture and the PDF that are asked for; done is true where
// one of them was the output.
func (o *output) files(env Env, d doc.Doc) (done bool, err error) {
	if o.svg != "" {
		if err := o.draw(env, d); err != nil {
			return false, err
		}
	}
	if o.dxf != "" {
		one, err := o.chosen(d)
		if err != nil {
			return false, err
		}
		b, err := dxf.File(one)
		if err != nil {
			return false, err
		}
		if err := writeWhole(env, o.dxf, b); err != nil {
			return false, err
		}
	}
	if o.pdf != "" {
		b, err := o.printed(d)
		if err != nil {
			return false, err
		}
		if err := writeWhole(env, o.pdf, b); err != nil {
			return false, err
		}
	}
	return o.svg == "-" || o.pdf == "-" || o.dxf == "-", nil
}

// print sets a document for a terminal.
func (o *output) print(env Env, d doc.Doc) error {
	width := o.width
	if width == 0 {
		width = min(max(env.Width, 40), 100)
	}
	_, err := io.WriteString(env.Out, text.Render(d, text.Options{Width: width, Working: o.working, Colour: env.Terminal}))
	return err
}

// table writes the log of an answer, or the numbers of the chosen figure.
func (o *output) table(env Env, out desk.Outcome) error {
	var t *doc.Table
	if out.Log != nil && o.figure == "" {
		log := out.Log()
		t = &log
	}
	for _, f := range out.Doc.Figures() {
		if t == nil && (o.figure == f.Name || o.figure == "") {
			t = f.Numbers
		}
	}
	if t == nil {
		return &shop.Problem{Code: shop.NotFound, Message: "There are no numbers of this yet.", Hint: "Give more values, or another --figure."}
	}
	return streamWhole(env, o.csv, func(w io.Writer) error { return csv.Write(w, *t) })
}
