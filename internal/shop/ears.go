package shop

import (
	"context"
	"fmt"
	"io"
	"sync"
	"time"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/io/blob"
	"seatboard/internal/io/hostclock"
)

// How much is listened to at once, and how much is remembered.
const (
	mostAtOnce  = 2  // recordings; others wait
	mostWaiting = 16 // recordings not finished
	mostJobs    = 32 // recordings, with those that are done
	mostLives   = 8  // live, running
	mostEnded   = 16 // live, ended and neither kept nor thrown away
)

// hearer hears beats; *beat.Ear is one.
type hearer interface {
	Run(context.Context) error
	Heard() beat.Hearing
}

// ears is what the shop listens with. What it hears belongs to the program,
// not to the connection that asked for it.
type ears struct {
	hear   func(beat.Source, beat.Options) hearer
	solve  func(listen.Query) (listen.Answer, error)
	decode func(ctx context.Context, sound io.Reader, channel int) (recording, error)
	files  *blob.Files
	asker  asker
	turn   chan struct{} // one for each recording that is listened to

	look, save time.Duration // how often a live run is worked out at most, and kept
	quiet      time.Duration // without sound a live run ends by itself

	mu     sync.Mutex
	closed bool
	jobs   []*hearJob // the oldest first
	lives  []*Live
	all    sync.WaitGroup
}

func newEars(files *blob.Files) *ears {
	return &ears{
		hear:   func(src beat.Source, o beat.Options) hearer { return beat.NewEar(src, o) },
		solve:  listen.Solve,
		decode: decode,
		files:  files,
		asker:  asker{ask: hostclock.Ask},
		turn:   make(chan struct{}, mostAtOnce),
		look:   time.Second, save: 15 * time.Second, quiet: 6 * time.Hour,
	}
}

// close stops everything and waits; what live runs have heard is kept.
func (e *ears) close() {
	e.mu.Lock()
	e.closed = true
	jobs, lives := e.jobs, e.lives
	e.jobs = nil
	e.mu.Unlock()
	for _, j := range jobs {
		j.stop()
	}
	for _, l := range lives {
		l.end()
	}
	e.all.Wait()
	for _, l := range lives {
		l.sound.letGo()
	}
	for _, j := range jobs {
		j.letGo()
	}
}

// errClosing is the problem of whoever asks while the program ends.
var errClosing = &Problem{Code: Conflict, Message: "Seatboard is being closed.", Hint: "Start it again first."}

func tooMany(n int, what, hint string) error {
	return &Problem{Code: Conflict, Message: fmt.Sprintf("There are %d %s already.", n, what), Hint: hint}
}

var errNoJob = &Problem{Code: NotFound, Message: "There is no such listening.", Hint: "It may have been thrown away, or was from before Seatboard was last started."}
