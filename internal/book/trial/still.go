package trial

import "seatboard/internal/craft/regulate"

// Still is the last stop where the clock has stood since: nothing that stands
// says that it was set going or seen going after it was found.
func (b Book) Still() (Stop, bool) {
	var last Stop
	found := false
	for i, e := range b.log {
		if b.standing[i] && e.Kind == Stood && (!found || !e.Stop.Found.Before(last.Found)) {
			last, found = *e.Stop, true
		}
	}
	for i, e := range b.log {
		if found && b.standing[i] && e.goes(last) {
			return Stop{}, false
		}
	}
	return last, found
}

// goes tells that the event saw or set the clock going after a stop.
func (e Event) goes(s Stop) bool {
	for _, r := range e.Readings {
		if r.At.After(s.Found) && !r.Out {
			return true
		}
	}
	touches := e.Touches
	if e.Touch != nil {
		touches = append(touches[:len(touches):len(touches)], *e.Touch)
	}
	if e.Answer != nil && e.Answer.Touch != nil {
		touches = append(touches[:len(touches):len(touches)], *e.Answer.Touch)
	}
	for _, t := range touches {
		if t.Kind == regulate.Started && !t.At.Before(s.Found) {
			return true
		}
	}
	return e.Strike != nil && e.Strike.At.After(s.Found)
}
