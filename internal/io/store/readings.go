package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/meas"
)

// ErrNoListening is returned for a record of listening that is not kept.
var ErrNoListening = errors.New("store: no such listening")

// ErrFinished is returned where something would be added to a record of
// listening that is finished.
var ErrFinished = errors.New("store: the listening is finished")

const (
	listeningList = `id, uid, coalesce(clock_id, 0), started, started_how, length, source, path, settings, rate, sample_clock, verdict, gist, program, note, who, audio, beats, finished, saved, removed`
	listeningKeys = `uid, clock_id, started, started_how, length, source, path, settings, rate, sample_clock, verdict, gist, answer, program, note, who, audio, beats, finished, saved, removed`
	// listeningRecord is the name of such a record in the history.
	listeningRecord = "listening"
	addedField      = "added" // After is what it is, in a line
)

// Listenings lists what was listened to of a clock, the last kept first,
// removed ones among them; without the answers and the beats.
func (tx *Tx) Listenings(clock int64) ([]readings.Listening, error) {
	return tx.listenings(`SELECT `+listeningList+` FROM listening WHERE clock_id = $1 AND finished = 1 ORDER BY id DESC`, clock)
}

// Unfinished lists what runs now and what was cut off by an unclean end, the
// last begun first; without the answers and the beats.
func (tx *Tx) Unfinished() ([]readings.Listening, error) {
	return tx.listenings(`SELECT ` + listeningList + ` FROM listening WHERE finished = 0 ORDER BY id DESC`)
}

// Listening reads one with its answer and its beats.
func (tx *Tx) Listening(id int64) (readings.Listening, error) {
	return tx.listeningWhere(`id = $1`, id)
}

// ListeningByUID reads the one with an identifier.
func (tx *Tx) ListeningByUID(uid string) (readings.Listening, error) {
	return tx.listeningWhere(`uid = $1`, uid)
}

func (tx *Tx) listeningWhere(where string, arg any) (readings.Listening, error) {
	found, err := tx.listenings(`SELECT `+listeningList+` FROM listening WHERE `+where, arg)
	if err != nil || len(found) == 0 {
		return readings.Listening{}, errors.Join(err, ErrNoListening)
	}
	l := found[0]
	if err := tx.tx.QueryRowContext(tx.ctx, `SELECT answer FROM listening WHERE id = $1`, l.ID).Scan(&l.Answer); err != nil {
		return l, fmt.Errorf("store: read listening: %w", err)
	}
	l.Beats = []beat.Beat{}
	err = tx.each(`SELECT beats FROM listening_beats WHERE listening_id = $1 ORDER BY part`, []any{l.ID}, func(r *sql.Rows) error {
		var b []byte
		if err := r.Scan(&b); err != nil {
			return err
		}
		part, err := readings.Decode(b)
		l.Beats = append(l.Beats, part...)
		return err
	})
	l.Count = len(l.Beats)
	return l, err
}

func (tx *Tx) listenings(query string, args ...any) ([]readings.Listening, error) {
	var out []readings.Listening
	err := tx.each(query, args, func(r *sql.Rows) error {
		var l readings.Listening
		var started, saved, removed, clock, gist string
		var finished int
		err := r.Scan(&l.ID, &l.UID, &l.ClockID, &started, &l.How, &l.Length, &l.Source, &l.Path, &l.Settings, &l.Rate, &clock,
			&l.Verdict, &gist, &l.Program, &l.Note, &l.By, &l.Audio, &l.Count, &finished, &saved, &removed)
		if err != nil {
			return err
		}
		l.Started, l.Saved, l.Removed, l.Finished = instant(started), instant(saved), instant(removed), finished != 0
		if err := json.Unmarshal([]byte(clock), &l.Clock); err != nil {
			return fmt.Errorf("sample clock of listening %d: %w", l.ID, err)
		}
		if err := json.Unmarshal([]byte(gist), &l.Gist); err != nil {
			return fmt.Errorf("gist of listening %d: %w", l.ID, err)
		}
		out = append(out, l)
		return nil
	})
	return out, err
}

