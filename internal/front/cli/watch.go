package cli

import (
	"fmt"
	"time"

	"seatboard/internal/kit/progress"
)

// watched does work that can take a while and shows on a terminal how far it
// is, four times a second; elsewhere it shows nothing.
func watched(env Env, what string, work func(*progress.Counter) error) error {
	c := &progress.Counter{}
	if !env.Watched {
		return work(c)
	}
	done := make(chan error, 1)
	go func() { done <- work(c) }()
	tick := time.NewTicker(250 * time.Millisecond)
	defer tick.Stop()
	shown := false
	for {
		select {
		case err := <-done:
			if shown {
				fmt.Fprint(env.Err, "\r\x1b[K")
			}
			return err
		case <-tick.C:
			shown = true
			at, of := c.Sample()
			fmt.Fprintf(env.Err, "\r%s, %d of %d steps\x1b[K", what, at, of)
		}
	}
}
