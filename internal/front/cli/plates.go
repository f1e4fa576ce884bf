package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"seatboard/internal/craft/divide"
	"seatboard/internal/front/form"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// platesCommand prints the plates that the shop keeps, or keeps others.
func platesCommand(env Env) *cobra.Command {
	var keep []string
	cmd := &cobra.Command{
		Use: "plates", Short: "The plates and heads that the shop divides with", Args: noArgs,
		Example: "  seatboard plates\n      as they are kept\n  seatboard plates --plates 'plate A: 60 72 96' --plates 'head 40:1 with 15 16 17'\n      keep these from now on",
		RunE: func(cmd *cobra.Command, _ []string) error {
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				kept, err := s.Plates(ctx)
				if err != nil {
					return err
				}
				if len(keep) > 0 {
					if faults := form.Plates(&kept.Plates).Fill(map[string][]string{"plates": keep}); len(faults) > 0 {
						return faults
					}
					if err := s.KeepPlates(ctx, who(), kept.Version, kept.Plates); err != nil {
						return err
					}
				}
				if asJSON(cmd) {
					return jsonout.Write(env.Out, map[string]divide.Plates{"plates": kept.Plates})
				}
				if !kept.Plates.Empty() {
					fmt.Fprintln(env.Out, kept.Plates)
				}
				return nil
			})
		},
	}
	cmd.Flags().StringArrayVar(&keep, "plates", nil, "keep these from now on")
	return cmd
}

// platesOfShop gives dividing the plates that the shop keeps.
func platesOfShop(cmd *cobra.Command, env Env) {
	ours := cmd.Flags().Bool("of-the-shop", false, "with the plates that the shop keeps")
	cmd.Example += "\n  seatboard divide 96 --of-the-shop\n      with the plates written down with seatboard plates"
	desked := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if !*ours {
			return desked(cmd, args)
		}
		if cmd.Flags().Changed("plates") {
			return usagef("say --plates or --of-the-shop, not both")
		}
		err := openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
			kept, err := s.Plates(ctx)
			if err != nil || kept.Plates.Empty() {
				return err
			}
			return cmd.Flags().Set("plates", kept.Plates.String())
		})
		if err != nil {
			return err
		}
		return desked(cmd, args)
	}
}
