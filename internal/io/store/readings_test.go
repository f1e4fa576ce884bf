package store_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// listening reads one.
func listening(t *testing.T, s *store.Store, id int64) (l readings.Listening) {
	t.Helper()
	view(t, s, func(tx *store.Tx) (err error) { l, err = tx.Listening(id); return err })
	return l
}

func listings(t *testing.T, s *store.Store, clock int64) (l []readings.Listening) {
	t.Helper()
	view(t, s, func(tx *store.Tx) (err error) { l, err = tx.Listenings(clock); return err })
	return l
}

func TestListeningIsKeptAsItWas(t *testing.T) {
	dir := t.TempDir()
	w := &wall{time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)}
	s := open(t, dir, store.Options{Now: w.Now})
	c := add(t, s, clock(1))
	l := storetest.Listening(400, 3)
	l.ClockID, l.Audio = c.ID, strings.Repeat("ab", 32)
	l.Clock = sampleclock.Clock{Error: -12.5e-6, Limit: 1e-7, How: sampleclock.Calibrated, When: w.now, Device: "Rode □ “x”"}
	update(t, s, func(tx *store.Tx) (err error) { l, err = tx.AddListening(l); return err })
	if l.ID == 0 || !l.Saved.Equal(w.now) {
		t.Errorf("%+v", l)
	}
	shut(t, s)
	s = open(t, dir, store.Options{Now: w.Now})
	if d := cmp.Diff(l, listening(t, s, l.ID)); d != "" {
		t.Errorf("(-given +kept)\n%s", d)
	}
	var byUID readings.Listening
	view(t, s, func(tx *store.Tx) (err error) { byUID, err = tx.ListeningByUID(l.UID); return err })
	if byUID.ID != l.ID {
		t.Errorf("another by its uid: %d", byUID.ID)
	}
	brief := l
	brief.Beats, brief.Answer = nil, ""
	if d := cmp.Diff([]readings.Listening{brief}, listings(t, s, c.ID)); d != "" {
		t.Errorf("(-given +listed)\n%s", d)
	}
	whole(t, s)
}

// TestListeningHistory keeps, notes, removes and puts back.
func TestListeningHistory(t *testing.T) {
	w := &wall{time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)}
	s := open(t, t.TempDir(), store.Options{Now: w.Now})
	a, b := add(t, s, clock(1)), add(t, s, clock(2))
	l := storetest.Listening(10, 3)
	l.ClockID, l.Source, l.Note = a.ID, "longcase.wav", ""
	update(t, s, func(tx *store.Tx) (err error) { l, err = tx.AddListening(l); return err })
	for range 2 { // the second time it is so already
		update(t, s, func(tx *store.Tx) error { return tx.NoteListening(l.ID, "on the case side") })
		w.now = w.now.Add(time.Hour)
		update(t, s, func(tx *store.Tx) error { return tx.RemoveListening(l.ID, true) })
	}
	if got := listening(t, s, l.ID); got.Removed.Hour() != 13 || got.Note != "on the case side" {
		t.Errorf("%v %q", got.Removed, got.Note)
	}
	update(t, s, func(tx *store.Tx) error { return tx.RemoveListening(l.ID, false) })
	if got := listening(t, s, l.ID); !got.Removed.IsZero() {
		t.Errorf("put back: %v", got.Removed)
	}
	_, _, h := load(t, s, a.ID)
	var got []string
	for _, x := range h {
		got = append(got, x.Record+" "+strings.TrimPrefix(x.Field, l.UID)+" "+x.Before+" > "+x.After)
	}
	want := []string{"listening .removed yes > no", "listening .removed no > yes", "listening .note  > on the case side", "listening .added  > regular beat, 10 beats, longcase.wav", "clock created  > 2026-001"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	view(t, s, func(tx *store.Tx) error {
		rows, _, _, err := tx.List(nil, "", 1)
		if len(rows) != 1 || rows[0].ID != a.ID {
			t.Errorf("the clock listened to is not the one touched last, but %d", b.ID)
		}
		return err
	})
}

