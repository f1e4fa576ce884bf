package beat

// Second is another clock that is heard beside the one that is followed.
type Second struct {
	Beat  duration `json:"beat"`  // mean interval of its beats, by the recorder's clock; 0 where it could not be told
	Level float64  `json:"level"` // of its sound beside the first's, a ratio of amplitudes; 0 where it could not be told
	Looks int      `json:"looks"` // stretches of sound, apart from one another, that it was found in
	Heard float64  `json:"heard"` // share of its beats heard where they were expected before they came, 0 to 1
	Mixed bool     `json:"mixed"` // its beats could not be kept apart from the first's: none of those were believed
}

// What is said where two clocks prevent a lock.
const whyTwo = "Two clocks are heard, and their beats cannot be kept apart. Stop the other clock or carry it out of the room, or lay the recorder on the case of the one that is meant."

// What is said where the sounds come in fours, which no one clock does, but
// nothing else tells of a second.
const whyFours = "The sounds come in fours: two clocks are heard, or one and its echo. Lay the recorder on the case of the one that is meant, away from other clocks and bare walls."

// mixed takes the beat just heard in and refuses the run where its beats are
// those of two clocks.
func (p *pursuit) mixed(s sound, strength float32) {
	refused, two := p.mix.take(mixBeat{p.f.n, s.at, float64(strength)}, p.h.tools.rate)
	if !refused {
		return
	}
	p.failed = true
	verdict, why := NotSure, whyFours
	if two {
		p.h.mixed++
		verdict, why = TwoClocks, whyTwo
	}
	p.h.fours++
	p.h.ear.withdraw(p.run, p.proven, verdict, why)
}

// withdraw takes back a run whose beats are not those of one clock.
func (e *Ear) withdraw(run int, open bool, verdict Verdict, why string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if verdict == TwoClocks {
		e.heard.Second = &Second{Mixed: true}
	}
	if !open {
		if len(e.heard.Runs) == 0 {
			e.heard.Verdict, e.heard.Why = verdict, why
		}
		return
	}
	from := e.heard.Runs[run].From
	e.heard.Runs, e.epochs = e.heard.Runs[:run], e.epochs[:run]
	for n := len(e.heard.Beats); n > 0 && e.heard.Beats[n-1].Run >= run; n-- {
		e.heard.Beats = e.heard.Beats[:n-1]
	}
	for n := len(e.heard.Marks); n > 0 && e.heard.Marks[n-1].At >= from; n-- {
		e.heard.Marks = e.heard.Marks[:n-1]
	}
	if run == 0 {
		e.heard.Verdict, e.heard.Why = verdict, why
	}
}

// company notes another clock beside the one that is followed.
func (e *Ear) company(s Second) {
	e.mu.Lock()
	defer e.mu.Unlock()
	s.Mixed = e.heard.Second != nil && e.heard.Second.Mixed
	e.heard.Second = &s
}
