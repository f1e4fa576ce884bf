package job

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"seatboard/internal/book/picture"
	"seatboard/internal/book/readings"
	"seatboard/internal/kit/meas"
)

// MaxFile is the most that one clock as JSON may measure, in bytes.
const MaxFile = 256 << 20

// FileVersion is the version of the shape that [Encode] writes. Version 1,
// which has no listenings, and version 2, which has no logs and no
// photographs, are read as well.
const FileVersion = 3

// notHere says in every file what is not in it.
const notHere = "The photographs and recordings themselves are not in this file, only what is written of them. Each lies under its SHA-256 in the folder files of the shop that wrote this, and in that shop's backups."

// File is one clock's file: all that an export holds.
type File struct {
	Clock      Clock
	Survey     Survey
	Listenings []readings.Listening // oldest first, with answers and beats; removed ones too
	Logs       []Log                // the clock's logs, each oldest entry first
	Photos     []picture.Photo      // as received, the first first; those in the bin too
	Main       string               // UID of the photograph that was chosen for the clock; "" for none
	History    []Change             // oldest first

	// Unread is what stands in a file under names that this program does not
	// know, path by path; [Encode] does not write it.
	Unread []Unread
}

// Log is a log of the clock, entry by entry as it was written.
type Log struct {
	Book    string            // the kind of log
	Name    string            // which of that kind
	Entries []json.RawMessage // oldest first
}

// Unread is a part of a file that this program does not know.
type Unread struct{ Path, JSON string }

// file is one clock as JSON.
type file struct {
	Seatboard  string          `json:"seatboard"` // "clock"
	Version    int             `json:"version"`
	Clock      Clock           `json:"clock"`
	Survey     Survey          `json:"survey"`
	Listenings []heard         `json:"listenings"` // oldest first
	Logs       []logged        `json:"logs"`
	Photos     []picture.Photo `json:"photographs"`
	Main       string          `json:"main_photograph"`
	NotHere    string          `json:"not_in_this_file"`
	History    []Change        `json:"history"` // oldest first
}

// Encode writes one clock's file in the shape of the package comment. A file
// that [Decode] would find too large is an error.
func Encode(w io.Writer, in File) error {
	f := file{Seatboard: "clock", Version: FileVersion, Clock: in.Clock, Survey: in.Survey, Listenings: []heard{}, Logs: loggedOf(in.Logs), Photos: photosOf(in.Photos), Main: in.Main, NotHere: notHere, History: in.History}
	for _, l := range in.Listenings {
		h, err := heardOf(l)
		if err != nil {
			return err
		}
		f.Listenings = append(f.Listenings, h)
	}
	if f.Clock.Holders == nil {
		f.Clock.Holders = []Holder{}
	}
	if f.Clock.Pieces == nil {
		f.Clock.Pieces = []Piece{}
	}
	if f.Survey == nil {
		f.Survey = Survey{}
	}
	if f.History == nil {
		f.History = []Change{}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(f); err != nil {
		return fmt.Errorf("job: write clock: %w", err)
	}
	if b.Len() > MaxFile {
		return faultf("listenings", "The file would be larger than 256 MB, with all that was listened to and written down. Write a backup of the shop instead")
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("job: write clock: %w", err)
	}
	return nil
}

// Decode reads one clock's file. The error is the reader's or a [meas.Faults]
// that names the path of each fault ("clock.holders[1].name"). What stands
// under a name that the shape does not have comes back as Unread, so that
// nothing is lost without a word; a field left out is empty. What
// [Clock.Check] refuses is refused.
func Decode(r io.Reader) (File, error) { return decode(r, MaxFile) }

func decode(r io.Reader, most int64) (File, error) {
	none := func(err error) (File, error) { return File{}, err }
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return none(fmt.Errorf("job: read clock: %w", err))
	}
	var f faults
	if int64(len(b)) > most {
		return none(faultf("", "The file is larger than 256 MB; one clock is smaller. Check that it is the file of one clock"))
	}
	if !utf8.Valid(b) {
		return none(faultf("", "The file is not UTF-8 text; save it as UTF-8"))
	}
	v, err := parse(bytes.TrimPrefix(b, []byte("\ufeff")))
	if err != nil {
		return none(err)
	}
	var doc file
	if !heading(v, &f) {
		return none(f.list)
	}
	fill(v, &doc, &f)
	out := File{Unread: f.unread}
	doc.check(&f)
	out.Listenings = doc.heard(&f)
	out.Logs, out.Photos, out.Main = doc.logs(&f), doc.photos(&f), doc.Main
	if len(f.list) > 0 {
		return none(f.firsts())
	}
	doc.tidy()
	out.Clock, out.Survey, out.History = doc.Clock, doc.Survey, doc.History
	return out, nil
}

