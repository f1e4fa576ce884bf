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
	say := func() string {
		at, of := c.Sample()
		return fmt.Sprintf("%s, %d of %d steps", what, at, of)
	}
	return watchedAs(env, say, func() error { return work(c) })
}

// watchedAs is watched with words of its own.
func watchedAs(env Env, say func() string, work func() error) error {
	if !env.Watched {
		return work()
	}
	done := make(chan error, 1)
	go func() { done <- work() }()
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
			fmt.Fprintf(env.Err, "\r%s\x1b[K", say())
		}
	}
}
