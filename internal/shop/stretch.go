package shop

import (
	"context"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/unit"
)

// stretch is sound without a gap inside, heard by an ear of its own.
type stretch struct {
	feed  *feed
	from  unit.Duration // its first sample, after the first of the run
	broke unit.Duration // where the sound before it broke off
	why   beat.MarkKind // Lost or beat.Zeros
	n     int64         // samples
	ear   hearer        // nil before it is listened to and after its end
	heard beat.Hearing  // whole, after its end
	over  bool

	capture int       // of the sender
	first   int64     // number of its first sample there
	came    time.Time // the last block
}

func (s *stretch) end() unit.Duration {
	return s.from + unit.Duration(float64(s.n)/s.feed.rate)
}

// behind tells whether the ear is so far behind that another stretch would
// only make it worse.
func (l *Live) behind() bool {
	waiting := 0
	for _, s := range l.stretch {
		if !s.over {
			waiting++
		}
	}
	return waiting >= mostBehind
}

var errBroken = &Problem{Code: Conflict, Message: "The sound broke off too often; this run has ended.", Hint: "What was heard is there. Begin another by a better connection."}

var errEnded = &Problem{Code: Conflict, Message: "This run has ended.", Hint: "Begin another."}

// listen hears one stretch after the other until the run is closed.
func (l *Live) listen() {
	for i := 0; ; i++ {
		l.mu.Lock()
		for len(l.stretch) <= i && !l.closed {
			l.more.Wait()
		}
		if len(l.stretch) <= i {
			l.mu.Unlock()
			return
		}
		s := l.stretch[i]
		s.ear = l.shop.ears.hear(s.feed, beat.Options{Beat: l.asked.hint})
		l.mu.Unlock()
		err := s.ear.Run(context.Background()) // it ends with the feed
		h := s.ear.Heard()
		if err != nil {
			h.Why = "This stretch could not be heard to its end."
		}
		l.mu.Lock()
		s.heard, s.over, s.ear = h, true, nil
		l.mu.Unlock()
		s.feed.release()
	}
}

// gather puts the stretches together: times after the first sample of the
// run, runs numbered through, a mark for each gap.
func (l *Live) gather() beat.Hearing {
	l.mu.Lock()
	parts := append([]*stretch(nil), l.stretch...)
	heard := make([]beat.Hearing, len(parts))
	ears := make([]hearer, len(parts))
	out := beat.Hearing{Verdict: beat.NoBeat, Why: "The beat is being looked for.", Rate: l.rate, Complete: true}
	for i, s := range parts {
		heard[i], ears[i] = s.heard, s.ear
		out.Length = s.end()
	}
	out.Peak, out.Clipped = l.level.whole()
	seams := l.seams()
	l.mu.Unlock()
	for i, s := range parts {
		if ears[i] != nil {
			heard[i] = ears[i].Heard()
		}
		if i > 0 {
			if n := len(out.Runs); n > 0 && out.Runs[n-1].EndedBy == beat.EndOfSound {
				out.Runs[n-1].EndedBy = beat.Silence
			}
			out.Marks = append(out.Marks, beat.Mark{At: s.broke, Kind: s.why, Size: s.from - s.broke})
		}
		join(&out, heard[i], s.from, i == len(parts)-1 && out.Length-s.from > settled)
	}
	return splitAt(out, seams)
}

// settled is how long a stretch is given before it says that it hears nothing.
const settled unit.Duration = 12

// join puts a stretch behind what was heard before it.
func join(out *beat.Hearing, h beat.Hearing, from unit.Duration, last bool) {
	runs := len(out.Runs)
	for _, b := range h.Beats {
		b.At, b.Run = b.At+from, b.Run+runs
		out.Beats = append(out.Beats, b)
	}
	for _, r := range h.Runs {
		r.From, r.To = r.From+from, r.To+from
		out.Runs = append(out.Runs, r)
	}
	for _, m := range h.Marks {
		m.At += from
		out.Marks = append(out.Marks, m)
	}
	if h.Second != nil {
		out.Second = h.Second
	}
	switch {
	case h.Verdict == "":
	case out.Verdict != beat.Regular || h.Verdict == beat.Edited:
		out.Verdict, out.Why = h.Verdict, h.Why
	case last && h.Why != "" && len(h.Beats) == 0:
		out.Why = h.Why // it was heard and is not any more
	}
}

// watch works out and saves what is heard, as often as the machine bears it,
// until all is heard.
func (l *Live) watch(heard <-chan struct{}) {
	e := l.shop.ears
	look, save := time.NewTimer(e.look), time.NewTicker(e.save)
	defer look.Stop()
	defer save.Stop()
	for {
		select {
		case <-heard:
			l.sound.wait()
			l.look()
			l.save()
			return
		case <-look.C:
			began := time.Now()
			l.look()
			look.Reset(max(e.look, 20*time.Since(began))) // a twentieth of a core
		case <-save.C:
			l.look()
			l.save()
			l.mu.Lock()
			quiet := l.shop.now().Sub(l.last) > e.quiet
			l.mu.Unlock()
			if quiet {
				l.end()
			}
		}
	}
}

