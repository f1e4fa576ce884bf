package shop

import (
	"context"
	"math"
	"sync"
	"time"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// LiveOptions is what is listened to live. Started and How of the query are
// the run's own.
type LiveOptions struct {
	ListenQuery
	Rate  float64          // samples a second, as the recorder states it
	Sound bool             // kept as it comes, so that it can be kept with the listening
	Host  sampleclock.Host // how good the computer's clock is; as the system says where it is zero
}

// Stamp says which samples a block has.
type Stamp struct {
	Capture int       // of the sender: another after a reload, an interruption or a change of device
	First   int64     // number of the block's first sample in that capture, counted by the sender
	Came    time.Time // when the block came in; now where it is zero
	Late    bool      // it waited for a connection: Came tells nothing of the recorder's clock

	Device    unit.Duration // the device's own time of its first sample; 0 where there is none
	Discarded int64         // samples that the sender says it has thrown away, in all
}

// Gap is a stretch that was lost. It splits the run: no beat on one side is
// reckoned against one on the other as if nothing had been between.
type Gap struct {
	At     unit.Duration `json:"at"` // after the first sample
	Length unit.Duration `json:"length"`
	Exact  bool          `json:"exact"` // told by the sender's count; if not, by when blocks came
}

// Level is how loud it is, over the last second or two. Full scale is 1.
type Level struct {
	Peak    float64 `json:"peak"`
	RMS     float64 `json:"rms"`
	Clipped float64 `json:"clipped"` // share of samples at full scale
}

// LiveState is a live run as it is at one moment.
type LiveState struct {
	ID       string
	Query    ListenQuery
	Rate     float64
	Running  bool
	Began    time.Time
	Elapsed  unit.Duration          // from the first sample to the last, gaps among it
	Lacking  time.Duration          // since the last block came; while it is long the connection is down
	Verdict  beat.Verdict           //
	Trouble  bool                   // Why is of the sound itself
	Why      string                 // what is wrong and what to do; "" where all is well
	Beats    int                    //
	Answer   *listen.Answer         // so far; nil while there is none
	Level    Level                  //
	Gaps     []Gap                  // the last ones
	GapCount int                    // all of them
	Notices  []Notice               // what was noticed beside the sound, in its order
	Recorder sampleclock.Clock      // what Fit says of it; a time server's answers are in it
	Host     sampleclock.Discipline // what keeps the computer's clock right
	Fit      sampleclock.Fit        // of the recorder's clock against the computer's, by when its blocks came
	Next     Stamp                  // the sample that is expected next: what a sender that comes back may send again from
	Sound    KeptSound              //
	Unsaved  string                 // why what was heard lately could not be kept; "" where it is
	Kept     int64                  // the listening in the clock's file; 0 while it is in none
}

const (
	feedSeconds = 20  // of sound that may wait for the ear
	mostGaps    = 100 // remembered one by one
	lackAfter   = 3 * time.Second
	tardy       = 10.0 // s that a block may be under way

	mostStretches = 2000 // of one run
	mostBehind    = 4    // stretches that the ear has not heard to their end
)

// Live is a live run. It goes on when its sender is cut off; a sender that
// comes back finds it by its id. It may be used from several goroutines.
type Live struct {
	id    string
	shop  *Shop
	asked asked
	rate  float64
	ended chan struct{} // all is heard, worked out and saved

	keeping sync.Mutex // one keeps it, saves it or throws it away at a time
	row     int64      // of the unfinished listening; 0 before the first
	saved   int        // the count of looks that was saved last
	gone    bool       // kept or thrown away: no longer saved

	fitter calibrator
	sound  *soundKeeper // nil where it is not kept

	mu       sync.Mutex
	more     sync.Cond
	stretch  []*stretch // without a gap inside, one after the other
	closed   bool
	began    time.Time
	last     time.Time // the last block came
	next     Stamp
	level    meter
	gaps     []Gap
	gapCount int
	notices  []Notice
	still    stillness
	watcher  *sampleclock.Watch // of the capture that is next's
	shifts   []shift
	hearing  beat.Hearing
	answer   *listen.Answer
	solveErr error
	looks    int
	unsaved  string
	kept     int64
}

// StartLive begins a live run; its sound is given to Write.
func (s *Shop) StartLive(o LiveOptions) (*Live, error) {
	if !(o.Rate >= 8000 && o.Rate <= 192_000) {
		return nil, &Problem{Code: BadInput, Message: "The recorder must make 8,000 to 192,000 samples a second.", Hint: "Choose another recorder or another rate."}
	}
	a, err := s.ask(o.ListenQuery)
	if err != nil {
		return nil, err
	}
	id, err := newUID()
	if err != nil {
		return nil, err
	}
	l := &Live{id: id, shop: s, asked: a, rate: o.Rate, ended: make(chan struct{}), began: s.now(), last: s.now()}
	l.more.L = &l.mu
	l.fitter.begin(o.Rate, o.Host)
	l.hearing = beat.Hearing{Verdict: beat.NoBeat, Rate: o.Rate}
	if o.Sound {
		if l.sound, err = keepSound(s.ears.files, o.Rate); err != nil {
			return nil, err
		}
	}
	if err := s.ears.takeLive(l); err != nil {
		l.sound.end()
		l.sound.wait()
		l.sound.letGo()
		return nil, err
	}
	heard := make(chan struct{})
	go func() {
		defer close(heard)
		l.listen()
	}()
	go func() {
		defer s.ears.all.Done()
		defer close(l.ended)
		l.watch(heard)
	}()
	return l, nil
}

// ID is what the run is found by.
func (l *Live) ID() string { return l.id }

// Live finds a run by its id.
func (s *Shop) Live(id string) (*Live, error) {
	s.ears.mu.Lock()
	defer s.ears.mu.Unlock()
	for _, l := range s.ears.lives {
		if l.id == id {
			return l, nil
		}
	}
	return nil, errNoJob
}

// Lives lists the live runs, the last begun first.
func (s *Shop) Lives() []LiveState {
	s.ears.mu.Lock()
	lives := append([]*Live(nil), s.ears.lives...)
	s.ears.mu.Unlock()
	var out []LiveState
	for i := len(lives) - 1; i >= 0; i-- {
		out = append(out, lives[i].State())
	}
	return out
}

// takeLive takes a run into the list, and forgets the oldest that ended; what
// it has saved stays unfinished in the records.
func (e *ears) takeLive(l *Live) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.closed {
		return errClosing
	}
	running, oldest := 0, -1
	for i, x := range e.lives {
		select {
		case <-x.ended:
			if oldest < 0 {
				oldest = i
			}
		default:
			running++
		}
	}
	if running >= mostLives {
		return tooMany(running, "live runs", "End one of them first.")
	}
	if len(e.lives)-running >= mostEnded {
		e.lives[oldest].sound.letGo()
		e.lives = append(e.lives[:oldest:oldest], e.lives[oldest+1:]...)
	}
	e.lives = append(e.lives, l)
	e.all.Add(1)
	return nil
}