// TestUnfinishedListening goes on in parts, is found after it was cut off,
// and is finished or thrown away.
func TestUnfinishedListening(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	c := add(t, s, clock(1))
	l := storetest.Listening(20_100, 9)
	all := l.Beats
	l.Finished, l.Beats, l.Answer = false, all[:100], ""
	update(t, s, func(tx *store.Tx) (err error) { l, err = tx.AddListening(l); return err })
	l.Answer = `{"complete":false}`
	for _, n := range []int{100, 12_000, 20_000} {
		l.Beats = all[:n]
		update(t, s, func(tx *store.Tx) error { return tx.GoOn(l) })
	}
	shut(t, s)
	s = open(t, dir, store.Options{})
	var cut []readings.Listening
	view(t, s, func(tx *store.Tx) (err error) { cut, err = tx.Unfinished(); return err })
	if len(cut) != 1 || cut[0].Count != 20_000 || cut[0].ClockID != 0 {
		t.Fatalf("%+v", cut)
	}
	got := listening(t, s, cut[0].ID)
	if d := cmp.Diff(all[:20_000], got.Beats); d != "" || got.Answer != l.Answer {
		t.Errorf("%s\n%s", got.Answer, d)
	}
	if n := len(listings(t, s, c.ID)); n != 0 {
		t.Errorf("%d in the file before anyone kept it", n)
	}
	got.Beats = slices.Clone(all[:9000]) // fewer, and another time in the first part
	got.Beats[5].At = 5.25
	update(t, s, func(tx *store.Tx) error { return tx.GoOn(got) })
	if d := cmp.Diff(got.Beats, listening(t, s, got.ID).Beats); d != "" {
		t.Error(d)
	}
	got.ClockID, got.Beats = c.ID, all
	update(t, s, func(tx *store.Tx) (err error) { got, err = tx.FinishListening(got); return err })
	kept := listening(t, s, got.ID)
	if d := cmp.Diff(all, kept.Beats); d != "" || !kept.Finished || kept.ClockID != c.ID || kept.Count != 20_100 {
		t.Errorf("%+v\n%s", kept.Count, d)
	}
	other := storetest.Listening(5, 10)
	other.Finished = false
	update(t, s, func(tx *store.Tx) (err error) { other, err = tx.AddListening(other); return err })
	update(t, s, func(tx *store.Tx) error { return tx.DropListening(other.ID) })
	view(t, s, func(tx *store.Tx) (err error) { cut, err = tx.Unfinished(); return err })
	if len(cut) != 0 {
		t.Errorf("not thrown away: %+v", cut)
	}
	whole(t, s)
}