// look works out what was heard so far.
func (l *Live) look() {
	l.fitter.work()
	h := l.gather()
	l.mu.Lock()
	same := l.looks > 0 && len(h.Beats) == len(l.hearing.Beats) && h.Verdict == l.hearing.Verdict && h.Length == l.hearing.Length
	l.mu.Unlock()
	if same {
		return
	}
	var answer *listen.Answer
	var err error
	if len(h.Beats) > 0 {
		q := l.asked.listen
		q.Hearing = h
		var a listen.Answer
		if a, err = l.shop.ears.solve(q); err == nil {
			answer = &a
		}
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.hearing, l.answer, l.solveErr = h, answer, err
	l.looks++
}

// save keeps what was heard so far as an unfinished listening, so that no
// unclean end loses more than lies between two saves.
func (l *Live) save() {
	l.keeping.Lock()
	defer l.keeping.Unlock()
	r, looks := l.record()
	if l.gone || looks == l.saved || len(r.Beats) == 0 {
		return
	}
	ctx, cancel := keepContext()
	defer cancel()
	err := l.shop.store.Update(ctx, l.asked.By, func(tx *store.Tx) (err error) {
		if r.ID = l.row; r.ID != 0 {
			return tx.GoOn(r)
		}
		r, err = tx.AddListening(r)
		return err
	})
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.unsaved = ""; err != nil {
		l.unsaved = AsProblem(explain(err)).Message
		return
	}
	l.row, l.saved = r.ID, looks
}

// record is the run as it would be kept now, and how often it was looked at.
func (l *Live) record() (readings.Listening, int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	q := l.asked
	q.Started, q.How = l.began, readings.ByHost
	r := q.record(l.hearing, l.answer)
	r.UID = l.id
	return r, l.looks
}

// keepLive ends a run and puts it into a clock's file.
func (s *Shop) keepLive(ctx context.Context, by string, l *Live, k Keep) (readings.Listening, error) {
	if err := l.Close(); err != nil {
		return readings.Listening{}, err
	}
	l.keeping.Lock()
	defer l.keeping.Unlock()
	if l.gone {
		return readings.Listening{}, errKept
	}
	r, _ := l.record()
	r = k.on(r)
	var err error
	if k.Sound {
		if r.Audio, err = l.sound.keep(); err != nil {
			return r, err
		}
	}
	err = s.store.Update(ctx, by, func(tx *store.Tx) (err error) {
		if r.ID = l.row; r.ID != 0 {
			r, err = tx.FinishListening(r)
			return err
		}
		r, err = tx.AddListening(r)
		return err
	})
	if err != nil {
		return r, explain(err)
	}
	l.gone = true
	l.sound.letGo()
	l.mu.Lock()
	l.kept = r.ID
	l.mu.Unlock()
	return r, nil
}

// throwLive ends a run and forgets it.
func (s *Shop) throwLive(ctx context.Context, by string, l *Live) error {
	l.keeping.Lock()
	if l.row != 0 && !l.gone {
		err := s.store.Update(ctx, by, func(tx *store.Tx) error { return tx.DropListening(l.row) })
		if err != nil {
			l.keeping.Unlock()
			return explain(err)
		}
	}
	l.gone = true
	l.keeping.Unlock()
	l.end()
	<-l.ended
	l.sound.letGo()
	s.ears.mu.Lock()
	defer s.ears.mu.Unlock()
	for i, x := range s.ears.lives {
		if x == l {
			s.ears.lives = append(s.ears.lives[:i:i], s.ears.lives[i+1:]...)
			break
		}
	}
	return nil
}

// trouble is what is wrong with the sound itself, the most likely cause
// first; "" where nothing is.
func (l *Live) trouble(st LiveState) string {
	switch {
	case !st.Running:
		return ""
	case st.Lacking > lackAfter:
		return "No sound is coming in. Look whether the recorder is still connected; the run goes on when it is back."
	case len(l.stretch) == 0:
		return "Waiting for the first sound."
	case st.Level.Peak == 0 && st.Verdict != beat.Regular:
		return "The sound is exact silence: the microphone is switched off, or the browser may not use it. Allow it and choose the right one."
	case l.still.gate():
		return "The quiet between the beats is exact silence: something takes it away. Switch noise suppression off in the sound settings of the system."
	case st.Level.Clipped > 1e-3:
		return "Too loud: the sound is cut off at the top. Turn the recorder down, or move it away a little."
	case st.Verdict != beat.Regular && st.Level.Peak < 0.002:
		return "Too quiet: put the phone on the case side, or turn the recorder up."
	}
	return ""
}
