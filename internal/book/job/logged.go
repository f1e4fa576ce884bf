package job

import (
	"encoding/json"
	"fmt"
	"slices"

	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
)

// What one file holds at most.
const (
	maxLogs   = 10_000
	maxPhotos = 20_000
)

// logged is a log as JSON; its entries are handed on as they are.
type logged struct {
	Book    string `json:"book"`
	Name    string `json:"name"`
	Entries raw    `json:"entries"` // a list
}

func loggedOf(logs []Log) []logged {
	out := []logged{}
	for _, l := range logs {
		list := []byte("[")
		for i, e := range l.Entries {
			if i > 0 {
				list = append(list, ',')
			}
			list = append(list, e...)
		}
		out = append(out, logged{l.Book, l.Name, raw(append(list, ']'))})
	}
	return out
}

// logs is the logs that were read. What their entries say is for those who
// know their books.
func (d file) logs(f *faults) []Log {
	if len(d.Logs) > maxLogs {
		f.add("logs", "There are %d logs; %d are the most", len(d.Logs), maxLogs)
		return nil
	}
	var out []Log
	seen := map[[2]string]bool{}
	for i, l := range d.Logs {
		at := fmt.Sprintf("logs[%d]", i)
		f.text(at+".book", l.Book)
		f.text(at+".name", l.Name)
		if seen[[2]string{l.Book, l.Name}] {
			f.add(at+".name", "Two logs have this name; keep one")
		}
		seen[[2]string{l.Book, l.Name}] = true
		r := Log{Book: l.Book, Name: l.Name}
		if err := json.Unmarshal([]byte(l.Entries), &r.Entries); err != nil || len(r.Entries) == 0 {
			f.add(at+".entries", "The entries are not a list […] with something in it")
		}
		out = append(out, r)
	}
	return out
}

func photosOf(photos []picture.Photo) []picture.Photo {
	out := append([]picture.Photo{}, photos...)
	for i := range out { // an empty list is written as one
		if out[i].Parts == nil {
			out[i].Parts = []parts.Number{}
		}
		if out[i].Marks == nil {
			out[i].Marks = []picture.Mark{}
		}
	}
	return out
}

// photos is the records of photographs that were read; their files are not
// here.
func (d file) photos(f *faults) []picture.Photo {
	if len(d.Photos) > maxPhotos {
		f.add("photographs", "There are %d photographs; %d are the most", len(d.Photos), maxPhotos)
		return nil
	}
	seen := map[string]bool{}
	for i := range d.Photos {
		p, at := &d.Photos[i], fmt.Sprintf("photographs[%d].", i)
		p.Small, p.Why = picture.None, picture.StayedElsewhere
		filed := *p
		filed.ClockID = 1 // it is in the file of this clock, whichever number that gets
		for _, x := range filed.Check() {
			f.add(at+x.Field, "%s", x.Text)
		}
		for _, t := range [][2]string{{"name", p.Name}, {"taken", p.Taken}, {"by", p.By}} {
			f.text(at+t[0], t[1])
		}
		f.instant(at+"received", p.Received)
		f.instant(at+"removed", p.Removed)
		if p.Version < 1 {
			f.add(at+"version", "The version counts from 1")
		}
		if seen[p.UID] {
			f.add(at+"uid", "Two photographs have this identifier")
		}
		seen[p.UID] = true
		p.Received, p.Removed = Instant(p.Received), Instant(p.Removed)
	}
	if d.Main != "" && !slices.ContainsFunc(d.Photos, func(p picture.Photo) bool { return p.UID == d.Main }) {
		f.add("main_photograph", "There is no photograph of this identifier in the file")
	}
	return d.Photos
}