// Write takes a block in and does not wait. What came already is passed
// over; what did not come is a gap. A block for which there is no room is
// lost, which is a gap as well.
func (l *Live) Write(samples []float32, at Stamp) error {
	if at.Came.IsZero() {
		at.Came = l.shop.now()
	}
	if float64(len(samples)) > l.rate {
		return &Problem{Code: TooLarge, Message: "A block holds more than a second of sound.", Hint: "Send it in smaller ones."}
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return errEnded
	}
	l.last = at.Came
	if again := l.next.First - at.First; l.current() != nil && at.Capture == l.next.Capture && again > 0 {
		if again >= int64(len(samples)) {
			return nil
		}
		samples, at.First = samples[again:], l.next.First
		if at.Device != 0 {
			at.Device += unit.Duration(float64(again) / l.rate)
		}
	}
	if len(samples) == 0 {
		return nil
	}
	if at.Capture != l.next.Capture || at.First != l.next.First {
		l.still.run = 0
	}
	l.compare(at, len(samples))
	samples = finite(samples)
	l.level.take(samples, l.rate)
	for _, p := range l.still.sounding(samples, l.rate) {
		begin := Stamp{Capture: at.Capture, First: at.First + int64(p.from), Came: at.Came.Add(-l.lasts(len(samples) - p.to))}
		if err := l.take(samples[p.from:p.to], begin, p.after); err != nil {
			return err
		}
	}
	if l.still.long(l.rate) && at.Capture == l.next.Capture { // what is silent has come in as well
		l.next.First, l.next.Came = at.First+int64(len(samples)), at.Came
	}
	for _, h := range l.still.short {
		end := l.place(at.Capture, at.First+int64(h.end))
		long := unit.Duration(float64(h.n) / l.rate)
		l.note(Notice{What: beat.Zeros, At: max(end-long, 0), Length: long})
	}
	return nil
}

