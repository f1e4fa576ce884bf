package cli

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/paper/text"
	"seatboard/internal/shop"
)

// printing is how a document of the shop leaves: as text, or as PDF.
type printing struct{ file, paper string }

func (p *printing) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&p.file, "pdf", "", "write it as PDF to this file, - for standard output")
	cmd.Flags().StringVar(&p.paper, "paper", shop.Papers()[0], "paper of the PDF: A4 or Letter")
	_ = cmd.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions(shop.Papers(), cobra.ShellCompDirectiveNoFileComp)) // the flag exists
}

func (p *printing) write(ctx context.Context, env Env, s *shop.Shop, d doc.Doc, foot string) error {
	if p.file == "" {
		return printDoc(env, d)
	}
	b, err := s.Print(ctx, d, foot, p.paper)
	if err != nil {
		return err
	}
	return writeWhole(env, p.file, b)
}

// printDoc writes a document as text.
func printDoc(env Env, d doc.Doc) error {
	_, err := io.WriteString(env.Out, text.Render(d, text.Options{Width: env.Width, Colour: env.Terminal}))
	return err
}

func receiptCommand(env Env) *cobra.Command {
	var p printing
	cmd := &cobra.Command{
		Use: "receipt NUMBER", Short: "What the owner signs for when a clock is left", Args: oneArg("the number of the clock"),
		Example: "  seatboard receipt 2026-014\n      as text\n  seatboard receipt 2026-014 --pdf receipt.pdf --paper Letter\n      to print and sign",
		RunE: func(cmd *cobra.Command, args []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				f, err := s.File(ctx, c.ID)
				if err != nil {
					return err
				}
				return p.write(ctx, env, s, present.Receipt(f.Clock), shop.Foot(f.Clock))
			})
		},
	}
	p.flags(cmd)
	return cmd
}

func labelsCommand(env Env) *cobra.Command {
	var ask shop.LabelAsk
	var file, test string
	var numbers []string
	var corrected bool
	cmd := &cobra.Command{
		Use: "labels NUMBER", Short: "Labels for a clock and its parts, with codes that a phone opens", Args: oneArg("the number of the clock"),
		Example: "  seatboard labels 2026-014 --address http://192.168.1.20:7870 --pdf labels.pdf\n      every part, on the sheet used last, from the position that is free; the address is remembered\n" +
			"  seatboard labels 2026-014 --part 2.1 --profile 'Tape of 24 mm' --pdf one.pdf\n      one label, on tape",
		RunE: func(cmd *cobra.Command, args []string) error {
			if file == "" && test == "" {
				return usagef("say with --pdf FILE where the labels are to go")
			}
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				c, err := byNumber(ctx, s, args[0])
				if err != nil {
					return err
				}
				if test != "" {
					b, err := s.LabelTestPage(ctx, ask.Profile, corrected)
					if err != nil {
						return err
					}
					return writeWhole(env, test, b)
				}
				if ask.Parts, err = labelled(ctx, s, c, numbers); err != nil {
					return err
				}
				ask.Clock = ask.Clock || len(ask.Parts)+ask.Ahead == 0
				return writeLabels(ctx, cmd, env, s, c, ask, file)
			})
		},
	}
	f := cmd.Flags()
	f.StringVar(&file, "pdf", "", "file to write, - for standard output")
	f.StringArrayVar(&numbers, "part", nil, "number of a part, more than once for several; every part where none is given")
	f.BoolVar(&ask.Clock, "clock", false, "a label of the clock itself too")
	f.IntVar(&ask.Ahead, "ahead", 0, "labels of so many parts to come too, under the numbers that come next")
	f.StringVar(&ask.Profile, "profile", "", "sheet or tape, by its name; the one used last where none is given")
	f.IntVar(&ask.First, "first", 0, "first free position of the sheet; the one remembered where none is given")
	f.IntVar(&ask.Copies, "copies", 1, "how many of each")
	f.StringVar(&ask.Address, "address", "", "what the codes begin with, like http://192.168.1.20:7870; the one that is kept where none is given")
	f.StringVar(&test, "test-page", "", "write the page by which a printer is measured to this file instead")
	f.BoolVar(&corrected, "corrected", false, "the test page with what was measured taken out")
	return cmd
}

// labelled are the parts named, or all that the ledger has.
func labelled(ctx context.Context, s *shop.Shop, c job.Summary, typed []string) ([]parts.Number, error) {
	var out []parts.Number
	var faults meas.Faults
	for _, text := range typed {
		n, err := parts.ParseNumber(c.Number, text)
		if err != nil {
			faults = append(faults, meas.Fault{Field: "part", Text: "“" + text + "” is no part’s number. " + err.Error()})
		}
		out = append(out, n)
	}
	if len(faults) > 0 || len(typed) > 0 {
		return out, errorOf(faults)
	}
	t, err := s.TakeDown(ctx, c.ID)
	if err != nil {
		return nil, err
	}
	for _, p := range t.Ledger.Parts() {
		out = append(out, p.Number)
	}
	return out, nil
}

func errorOf(f meas.Faults) error {
	if len(f) == 0 {
		return nil
	}
	return f
}

func writeLabels(ctx context.Context, cmd *cobra.Command, env Env, s *shop.Shop, c job.Summary, ask shop.LabelAsk, file string) error {
	b, l, err := s.PrintLabels(ctx, who(), c.ID, ask)
	if err != nil {
		return err
	}
	if err := writeWhole(env, file, b); err != nil {
		return err
	}
	if asJSON(cmd) && file != "-" {
		return jsonout.Write(env.Out, map[string]any{"file": file, "labels": l.Labels, "sheets": len(l.Sheets), "profile": l.Ask.Profile, "next": l.Next, "warnings": l.Warnings})
	}
	for _, w := range l.Warnings {
		fmt.Fprintf(env.Err, "! %s\n", w)
	}
	_, err = fmt.Fprintf(env.Err, "%s on %s; print at 100 %%, not fitted to the page.\n", counted(l.Labels, "label"), counted(len(l.Sheets), "page"))
	return err
}
