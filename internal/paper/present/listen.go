package present

import (
	"fmt"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// Listen sets out what was heard of a clock. It opens with sentences, the
// first of them large: what a restorer can act on. Figures and tables follow.
func Listen(a listen.Answer) doc.Doc {
	d := doc.Doc{Title: "Listening", Lead: heardLine(a)}
	say, more := listenSentences(a)
	open := doc.Section{Body: []doc.Block{doc.Say{Text: say}}}
	if len(more) > 0 {
		open.Body = append(open.Body, doc.List{Items: more})
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working}, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open)
	for _, s := range []doc.Section{wheelSection(a)} {
		if len(s.Body) > 0 {
			d.Sections = append(d.Sections, s)
		}
	}
	return d
}

// heardLine says what there was to hear.
func heardLine(a listen.Answer) string {
	h := a.Hearing
	heard := 0
	for _, r := range h.Runs {
		heard += r.Heard
	}
	if heard == 0 {
		heard = len(h.Beats)
	}
	what := times(heard, "beat", "beats")
	if h.Length > 0 {
		what += " in " + lasting(h.Length)
	}
	if h.Rate > 0 {
		what += fmt.Sprintf(" of sound at %s samples a second", counted(h.Rate))
	}
	if n := len(h.Runs); n > 1 {
		what += fmt.Sprintf(", in %d stretches", n)
	}
	if !h.Complete {
		what += "; stopped before its end"
	}
	return what + "."
}

// wheelSection is the evidence against each part of the train.
func wheelSection(a listen.Answer) doc.Section {
	s := doc.Section{Heading: "The wheel at fault"}
	if a.Culprit == nil {
		return s
	}
	if f, ok := ringFigure(*a.Culprit); ok {
		s.Body = append(s.Body, f)
	}
	return s
}

// longestRun is the stretch with the most beats, nil where there is none.
func longestRun(h beat.Hearing) *beat.Run {
	var best *beat.Run
	for i := range h.Runs {
		if best == nil || h.Runs[i].Heard > best.Heard {
			best = &h.Runs[i]
		}
	}
	return best
}

// stretch is how long the beats behind the rate were followed.
func stretch(a listen.Answer) unit.Duration {
	switch {
	case a.Going != nil && a.Going.Span > 0:
		return a.Going.Span
	default:
		return a.Hearing.Length
	}
}