// lasts is how long so many samples last.
func (l *Live) lasts(n int) time.Duration { return time.Duration(float64(n) / l.rate * 1e9) }

// take takes sound into the stretch that it belongs to; after is the silence
// before it, in samples, where that was long.
func (l *Live) take(samples []float32, at Stamp, after int64) error {
	s := l.current()
	if s == nil || after > 0 || at.Capture != s.capture || at.First != s.first+s.n {
		if l.behind() {
			return nil
		}
		if len(l.stretch) >= mostStretches {
			l.finish()
			return errBroken
		}
		s = l.begin(at, len(samples), after)
	}
	if s.feed.put(samples) {
		l.sound.put(int64(math.Round(float64(s.from)*l.rate))+s.n, samples)
		s.n += int64(len(samples))
		s.came = at.Came
		l.next = Stamp{Capture: at.Capture, First: at.First + int64(len(samples)), Came: at.Came}
	}
	return nil
}

// current is the stretch that sound goes into, nil before the first.
func (l *Live) current() *stretch {
	if len(l.stretch) == 0 {
		return nil
	}
	return l.stretch[len(l.stretch)-1]
}

// begin begins a stretch, after a gap or a silence where it is not the first.
func (l *Live) begin(at Stamp, n int, after int64) *stretch {
	s := &stretch{feed: newFeed(l.rate, feedSeconds), capture: at.Capture, first: at.First}
	if before := l.current(); before != nil {
		before.feed.end()
		came := max(at.Came.Sub(before.came).Seconds()-float64(n)/l.rate, 0)
		g := Gap{At: before.end(), Length: unit.Duration(came)}
		counted := float64(at.First-before.first-before.n) / l.rate
		if at.Capture == before.capture && counted <= came+1+tardy { // a count cannot run ahead of the time
			g.Length, g.Exact = unit.Duration(counted), true
		}
		s.from, s.broke, s.why = g.At+g.Length, g.At, Lost
		if after > 0 {
			s.broke, s.why = s.from-unit.Duration(float64(after)/l.rate), beat.Zeros
		} else {
			l.gapCount++
			if l.gaps = append(l.gaps, g); len(l.gaps) > mostGaps {
				l.gaps = l.gaps[1:]
			}
		}
	} else {
		l.began = at.Came.Add(-l.lasts(n))
	}
	l.stretch = append(l.stretch, s)
	l.more.Broadcast()
	return s
}

// State is the run as it is now.
func (l *Live) State() LiveState {
	now, fit := l.shop.now(), l.fitter.last()
	recorder := l.clockOf(fit)
	l.mu.Lock()
	defer l.mu.Unlock()
	st := LiveState{
		ID: l.id, Query: l.asked.ListenQuery, Rate: l.rate, Running: !l.closed, Began: l.began, Lacking: max(now.Sub(l.last), 0),
		Verdict: l.hearing.Verdict, Why: l.hearing.Why, Beats: len(l.hearing.Beats), Answer: l.answer, Level: l.level.level(),
		Gaps: append([]Gap(nil), l.gaps...), GapCount: l.gapCount, Notices: l.noticed(), Next: l.next, Sound: l.sound.now(), Unsaved: l.unsaved, Kept: l.kept,
		Fit: fit, Recorder: recorder, Host: l.fitter.host.Kind,
	}
	if s := l.current(); s != nil {
		st.Elapsed = s.end()
	}
	if l.solveErr != nil {
		st.Why = AsProblem(l.solveErr).Message
	}
	if why := l.trouble(st); why != "" {
		st.Why, st.Trouble = why, true
	}
	return st
}

// Close ends the run and waits until all of it is worked out and saved. It
// is kept or thrown away afterwards.
func (l *Live) Close() error {
	l.end()
	<-l.ended
	return nil
}

func (l *Live) end() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.finish()
}

func (l *Live) finish() {
	if !l.closed {
		l.closed = true
		l.sound.end()
	}
	if s := l.current(); s != nil {
		s.feed.end()
	}
	l.more.Broadcast()
}

// keepContext is that of saves that no one waits for.
func keepContext() (context.Context, context.CancelFunc) {
	return context.WithTimeout(context.Background(), 20*time.Second)
}
