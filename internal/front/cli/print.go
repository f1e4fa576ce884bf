package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"seatboard/internal/kit/doc"
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

func (p *printing) write(env Env, s *shop.Shop, d doc.Doc, foot string) error {
	if p.file == "" {
		_, err := io.WriteString(env.Out, text.Render(d, text.Options{Width: env.Width, Colour: env.Terminal}))
		return err
	}
	b, err := s.Print(d, foot, p.paper)
	if err != nil {
		return err
	}
	return writeWhole(env, p.file, b)
}

func receiptCommand(env Env) *cobra.Command {
	var p printing
	cmd := &cobra.Command{
		Use: "receipt NUMBER", Short: "What the owner signs for when a clock is left", GroupID: "shop", Args: oneArg("the number of the clock"),
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
				return p.write(env, s, present.Receipt(f.Clock), shop.Foot(f.Clock))
			})
		},
	}
	p.flags(cmd)
	return cmd
}
