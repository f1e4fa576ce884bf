package shop

import (
	"encoding/json"
	"errors"
	"fmt"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/paper/present"
	"seatboard/internal/paper/text"
)

// Told is the answer of a kept listening: as it was given then, which is what
// counts, and as this program works it out anew from the beats that were
// kept. The two are never mixed.
type Told struct {
	Then    listen.Answer
	Now     listen.Answer // the zero Answer where it cannot be worked out anew
	Differs bool          // Now says something else than Then
}

// ErrNoAnswer is returned for a listening that was kept without an answer.
var ErrNoAnswer = errors.New("shop: there is no answer in this record")

// ThisProgram is how this program is named in the records it writes.
func ThisProgram() string { return program() }

// Tell reads the answer that was kept with a listening. The place of every
// beat against the line ([rate.Answer.Residuals]) is not kept with it: where
// Now says the same it is lent to Then, else Then has none. The error is
// ErrNoAnswer, or says that this program cannot read the answer; it stands
// in the record all the same.
func Tell(l readings.Listening) (Told, error) {
	var t Told
	if l.Answer == "" {
		return t, ErrNoAnswer
	}
	if err := json.Unmarshal([]byte(l.Answer), &t.Then); err != nil {
		return t, fmt.Errorf("shop: answer of listening %s: %w", l.UID, err)
	}
	t.Then.Hearing.Beats = l.Beats
	q := t.Then.Query
	q.Hearing = t.Then.Hearing
	now, err := listen.Solve(q)
	if err != nil {
		t.Differs = true
		return t, nil
	}
	t.Now = now
	if t.Differs = said(t.Then) != said(now); !t.Differs && t.Then.Going != nil && now.Going != nil {
		t.Then.Going.Residuals = now.Going.Residuals
	}
	return t, nil
}

// said is all that is said of an answer, its pictures apart; residuals, which
// only one of two may have, are left out.
func said(a listen.Answer) string {
	if a.Going != nil {
		g := *a.Going
		g.Residuals = nil
		a.Going = &g
	}
	return text.Render(present.Listen(a), text.Options{Working: true})
}
