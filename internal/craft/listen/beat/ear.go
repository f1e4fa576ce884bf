package beat

import (
	"context"
	"slices"
	"sync"

	"seatboard/internal/kit/progress"
	"seatboard/internal/kit/unit"
)

type duration = unit.Duration

// Options say what is known before listening.
type Options struct {
	Beat     unit.Duration     // about what a beat lasts, within 2 %; 0 where not known
	Progress *progress.Counter // counts samples read; may be nil
}

// Ear listens to one source.
type Ear struct {
	src     Source
	options Options
	mu      sync.Mutex
	heard   Hearing
	epochs  [][2]unit.Duration // of each run: where the impact begins in the shape of each side
}

// NewEar makes an ear for a source.
func NewEar(src Source, o Options) *Ear {
	return &Ear{src: src, options: o, heard: Hearing{Rate: src.Rate(), Verdict: NoBeat, Why: "Nothing has been heard yet."}}
}

// Run listens until the source ends or ctx is done; what was heard until then
// stays in Heard. Its error is the source's or the context's.
func (e *Ear) Run(ctx context.Context) error {
	rate := e.src.Rate()
	h := &hearer{ear: e, tape: newTape(e.src, e.options.Progress), tools: newTools(rate), about: float64(e.options.Beat) * rate}
	return h.hear(ctx)
}

// Heard is what was heard so far. It may be called while Run listens.
func (e *Ear) Heard() Hearing {
	e.mu.Lock()
	defer e.mu.Unlock()
	out := e.heard
	out.Runs, out.Marks = slices.Clone(e.heard.Runs), slices.Clone(e.heard.Marks)
	out.Beats = make([]Beat, len(e.heard.Beats))
	for i, b := range e.heard.Beats {
		b.At += e.epochs[b.Run][b.N&1]
		out.Beats[i] = b
	}
	return out
}

// sounds are a run's figures that change as it is followed.
type sounds struct {
	run       int
	epochs    [2]unit.Duration
	beat      unit.Duration
	snr       float64
	offsetU   unit.Duration
	tick, toc Shape
}

// open begins a run and returns its number.
func (e *Ear) open(s sounds) int {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.heard.Runs = append(e.heard.Runs, Run{EndedBy: EndOfSound})
	e.epochs = append(e.epochs, s.epochs)
	n := len(e.heard.Runs) - 1
	e.heard.Verdict, e.heard.Why = Regular, ""
	return n
}

// add takes a beat into its run, with the silent ones before it.
func (e *Ear) add(b Beat, silent []Mark, s sounds) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.heard.Beats = append(e.heard.Beats, b)
	e.heard.Marks = append(e.heard.Marks, silent...)
	r := &e.heard.Runs[b.Run]
	if r.Heard == 0 {
		r.From = b.At
	}
	r.Heard++
	r.Silent += len(silent)
	r.To = b.At
	e.heard.Length = max(e.heard.Length, b.At)
	if b.N > 0 {
		r.ShareKept = float64(r.Heard) / float64(b.N+1)
	}
	r.put(s)
	e.epochs[b.Run] = s.epochs
}

func (r *Run) put(s sounds) {
	r.Beat, r.SNR, r.OffsetU = s.beat, s.snr, s.offsetU
	r.Tick, r.Tock = s.tick, s.toc
}

// close ends a run.
func (e *Ear) close(s sounds, how Ending) {
	e.mu.Lock()
	defer e.mu.Unlock()
	r := &e.heard.Runs[s.run]
	r.EndedBy = how
	r.put(s)
	e.epochs[s.run] = s.epochs
}

// extra counts a beat where none belongs.
func (e *Ear) extra(m Mark, run int) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.heard.Marks = append(e.heard.Marks, m)
	e.heard.Runs[run].Extra++
}

// oneShape says that one shape served for both sides of a run.
func (e *Ear) oneShape(run int) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.heard.Runs[run].OneShape = true
}

func (e *Ear) mark(m Mark) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.heard.Marks = append(e.heard.Marks, m)
}