// AddListening keeps a record of listening. A finished one goes into the
// file of its clock, whose history says so; the error is ErrNotFound where
// there is no such clock. An unfinished one need not have a clock.
func (tx *Tx) AddListening(l readings.Listening) (readings.Listening, error) {
	l.Saved, l.Removed = tx.now, instant("")
	if f := l.Check(); len(f) > 0 {
		return l, meas.Faults(f)
	}
	l.Count = len(l.Beats)
	if err := tx.clockOf(l); err != nil {
		return l, err
	}
	if err := tx.insertListening(&l); err != nil {
		return l, err
	}
	return l, tx.noteListening(l)
}

// insertListening writes a new row with its beats, and sets the ID.
func (tx *Tx) insertListening(l *readings.Listening) error {
	args, err := listeningArgs(*l)
	if err != nil {
		return err
	}
	query := `INSERT INTO listening (` + listeningKeys + `) VALUES (` + places(1, len(args)) + `) RETURNING id`
	if err := tx.tx.QueryRowContext(tx.ctx, query, args...).Scan(&l.ID); err != nil {
		return fmt.Errorf("store: add listening: %w", err)
	}
	return tx.writeBeats(l.ID, l.Beats)
}

// clockOf refuses a clock that is not in the book.
func (tx *Tx) clockOf(l readings.Listening) error {
	if l.ClockID == 0 && !l.Finished {
		return nil
	}
	_, err := tx.idOf(`id = $1`, l.ClockID)
	return err
}

// listeningArgs is the values of listeningKeys.
func listeningArgs(l readings.Listening) ([]any, error) {
	clock, err := json.Marshal(l.Clock)
	if err != nil {
		return nil, fmt.Errorf("store: sample clock: %w", err)
	}
	gist, err := json.Marshal(l.Gist)
	if err != nil {
		return nil, fmt.Errorf("store: gist: %w", err)
	}
	id := sql.NullInt64{Int64: l.ClockID, Valid: l.ClockID != 0}
	return []any{l.UID, id, stamp(job.Instant(l.Started)), string(l.How), float64(l.Length), l.Source, string(l.Path), l.Settings, l.Rate, string(clock),
		string(l.Verdict), string(gist), l.Answer, l.Program, l.Note, l.By, l.Audio, l.Count, number(l.Finished), stamp(l.Saved), stamp(l.Removed)}, nil
}

// noteListening puts a finished one into the history of its clock.
func (tx *Tx) noteListening(l readings.Listening) error {
	if !l.Finished {
		return nil
	}
	return tx.listeningChange(l, job.Change{Field: addedField, After: l.Words()})
}

// listeningChange notes a change of a listening and touches its clock.
func (tx *Tx) listeningChange(l readings.Listening, h job.Change) error {
	c, err := tx.Clock(l.ClockID)
	if err != nil {
		return err
	}
	s, err := tx.Survey(c.ID)
	if err != nil {
		return err
	}
	if err := tx.touchClock(c, s); err != nil {
		return err
	}
	h.Record, h.Field = listeningRecord, l.UID+"."+h.Field
	return tx.addChanges(c.ID, []job.Change{h})
}

// partBeats is how many beats lie in one part.
const partBeats = 1 << 13

// writeBeats keeps beats in parts; a part that stands so already is not
// written again.
func (tx *Tx) writeBeats(id int64, beats []beat.Beat) error {
	part := 0
	for ; len(beats) > 0; part++ {
		n := min(len(beats), partBeats)
		err := tx.exec(`INSERT INTO listening_beats (listening_id, part, beats) VALUES ($1, $2, $3)
ON CONFLICT (listening_id, part) DO UPDATE SET beats = excluded.beats WHERE listening_beats.beats <> excluded.beats`, id, part, readings.Encode(beats[:n]))
		if err != nil {
			return err
		}
		beats = beats[n:]
	}
	return tx.exec(`DELETE FROM listening_beats WHERE listening_id = $1 AND part >= $2`, id, part)
}

