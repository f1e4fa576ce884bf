package shop

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/io/store"
)

// brought is a file without what an import may change: when the clock was
// last touched, and the last line of its history.
func brought(t *testing.T, file string, news int) string {
	t.Helper()
	f, err := job.Decode(strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	f.Clock.Touched = f.Clock.Created
	f.History = f.History[:len(f.History)-news]
	var b bytes.Buffer
	if err := job.Encode(&b, f); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func exported(t *testing.T, s *Shop, id int64) string {
	t.Helper()
	var b bytes.Buffer
	if err := s.Export(t.Context(), id, &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// withSound keeps a recording of a clock with its sound, and removes another.
func withSound(t *testing.T, s *Shop, clock int64) {
	t.Helper()
	held, err := s.ears.files.Hold(t.Context(), strings.NewReader("tick tock"), 100)
	if err != nil {
		t.Fatal(err)
	}
	defer held.Close()
	if err := held.Keep(); err != nil {
		t.Fatal(err)
	}
	for i, uid := range []string{"00000000000000a1", "00000000000000a2"} {
		l := heardOf(t, known7200)
		l.UID, l.ClockID, l.Finished, l.Started, l.How = uid, clock, true, at(24)(), readings.InFile
		if i == 0 {
			l.Audio = held.Sum()
		}
		err := s.store.Update(t.Context(), "tester", func(tx *store.Tx) error {
			l, err := tx.AddListening(l)
			if err == nil && i == 1 {
				err = tx.RemoveListening(l.ID, true)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// TestExportImportExport: what leaves a shop comes back as it was, to the
// byte, however often; only the history grows by each return.
func TestExportImportExport(t *testing.T) {
	from := open(t)
	c := add(t, from, job.Clock{Number: "2026-001", Title: "Lantern clock"})
	withSound(t, from, c.ID)
	file := exported(t, from, c.ID)
	if strings.Count(file, `"uid"`) != 3 || !strings.Contains(file, `"answer": {`) {
		t.Fatalf("the listenings are not in\n%s", file)
	}
	first, news := brought(t, file, 0), 0
	for range 3 {
		s := open(t)
		got, err := s.Import(t.Context(), "tester", strings.NewReader(file))
		kept := got.Clock
		if err != nil || len(got.Unread)+len(got.Ended) > 0 {
			t.Fatal(err, got)
		}
		file = exported(t, s, kept.ID)
		news++
		if diff := cmp.Diff(first, brought(t, file, news)); diff != "" {
			t.Fatalf("it comes back as another\n%s", diff)
		}
		list, err := s.Listenings(t.Context(), kept.ID)
		if err != nil || len(list) != 2 || list[0].Removed.IsZero() {
			t.Fatalf("%v %v", list, err)
		}
		one, err := s.Listening(t.Context(), list[1].ID)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := Tell(one); err != nil || got.Differs {
			t.Errorf("the answer that came along: %v", err)
		}
		if _, err := s.Sound(t.Context(), one.ID); AsProblem(err).Code != NotFound {
			t.Errorf("there is a sound: %v", err)
		}
	}
}

// TestSoundOfAnImportedClock: a recording that stayed elsewhere is no damage,
// and does not keep a backup from being written.
func TestSoundOfAnImportedClock(t *testing.T) {
	from, to := open(t), open(t)
	c := add(t, from, job.Clock{Number: "2026-001"})
	withSound(t, from, c.ID)
	kept, err := to.Import(t.Context(), "tester", strings.NewReader(exported(t, from, c.ID)))
	if err != nil {
		t.Fatal(err)
	}
	got, err := to.Check(t.Context())
	if err != nil || len(got.Problems) > 0 || got.Elsewhere != 1 || got.Files != 0 {
		t.Errorf("%+v %v", got, err)
	}
	b, err := to.Backup(t.Context(), t.TempDir()+"/copy.zip", false, nil)
	if err != nil || len(b.Files)+len(b.LeftOut) != 0 {
		t.Errorf("%+v %v", b, err)
	}
	l := heardOf(t, known7200)
	l.UID, l.ClockID, l.Finished, l.Audio = "00000000000000a3", kept.Clock.ID, true, strings.Repeat("0", 64)
	if err := to.store.Update(t.Context(), "tester", func(tx *store.Tx) error { _, err := tx.AddListening(l); return err }); err != nil {
		t.Fatal(err)
	}
	if got, err := to.Check(t.Context()); err != nil || len(got.Problems) != 1 || !strings.Contains(got.Problems[0], l.Audio) {
		t.Errorf("one that was kept here is missing and nothing is said: %+v %v", got, err)
	}
	if _, err := to.Backup(t.Context(), t.TempDir()+"/copy.zip", false, nil); AsProblem(err).Code != Storage || !strings.Contains(AsProblem(err).Message, l.Audio) {
		t.Errorf("%v", err)
	}
	h, err := to.Holding(t.Context())
	if err != nil || h != (Holding{Clocks: 1, Missing: 1}) {
		t.Errorf("%+v %v", h, err)
	}
}

func TestImportNamesWhatIsWrong(t *testing.T) {
	from, to := open(t), open(t)
	c := add(t, from, job.Clock{Number: "2026-001"})
	withSound(t, from, c.ID)
	file := exported(t, from, c.ID)
	for name, x := range map[string]struct{ old, new, field string }{
		"beats cut short": {`"base64": "AfAB`, `"base64": "AfABAAAA`, "listenings[0].beats.base64"},
		"another count":   {`"count": 240`, `"count": 241`, "listenings[0].beats.count"},
		"not a sum":       {`"audio": "`, `"audio": "x`, "listenings[0].audio"},
	} {
		if !strings.Contains(file, x.old) {
			t.Fatalf("%s: nothing is changed", name)
		}
		_, err := to.Import(t.Context(), "tester", strings.NewReader(strings.Replace(file, x.old, x.new, 1)))
		var p *Problem
		if !errors.As(err, &p) || p.Code != BadInput || len(p.Fields) == 0 || p.Fields[0].Field != x.field {
			t.Errorf("%s: %v", name, err)
		}
	}
	if l, err := to.Find(t.Context(), "", ""); err != nil || l.Total != 0 {
		t.Errorf("something came in: %+v %v", l, err)
	}
	if _, err := to.Import(t.Context(), "tester", strings.NewReader(file)); err != nil {
		t.Fatal(err)
	}
	another := strings.Replace(file, c.UID, "0000000000000001", 1)
	_, err := to.Import(t.Context(), "tester", strings.NewReader(another))
	if p := AsProblem(err); p.Code != BadInput || len(p.Fields) != 2 || p.Fields[1].Field != "listenings[1].uid" {
		t.Errorf("the same listenings twice: %+v", p)
	}
}

// TestUnknownNamesStandInTheHistory: what a newer program wrote is not lost.
func TestUnknownNamesStandInTheHistory(t *testing.T) {
	from, to := open(t), open(t)
	c := add(t, from, job.Clock{Number: "2026-001"})
	file := strings.Replace(exported(t, from, c.ID), `"number"`, `"colour": {"of": "the dial"}, "number"`, 1)
	got, err := to.Import(t.Context(), "tester", strings.NewReader(file))
	if err != nil || len(got.Unread) != 1 || got.Unread[0] != "clock.colour" {
		t.Fatal(err, got)
	}
	h, err := to.History(t.Context(), got.Clock.ID)
	if err != nil || !strings.Contains(h[0].Field, "clock.colour") || h[0].After != `{"of":"the dial"}` {
		t.Errorf("%+v %v", h, err)
	}
}

// TestKeptAnswerSurvivesAnExport: an answer of another program comes back
// word for word.
func TestKeptAnswerSurvivesAnExport(t *testing.T) {
	from, to := open(t), open(t)
	c := add(t, from, job.Clock{Number: "2026-001"})
	withSound(t, from, c.ID)
	file := exported(t, from, c.ID)
	var whole map[string]any
	d := json.NewDecoder(strings.NewReader(file))
	d.UseNumber()
	if err := d.Decode(&whole); err != nil {
		t.Fatal(err)
	}
	const answer = `{"said":"by another <program>","mean":{"value":1e-5,"more":[1.10,null]}}`
	whole["listenings"].([]any)[0].(map[string]any)["answer"] = json.RawMessage(answer)
	b, err := json.Marshal(whole)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := to.Import(t.Context(), "tester", bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	list, err := to.Listenings(t.Context(), kept.Clock.ID)
	if err != nil {
		t.Fatal(err)
	}
	l, err := to.Listening(t.Context(), list[1].ID)
	want := strings.NewReplacer("<", `\u003c`, ">", `\u003e`).Replace(answer) // as json.Marshal has written it
	if err != nil || l.Answer != want {
		t.Errorf("%s %v", l.Answer, err)
	}
	if _, err := Tell(l); err == nil {
		t.Error("a mean without a unit is taken for a rate")
	}
}
