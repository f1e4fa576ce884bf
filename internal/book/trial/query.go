package trial

import (
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
)

// Query is what stands, to be reckoned with: readings with the answers about
// them applied, touches (a clock found standing is one), and the air. Instants
// come in a zone: that of the time which the clock's hands show. What is known of the clock
// beforehand, the moment of the answer, and what the move to its home does are
// not in the log: Known, Now and Wanted.Move are left for the asker.
func (b Book) Query(zone *time.Location) regulate.Query {
	var q regulate.Query
	q.Wanted.Rate, q.Wanted.Band = DefaultAim().Rate, DefaultAim().Band
	replies := b.replies()
	for i, e := range b.log {
		if !b.standing[i] {
			continue
		}
		switch e.Kind {
		case Read, Tabled:
			for j, r := range e.Readings {
				r.ID, r.At = b.first[i]+j+1, r.At.In(zone)
				if !r.From.IsZero() {
					r.From = r.From.In(zone)
				}
				if a, ok := replies[r.ID]; ok {
					a.apply(&r)
				}
				q.Readings = append(q.Readings, r)
			}
			if e.Kind == Tabled {
				q.Air = append(q.Air, e.Air...)
				q.Touches = append(q.Touches, e.touches(zone)...)
			}
		case Touched:
			q.Touches = append(q.Touches, numbered(*e.Touch, e.N, zone))
		case Stood:
			q.Touches = append(q.Touches, e.Stop.touch(e.N, zone))
		case Answered:
			if t := e.Answer.Touch; t != nil {
				q.Touches = append(q.Touches, numbered(*t, e.N, zone))
			}
		case Aired:
			q.Air = append(q.Air, e.Air...)
		case Aimed:
			q.Wanted.Rate, q.Wanted.Band = e.Aim.Rate, e.Aim.Band
		}
	}
	b.holdBack(q.Readings)
	return q
}

// tableShift is by how many bits the place of a touch in its table stands
// above the number of its event.
const tableShift = 20

// touches are those of a table, numbered.
func (e Event) touches(zone *time.Location) []regulate.Touch {
	var out []regulate.Touch
	for j, t := range e.Touches {
		out = append(out, numbered(t, e.N+j<<tableShift, zone))
	}
	return out
}

func numbered(t regulate.Touch, n int, zone *time.Location) regulate.Touch {
	t.ID, t.At = n, t.At.In(zone)
	return t
}

// replies is the last word on each reading.
func (b Book) replies() map[int]Reply {
	out := map[int]Reply{}
	for i, e := range b.log {
		if b.standing[i] && e.Kind == Answered && e.Answer.Reading > 0 && e.Answer.Touch == nil {
			out[e.Answer.Reading] = *e.Answer
		}
	}
	return out
}

// apply does to a reading what was answered about it.
func (a Reply) apply(r *regulate.Reading) {
	switch {
	case a.Right:
		r.Taken = true
	case a.Shift != 0:
		r.Error += a.Shift
	case a.Later != 0:
		r.At = r.At.Add(time.Duration(float64(a.Later) * float64(time.Second)))
	default:
		r.Out = true
	}
}

// holdBack takes the weight from readings that a setting of the computer's
// clock makes doubtful, until that is settled.
func (b Book) holdBack(readings []regulate.Reading) {
	held := map[int]bool{}
	for _, q := range b.Questions() {
		if q.Used {
			continue
		}
		for _, id := range q.Reading {
			held[id] = !b.said(q.About, id)
		}
	}
	for i := range readings {
		if held[readings[i].ID] {
			readings[i].Out = true
		}
	}
}

const halfDay = 12 * time.Hour

// touch is a clock found standing as a touch: it stood since the last moment
// before at which a clock of that zone showed what its hands show.
func (s Stop) touch(n int, zone *time.Location) regulate.Touch {
	at := s.Found.In(zone)
	shown := time.Duration(s.Hour)*time.Hour + time.Duration(s.Minute*float64(time.Minute))
	if s.Second.Set {
		shown = shown.Truncate(time.Minute) + time.Duration(float64(s.Second.Value)*float64(time.Second))
	}
	now := time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute + time.Duration(at.Second())*time.Second
	turn := halfDay
	if s.Dial == 24 {
		turn = 2 * halfDay
	}
	ago := ((now-shown)%turn + turn) % turn
	u := s.U
	if u == 0 {
		u = 30 * unit.Duration(1)
	}
	return regulate.Touch{ID: n, At: at.Add(-ago), Kind: regulate.Stopped, U: u, Words: s.Words}
}
