package cli

import (
	"context"
	"fmt"

	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// askServer asks a time server once how far this computer's clock is from it,
// because the command line says so.
func (l *listening) askServer(ctx context.Context, ask func(context.Context, string) (shop.TimeAsked, error)) error {
	a, err := ask(ctx, l.server)
	if err != nil {
		return err
	}
	if l.json {
		return jsonout.Write(l.env.Out, a)
	}
	for _, s := range append(a.Means, "A recorder is compared with this clock on the page: seatboard serve, then Listen, Recorders.") {
		if _, err := fmt.Fprintln(l.env.Out, s); err != nil {
			return err
		}
	}
	return nil
}