// GoOn keeps what has become of an unfinished listening. Of its beats only
// the parts that changed are written, so that little is written however long
// it runs. The error is ErrFinished for a finished one.
func (tx *Tx) GoOn(l readings.Listening) error {
	l.Finished = false
	_, err := tx.become(l)
	return err
}

// FinishListening puts an unfinished listening, as it has become, into the
// file of its clock.
func (tx *Tx) FinishListening(l readings.Listening) (readings.Listening, error) {
	l.Finished = true
	l, err := tx.become(l)
	if err != nil {
		return l, err
	}
	return l, tx.noteListening(l)
}

// become writes over an unfinished listening.
func (tx *Tx) become(l readings.Listening) (readings.Listening, error) {
	stands, err := tx.openListening(l.ID)
	if err != nil {
		return l, err
	}
	l.UID, l.Saved, l.Count = stands.UID, tx.now, len(l.Beats)
	if f := l.Check(); len(f) > 0 {
		return l, meas.Faults(f)
	}
	if err := tx.clockOf(l); err != nil {
		return l, err
	}
	args, err := listeningArgs(l)
	if err != nil {
		return l, err
	}
	query := `UPDATE listening SET (` + listeningKeys + `) = (` + places(1, len(args)) + fmt.Sprintf(`) WHERE id = $%d`, len(args)+1)
	if err := tx.exec(query, append(args, l.ID)...); err != nil {
		return l, err
	}
	return l, tx.writeBeats(l.ID, l.Beats)
}

// DropListening throws an unfinished listening away. It was in no clock's
// file, so nothing of it stays. The error is ErrFinished for a finished one.
func (tx *Tx) DropListening(id int64) error {
	if _, err := tx.openListening(id); err != nil {
		return err
	}
	if err := tx.exec(`DELETE FROM listening_beats WHERE listening_id = $1`, id); err != nil {
		return err
	}
	return tx.exec(`DELETE FROM listening WHERE id = $1`, id)
}

// openListening is an unfinished listening.
func (tx *Tx) openListening(id int64) (readings.Listening, error) {
	found, err := tx.listenings(`SELECT `+listeningList+` FROM listening WHERE id = $1`, id)
	switch {
	case err != nil:
		return readings.Listening{}, err
	case len(found) == 0:
		return readings.Listening{}, ErrNoListening
	case found[0].Finished:
		return readings.Listening{}, ErrFinished
	}
	return found[0], nil
}

// RemoveListening marks a listening of a clock's file removed, or puts it
// back; its history says so. What is so already stays as it is.
func (tx *Tx) RemoveListening(id int64, removed bool) error {
	found, err := tx.listenings(`SELECT `+listeningList+` FROM listening WHERE id = $1 AND finished = 1`, id)
	if err != nil || len(found) == 0 {
		return errors.Join(err, ErrNoListening)
	}
	l := found[0]
	if removed == !l.Removed.IsZero() {
		return nil
	}
	at, h := "", job.Change{Field: job.RemovedField, Before: "yes", After: "no"}
	if removed {
		at, h.Before, h.After = stamp(tx.now), "no", "yes"
	}
	if err := tx.exec(`UPDATE listening SET removed = $2 WHERE id = $1`, id, at); err != nil {
		return err
	}
	return tx.listeningChange(l, h)
}

// NoteListening changes the note of a listening of a clock's file.
func (tx *Tx) NoteListening(id int64, note string) error {
	found, err := tx.listenings(`SELECT `+listeningList+` FROM listening WHERE id = $1 AND finished = 1`, id)
	if err != nil || len(found) == 0 {
		return errors.Join(err, ErrNoListening)
	}
	l := found[0]
	h := job.Change{Field: "note", Before: l.Note, After: note}
	if l.Note = note; h.Before == note {
		return nil
	}
	if f := l.Check(); len(f) > 0 {
		return meas.Faults(f)
	}
	if err := tx.exec(`UPDATE listening SET note = $2 WHERE id = $1`, id, note); err != nil {
		return err
	}
	return tx.listeningChange(l, h)
}