func TestListeningRefuses(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	c := add(t, s, clock(1))
	l := storetest.Listening(5, 1)
	l.ClockID = c.ID
	update(t, s, func(tx *store.Tx) (err error) { l, err = tx.AddListening(l); return err })
	loose := storetest.Listening(5, 2)
	bad := storetest.Listening(5, 3)
	bad.ClockID, bad.Settings, bad.Clock.Error = c.ID, "{", 7
	var faults meas.Faults
	for name, try := range map[string]struct {
		do   func(*store.Tx) error
		want func(error) bool
	}{
		"in no clock's file": {func(tx *store.Tx) error { _, err := tx.AddListening(loose); return err }, func(err error) bool { return errors.Is(err, store.ErrNotFound) }},
		"no such clock":      {func(tx *store.Tx) error { loose.ClockID = 99; _, err := tx.AddListening(loose); return err }, func(err error) bool { return errors.Is(err, store.ErrNotFound) }},
		"faults":             {func(tx *store.Tx) error { _, err := tx.AddListening(bad); return err }, func(err error) bool { return errors.As(err, &faults) && len(faults) == 2 }},
		"twice":              {func(tx *store.Tx) error { _, err := tx.AddListening(l); return err }, func(err error) bool { return err != nil }},
		"no such":            {func(tx *store.Tx) error { _, err := tx.Listening(99); return err }, func(err error) bool { return errors.Is(err, store.ErrNoListening) }},
		"go on, finished":    {func(tx *store.Tx) error { return tx.GoOn(l) }, func(err error) bool { return errors.Is(err, store.ErrFinished) }},
		"finish again":       {func(tx *store.Tx) error { _, err := tx.FinishListening(l); return err }, func(err error) bool { return errors.Is(err, store.ErrFinished) }},
		"throw away":         {func(tx *store.Tx) error { return tx.DropListening(l.ID) }, func(err error) bool { return errors.Is(err, store.ErrFinished) }},
		"remove no such":     {func(tx *store.Tx) error { return tx.RemoveListening(99, true) }, func(err error) bool { return errors.Is(err, store.ErrNoListening) }},
		"note":               {func(tx *store.Tx) error { return tx.NoteListening(l.ID, "\x00") }, func(err error) bool { return errors.As(err, &faults) }},
		"no recorder":        {func(tx *store.Tx) error { _, err := tx.SetCalibration(readings.Calibration{}); return err }, func(err error) bool { return errors.As(err, &faults) }},
		"not calibrated":     {func(tx *store.Tx) error { _, err := tx.Calibration("x"); return err }, func(err error) bool { return errors.Is(err, store.ErrNoCalibration) }},
	} {
		if err := s.Update(ctx, "B", try.do); err == nil || !try.want(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if n := len(listings(t, s, c.ID)); n != 1 {
		t.Errorf("%d are kept: what was refused left something", n)
	}
}

func TestCalibrations(t *testing.T) {
	w := &wall{time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)}
	s := open(t, t.TempDir(), store.Options{Now: w.Now})
	set := func(device string, ppm float64) {
		update(t, s, func(tx *store.Tx) error {
			_, err := tx.SetCalibration(readings.Calibration{Device: device, Clock: sampleclock.Clock{Error: unit.Rate(ppm * 1e-6), Limit: 1e-6, How: sampleclock.Calibrated}, Length: 600, By: "A"})
			return err
		})
	}
	set("b", 1)
	set("a", 2)
	w.now = w.now.Add(time.Hour)
	set("b", 3)
	var all []readings.Calibration
	var one readings.Calibration
	view(t, s, func(tx *store.Tx) (err error) {
		if all, err = tx.Calibrations(); err != nil {
			return err
		}
		one, err = tx.Calibration("b")
		return err
	})
	var past []readings.Calibration
	view(t, s, func(tx *store.Tx) (err error) { past, err = tx.CalibrationsOf("b"); return err })
	if len(past) != 2 || past[0] != one || past[1].Clock.Error != 1e-6 || past[1].When.Hour() != 12 {
		t.Errorf("%+v", past)
	}
	warm := one
	warm.Against, warm.Warm = "a time server near by", meas.Reading[unit.Temperature]{Value: 291.65, Entered: "18.5 °C", Set: true}
	update(t, s, func(tx *store.Tx) error { _, err := tx.SetCalibration(warm); return err })
	view(t, s, func(tx *store.Tx) (err error) { past, err = tx.CalibrationsOf("b"); return err })
	if len(past) != 3 || past[0] != warm {
		t.Errorf("%+v, not %+v", past[0], warm)
	}
	if len(all) != 2 || all[0].Device != "a" || all[1].Device != "b" || all[1] != one || one.Clock.Error != 3e-6 || one.When.Hour() != 13 || one.Clock.Device != "b" {
		t.Errorf("%+v", all)
	}
}

// wholeListenings looks at what was listened to in the databases that have it.
func wholeListenings(t *testing.T, s *store.Store, version int) {
	t.Helper()
	for i, f := range storetest.Invented(oldClocks, 1) {
		var c job.Clock
		view(t, s, func(tx *store.Tx) (err error) { c, err = tx.ClockByUID(f.Clock.UID); return err })
		list := listings(t, s, c.ID)
		if version < 2 {
			if len(list) != 0 {
				t.Errorf("version %d has listenings", version)
			}
			continue
		}
		want := storetest.Listening(100, 1+uint64(i))
		if len(list) != 1 {
			t.Errorf("version %d, clock %d: %d listenings", version, i, len(list))
			continue
		}
		got := listening(t, s, list[0].ID)
		want.ID, want.ClockID, want.Saved = got.ID, c.ID, got.Saved
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("version %d, clock %d:\n%s", version, i, d)
		}
	}
}

// An hour's beats are kept and read.
func BenchmarkListening(b *testing.B) {
	s := open(b, b.TempDir(), store.Options{})
	c := add(b, s, clock(1))
	l := storetest.Listening(3600, 1)
	l.ClockID = c.ID
	update(b, s, func(tx *store.Tx) (err error) { l, err = tx.AddListening(l); return err })
	for b.Loop() {
		view(b, s, func(tx *store.Tx) error { _, err := tx.Listening(l.ID); return err })
	}
}

// Beats beyond what can be kept are no reason to fail.
func TestOddBeats(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	l := storetest.Listening(0, 1)
	l.Finished, l.Beats = false, []beat.Beat{{At: 1}, {At: math.MaxInt32}}
	update(t, s, func(tx *store.Tx) (err error) { l, err = tx.AddListening(l); return err })
	if got := listening(t, s, l.ID); len(got.Beats) != 1 || got.Count != 1 {
		t.Errorf("%+v", got)
	}
}
