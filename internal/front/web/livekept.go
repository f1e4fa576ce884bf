package web

import (
	"cmp"
	"io"
	"net/http"
	"slices"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// noticeLine is something that was noticed beside the sound, in the record.
type noticeLine struct{ When, After, What, For string }

// noticeLines lists what was noticed while a live run was listened to.
func noticeLines(l readings.Listening, marks []beat.Mark) (out []noticeLine) {
	if l.Path != readings.Own && l.Path != readings.Processor && l.Path != readings.Worklet {
		return nil
	}
	noticed := slices.DeleteFunc(slices.Clone(marks), func(m beat.Mark) bool { return m.Kind == beat.SilentBeat || m.Kind == beat.ExtraBeat })
	slices.SortStableFunc(noticed, func(a, b beat.Mark) int { return cmp.Compare(a.At, b.At) })
	for _, m := range noticed {
		x := noticeLine{After: lasting(m.At), What: string(m.Kind)}
		if !l.Started.IsZero() {
			x.When = l.Started.Add(time.Duration(float64(m.At) * 1e9)).Local().Format("15:04:05")
		}
		switch {
		case m.Kind == beat.Zeros:
			x.What, x.For = "exact silence", lasting(m.Size)
		case m.Kind == beat.Step || m.Kind == shop.Shifted:
			x.What += " of " + stepSize(m.Size)
		case m.Size > 0:
			x.For = lasting(m.Size)
		}
		out = append(out, x)
	}
	return out
}

func stepSize(d unit.Duration) string {
	if d < 0 {
		return unit.Text(-d, "ms", 1) + ", lost"
	}
	return unit.Text(d, "ms", 1) + ", put in"
}

// soundKinds are the kinds of sound by how they begin, as a browser plays
// them.
var soundKinds = map[string]string{"fLaC": "audio/flac", "RIFF": "audio/wav", "RF64": "audio/wav", "BW64": "audio/wav", "OggS": "audio/ogg"}

// sendSound sends the sound that was kept.
func (s *Server) sendSound(w http.ResponseWriter, r *http.Request, l readings.Listening) error {
	f, err := s.Shop.Sound(r.Context(), l.ID)
	if err != nil {
		return err
	}
	defer f.Close()
	var head [4]byte
	if _, err := io.ReadFull(f, head[:]); err != nil {
		return err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	kind, name := soundKinds[string(head[:])], l.Source
	if kind == "" {
		kind = "application/octet-stream"
		if head[0] == 0xff || string(head[:3]) == "ID3" {
			kind = "audio/mpeg"
		}
	}
	if l.Path != readings.File { // the name of a microphone is none of a file
		name = "heard " + l.Started.Local().Format("2006-01-02 1504") + ".flac"
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(time.Hour)) // not all connections have one
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", attachment(name))
	http.ServeContent(w, r, "", time.Time{}, f)
	return nil
}

// listenAgain listens once more to the sound that was kept.
func (s *Server) listenAgain(w http.ResponseWriter, r *http.Request) error {
	f, l, err := s.kept(r)
	if err != nil {
		return err
	}
	q, err := s.heardOf(r.Context(), s.by(r), map[string][]string{"clock": {f.Clock.Number}})
	if err != nil {
		return err
	}
	id, err := s.Shop.ListenAgain(r.Context(), s.by(r), l.ID, q)
	if err != nil {
		return err
	}
	http.Redirect(w, r, jobPath(id), http.StatusSeeOther)
	return nil
}
