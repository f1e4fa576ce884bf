package present

import (
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
)

// notices sets findings that ask for something as framed sentences, in the
// order given; craft puts what can hurt and what does not agree first. What
// is only worth knowing stands in the margin ([remarks]).
func notices(findings []meas.Finding) []doc.Block {
	var out []doc.Block
	for _, f := range findings {
		if f.Level == meas.Note {
			continue
		}
		n := doc.Notice{Kind: doc.NoteNotice, Text: f.Text, Next: f.Next, Ref: f.Ref}
		switch f.Level {
		case meas.Danger:
			n.Kind, n.Title = doc.CautionNotice, "Before you touch it"
			if n.Next == clean.LastWord { // who decides is no step to take
				n.Text, n.Next = n.Text+" "+n.Next, ""
			}
		case meas.Clash:
			n.Kind, n.Title = doc.ClashNotice, "Two things do not agree"
		case meas.Doubt:
			n.Kind, n.Title = doc.DoubtNotice, "This cannot be told yet"
		}
		out = append(out, n)
	}
	return out
}

// remarks sets what is worth knowing as plain sentences for the margin.
func remarks(findings []meas.Finding) []doc.Block {
	var out []doc.Block
	for _, f := range findings {
		if f.Level != meas.Note {
			continue
		}
		text := f.Text
		if f.Next != "" {
			text += " " + f.Next
		}
		out = append(out, doc.Para{Text: text})
	}
	return out
}

// sources gathers the references of working and findings, without repeats.
func sources(steps []cite.Step, findings []meas.Finding, more ...cite.Ref) doc.Sources {
	seen := map[string]bool{}
	var s doc.Sources
	add := func(r cite.Ref) {
		if t := r.String(); t != "" && !seen[t] {
			seen[t] = true
			s.Refs = append(s.Refs, r)
		}
	}
	for _, x := range steps {
		add(x.Ref)
	}
	for _, x := range findings {
		add(x.Ref)
	}
	for _, r := range more {
		add(r)
	}
	return s
}
