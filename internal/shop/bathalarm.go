package shop

import (
	"context"
	"sync"
	"time"
)

// alarm watches the ends of the baths. It keeps two clocks: that on the wall,
// which goes on while the computer sleeps or is off, and one that nobody can
// set; the bath is over by whichever comes first.
type alarm struct {
	mu      sync.Mutex
	since   func() time.Duration // the clock that nobody can set
	seen    map[string]seenBath
	quiet   map[string]time.Duration // until when a bath does not ring
	ring    func(context.Context) error
	trouble error // of the last ring
	blind   error // of the last look at the book
}

// seenBath is how long a bath had left when its end was first seen.
type seenBath struct {
	until time.Time
	at    time.Duration
	left  time.Duration
}

func newAlarm() *alarm {
	begun := time.Now()
	return &alarm{since: func() time.Duration { return time.Since(begun) }, seen: map[string]seenBath{}, quiet: map[string]time.Duration{}}
}

// left is what is left of a bath by the clock that nobody can set.
func (a *alarm) left(id string, until time.Time, left time.Duration) time.Duration {
	a.mu.Lock()
	defer a.mu.Unlock()
	now := a.since()
	was, ok := a.seen[id]
	if !ok || !was.until.Equal(until) {
		was = seenBath{until, now, left}
		a.seen[id] = was
	}
	return was.left - (now - was.at)
}

const (
	alarmLooks = time.Second     // how often the baths are looked at
	quietFor   = 2 * time.Minute // a bath that was hushed
)

// KeepAlarm watches the baths until ctx ends, and rings while one is over. A
// bath that ended while the program was not running rings at once.
func (s *Shop) KeepAlarm(ctx context.Context, ring func(context.Context) error) {
	s.alarm.mu.Lock()
	s.alarm.ring = ring
	s.alarm.mu.Unlock()
	tick := time.NewTicker(alarmLooks)
	defer tick.Stop()
	for {
		s.lookAtBaths(ctx)
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// lookAtBaths rings once where a bath is over and not hushed.
func (s *Shop) lookAtBaths(ctx context.Context) {
	running, err := s.RunningBaths(ctx)
	s.alarm.unread(err)
	for _, b := range running {
		if b.Ringing && !s.alarm.hushed(b.ID) {
			_ = s.alarm.sound(ctx) // kept: the pages say it
			return
		}
	}
}

// unread keeps that the book could not be read: the pages say so, and what
// was known of the baths goes on ringing.
func (a *alarm) unread(err error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.blind = err
}

func (a *alarm) hushed(id string) bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.since() < a.quiet[id]
}

// sound rings, and keeps what was wrong with it.
func (a *alarm) sound(ctx context.Context) error {
	a.mu.Lock()
	ring := a.ring
	a.mu.Unlock()
	if ring == nil {
		return errNoAlarm
	}
	err := ring(ctx)
	a.mu.Lock()
	defer a.mu.Unlock()
	a.trouble = err
	return err
}

var errNoAlarm = &Problem{Code: NotFound, Message: "No alarm is kept by this run of the program.", Hint: "seatboard serve keeps it."}

// HushBath keeps the shop's computer from ringing for a bath for two minutes;
// the pages go on saying that it is over.
func (s *Shop) HushBath(ctx context.Context, id string) error {
	if _, err := s.Bath(ctx, id); err != nil {
		return err
	}
	s.alarm.mu.Lock()
	defer s.alarm.mu.Unlock()
	s.alarm.quiet[id] = s.alarm.since() + quietFor
	return nil
}

// TestAlarm rings once, so that a person can hear whether it is loud enough.
func (s *Shop) TestAlarm(ctx context.Context) error {
	err := s.alarm.sound(ctx)
	if err == nil || err == errNoAlarm {
		return err
	}
	return &Problem{Code: NotFound, Message: "This computer cannot ring: " + err.Error() + ".", Hint: "Pages that are open show the alarm and can sound it: keep one open, and set a timer of your own.", cause: err}
}

// AlarmTrouble is why the shop's computer may not ring: it could not the last
// time, or the book could not be read. "" where nothing is known against it.
func (s *Shop) AlarmTrouble() string {
	s.alarm.mu.Lock()
	defer s.alarm.mu.Unlock()
	switch {
	case s.alarm.blind != nil:
		return "the book could not be read, and a bath begun since is not known"
	case s.alarm.trouble != nil:
		return s.alarm.trouble.Error()
	}
	return ""
}
