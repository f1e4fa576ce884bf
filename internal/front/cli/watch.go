package cli

import (
	"fmt"
	"time"
)

// watchedAs does work and meanwhile shows on a terminal how it stands.
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
