package job

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// MaxListenings is the most records of listening in one file.
const MaxListenings = 10_000

// raw is JSON that is handed on as it is, white space apart.
type raw string

// MarshalJSON writes the JSON, null for none.
func (r raw) MarshalJSON() ([]byte, error) {
	if r == "" {
		return []byte("null"), nil
	}
	return []byte(r), nil
}

// heard is one listening as JSON.
type heard struct {
	UID      string      `json:"uid"`
	Started  time.Time   `json:"started,omitzero"`
	How      string      `json:"started_how"`
	Length   float64     `json:"length"` // seconds
	Source   string      `json:"source"`
	Path     string      `json:"path"`
	Settings raw         `json:"settings"`
	Rate     float64     `json:"rate"`
	Clock    sampleClock `json:"sample_clock"`
	Verdict  string      `json:"verdict"`
	Gist     gist        `json:"gist"`
	Answer   raw         `json:"answer"`
	Program  string      `json:"program"`
	Note     string      `json:"note"`
	By       string      `json:"by"`
	Audio    string      `json:"audio"`
	Beats    beats       `json:"beats"`
	Saved    time.Time   `json:"saved,omitzero"`
	Removed  time.Time   `json:"removed,omitzero"`
}

type sampleClock struct {
	Error  float64   `json:"error"`
	Limit  float64   `json:"limit"`
	How    string    `json:"how"`
	When   time.Time `json:"when,omitzero"`
	Device string    `json:"device"`
}

type gist struct {
	Mean      *interval `json:"mean"`
	PerHour   *interval `json:"per_hour"`
	BeatError *interval `json:"beat_error"`
	First     string    `json:"first"`
}

type interval struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	U     float64 `json:"u"`
	Unit  string  `json:"unit"`
}

// beats is the beats' times, packed by [readings.Encode].
type beats struct {
	Count  int    `json:"count"`
	Base64 string `json:"base64"`
}

// heardOf is a listening as it is written.
func heardOf(l readings.Listening) (heard, error) {
	h := heard{
		UID: l.UID, Started: l.Started, How: string(l.How), Length: float64(l.Length), Source: l.Source, Path: string(l.Path), Rate: l.Rate,
		Clock:   sampleClock{float64(l.Clock.Error), float64(l.Clock.Limit), string(l.Clock.How), l.Clock.When, l.Clock.Device},
		Verdict: string(l.Verdict), Gist: gist{intervalOf(l.Gist.Mean), intervalOf(l.Gist.PerHour), intervalOf(l.Gist.BeatError), l.Gist.First},
		Program: l.Program, Note: l.Note, By: l.By, Audio: l.Audio, Saved: l.Saved, Removed: l.Removed,
		Beats: beats{len(l.Beats), base64.StdEncoding.EncodeToString(readings.Encode(l.Beats))},
	}
	for _, x := range []struct {
		to   *raw
		name string
		text string
	}{{&h.Settings, "settings", l.Settings}, {&h.Answer, "answer", l.Answer}} {
		text, err := compact(x.text)
		if err != nil {
			return h, fmt.Errorf("job: %s of listening %s: %w", x.name, l.UID, err)
		}
		*x.to = raw(text)
	}
	return h, nil
}

// compact takes the white space between the words of JSON away; null is none.
func compact(s string) (string, error) {
	if s == "" {
		return "", nil
	}
	var b bytes.Buffer
	if err := json.Compact(&b, []byte(s)); err != nil {
		return "", err
	}
	if b.String() == "null" {
		return "", nil
	}
	return b.String(), nil
}

func intervalOf[Q unit.Quantity](i meas.Interval[Q]) *interval {
	if !i.Set {
		return nil
	}
	return &interval{float64(i.Value), float64(i.Low), float64(i.High), float64(i.U), i.Value.Kind().SI().Symbol}
}

// intervalFrom is the interval that was read; its unit must be the SI's.
func intervalFrom[Q unit.Quantity](w *interval, path string, f *faults) (i meas.Interval[Q]) {
	if w == nil {
		return i
	}
	if want := i.Value.Kind().SI().Symbol; w.Unit != want {
		f.add(path+".unit", "The unit is “%s”; it must be “%s”", meas.Clip(w.Unit), want)
	}
	return meas.Interval[Q]{Value: Q(w.Value), Low: Q(w.Low), High: Q(w.High), U: Q(w.U), Set: true}
}

// listening is what was read; faults are named by path.
func (h heard) listening(path string, f *faults) readings.Listening {
	l := readings.Listening{
		UID: h.UID, Started: Instant(h.Started), How: readings.Known(h.How), Length: unit.Duration(h.Length), Source: h.Source, Path: readings.Path(h.Path),
		Settings: string(h.Settings), Rate: h.Rate, Verdict: beat.Verdict(h.Verdict), Answer: string(h.Answer), Program: h.Program, Note: h.Note, By: h.By,
		Clock: sampleclock.Clock{Error: unit.Rate(h.Clock.Error), Limit: unit.Rate(h.Clock.Limit), How: sampleclock.How(h.Clock.How), When: h.Clock.When, Device: h.Clock.Device},
		Audio: h.Audio, Saved: Instant(h.Saved), Removed: Instant(h.Removed), Finished: true,
		Gist: readings.Gist{
			Mean:    intervalFrom[unit.Rate](h.Gist.Mean, path+".gist.mean", f),
			PerHour: intervalFrom[unit.Ratio](h.Gist.PerHour, path+".gist.per_hour", f), BeatError: intervalFrom[unit.Duration](h.Gist.BeatError, path+".gist.beat_error", f),
			First: h.Gist.First,
		},
	}
	l.Beats = h.Beats.read(path+".beats", f)
	l.Count = len(l.Beats)
	for _, x := range l.Check() {
		f.add(path+"."+x.Field, "%s", x.Text)
	}
	f.text(path+".gist.first", h.Gist.First)
	f.text(path+".sample_clock.how", h.Clock.How)
	f.instant(path+".saved", h.Saved)
	return l
}

// read unpacks the beats; no beats may be written as nothing.
func (b beats) read(path string, f *faults) []beat.Beat {
	if b == (beats{}) {
		return []beat.Beat{}
	}
	packed, err := base64.StdEncoding.Strict().DecodeString(b.Base64)
	if err != nil {
		f.add(path+".base64", "The beats are damaged: they are not base64")
		return nil
	}
	out, err := readings.Decode(packed)
	if err != nil {
		f.add(path+".base64", "The beats are damaged: %s", tail(err))
		return nil
	}
	if len(out) != b.Count {
		f.add(path+".count", "The count is %d, and there are %d beats", b.Count, len(out))
	}
	return out
}

// tail is the part of an error after its package's words.
func tail(err error) string {
	text := err.Error()
	for i := len(text) - 1; i > 0; i-- {
		if text[i-1:i+1] == ": " {
			return text[i+1:]
		}
	}
	return text
}
