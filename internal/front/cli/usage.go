package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"seatboard/internal/front/desk"
	"seatboard/internal/front/form"
)

// usage prints the help of a calculation: its fields under their legends,
// with units and choices, then how the answer is written.
func usage(cmd *cobra.Command, c desk.Calculation) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Usage:\n  %s\n", cmd.UseLine())
	fmt.Fprintf(&b, "\nExamples:\n%s\n", cmd.Example)
	fm := c.Begin().Form
	width := 0
	for _, f := range fm.Fields() {
		width = max(width, len(f.Name))
	}
	var answer []*pflag.Flag
	for _, name := range []string{"clock", "json", "working", "svg", "pdf", "dxf", "drawing", "paper", "bar-across", "bar-down", "csv", "figure", "from", "width", "keep", "called", "keep-note"} {
		if f := cmd.Flag(name); f != nil {
			answer, width = append(answer, f), max(width, len(f.Name))
		}
	}
	for _, g := range fm.Groups {
		fmt.Fprintf(&b, "\n%s:\n", g.Legend)
		for _, f := range g.Fields {
			if f.Kind != form.Grid {
				fmt.Fprintf(&b, "  --%-*s  %s\n", width, f.Name, fieldHelp(f))
			}
		}
	}
	b.WriteString("\nThe answer:\n")
	for _, f := range answer {
		fmt.Fprintf(&b, "  --%-*s  %s\n", width, f.Name, f.Usage)
	}
	_, err := fmt.Fprint(cmd.OutOrStderr(), b.String())
	return err
}

func fieldHelp(f form.Field) string {
	s := f.Label
	if f.Unit != "" {
		s += ", in " + f.Unit + " unless a unit is written"
	}
	if len(f.Options) > 0 {
		var words []string
		for _, o := range f.Options {
			words = append(words, o.Value)
		}
		s += ": " + strings.Join(words, ", ")
	}
	if f.Hint != "" {
		s += ". " + f.Hint
	}
	return s
}