// firsts is the faults without those that only follow from another at the
// same place, not more than anyone reads.
func (f *faults) firsts() meas.Faults {
	var out meas.Faults
	seen := map[string]bool{}
	for _, x := range f.list {
		follows := false
		for p := x.Field; p != "" && !follows; p = p[:max(strings.LastIndexAny(p, ".["), 0)] {
			follows = seen[p]
		}
		if !follows && len(out) < mostFaults {
			out, seen[x.Field] = append(out, x), true
		}
	}
	return out
}

// heard is the listenings that were read.
func (d file) heard(f *faults) []readings.Listening {
	out := make([]readings.Listening, 0, len(d.Listenings))
	if len(d.Listenings) > MaxListenings {
		f.add("listenings", "There are %d listenings; %d are the most", len(d.Listenings), MaxListenings)
		return nil
	}
	seen := map[string]bool{}
	for i, h := range d.Listenings {
		at := fmt.Sprintf("listenings[%d]", i)
		out = append(out, h.listening(at, f))
		if seen[h.UID] {
			f.add(at+".uid", "Two listenings have this identifier")
		}
		seen[h.UID] = true
	}
	return out
}

// readable is the versions that are read.
var readable = []string{"1", "2", strconv.Itoa(FileVersion)}

// heading tells whether the file says that it is a clock we can read.
func heading(v any, f *faults) bool {
	o, ok := v.(map[string]any)
	switch version, _ := o["version"].(json.Number); {
	case !ok || o["seatboard"] != "clock":
		f.add("seatboard", `This is not the file of a clock: it does not begin with "seatboard": "clock"`)
	case o["version"] == nil || version.String() == "":
		f.add("version", `The file does not say its version; write "version": %d`, FileVersion)
	case !slices.Contains(readable, version.String()):
		f.add("version", "The file is of version %s; this program reads versions 1 to %d. Use a newer Seatboard", meas.Clip(version.String()), FileVersion)
	case o["clock"] == nil:
		f.add("clock", "There is no clock in the file")
	default:
		return true
	}
	return false
}

// check refuses what cannot be stored.
func (d file) check(f *faults) {
	under := func(prefix string, list []meas.Fault) {
		for _, x := range list {
			f.add(prefix+x.Field, "%s", x.Text)
		}
	}
	under("clock.", d.Clock.Check())
	rows := map[string]bool{}
	number := func(list string, i, n int) {
		key := fmt.Sprint(list, n)
		if n < 1 || rows[key] {
			f.add(fmt.Sprintf("clock.%s[%d].n", list, i), "Number the rows 1, 2, 3 …, each number once")
		}
		rows[key] = true
	}
	for i, h := range d.Clock.Holders {
		number("holders", i, h.N)
	}
	for i, p := range d.Clock.Pieces {
		number("pieces", i, p.N)
	}
	if len(d.Survey) > MaxRows {
		f.add("survey", "There are %d parts; %d are the most", len(d.Survey), MaxRows)
	}
	for _, key := range d.Survey.Keys() {
		under("", d.Survey[key].Check(key))
	}
	for i, c := range d.History {
		at := fmt.Sprintf("history[%d].", i)
		f.instant(at+"when", c.When)
		for _, t := range [][2]string{{"who", c.Who}, {"record", c.Record}, {"field", c.Field}, {"before", c.Before}, {"after", c.After}} {
			f.text(at+t[0], t[1])
		}
	}
}

// tidy brings instants to the form in which they are kept.
func (d *file) tidy() {
	for _, t := range []*time.Time{&d.Clock.Created, &d.Clock.Touched, &d.Clock.Removed} {
		*t = Instant(*t)
	}
	for i := range d.Clock.Holders {
		d.Clock.Holders[i].Removed = Instant(d.Clock.Holders[i].Removed)
	}
	for i := range d.Clock.Pieces {
		d.Clock.Pieces[i].Removed = Instant(d.Clock.Pieces[i].Removed)
	}
	for key, p := range d.Survey {
		p.Saved, p.Removed = Instant(p.Saved), Instant(p.Removed)
		d.Survey[key] = p
	}
	for i := range d.History {
		d.History[i].When = Instant(d.History[i].When)
	}
}

// Instant is a time as records keep it: UTC, whole milliseconds.
func Instant(t time.Time) time.Time {
	if t.IsZero() {
		return time.Time{}
	}
	return t.UTC().Truncate(time.Millisecond)
}
