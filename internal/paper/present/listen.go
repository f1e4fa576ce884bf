package present

import (
	"cmp"
	"fmt"
	"slices"

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
	open.Body = append(open.Body, notices(untold(a.Findings))...)
	open.Margin = append(remarks(untold(a.Findings)), doc.Working{Steps: a.Working})
	if s := sources(a.Working, a.Findings); len(s.Lines()) > 0 {
		open.Margin = append(open.Margin, s)
	}
	d.Sections = append(d.Sections, open)
	for _, s := range []doc.Section{wheelSection(a), beatsSection(a), steadySection(a), soundsSection(a)} {
		if len(s.Body) > 0 {
			d.Sections = append(d.Sections, s)
		}
	}
	return d
}

// heardLine says what there was to hear.
func heardLine(a listen.Answer) string {
	h := a.Hearing
	heard, stretches := 0, 0
	for _, r := range h.Runs {
		if heard += r.Heard; r.Heard > 0 {
			stretches++
		}
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
	if stretches > 1 {
		what += fmt.Sprintf(", in %d stretches", stretches)
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
	if f, ok := suspectsFigure(*a.Culprit); ok {
		s.Body = append(s.Body, f)
	}
	if f, ok := ringFigure(*a.Culprit); ok {
		s.Body = append(s.Body, f)
	}
	return s
}

// beatsSection is every beat against the mean rate, and what else was heard.
func beatsSection(a listen.Answer) doc.Section {
	s := doc.Section{Heading: "Every beat"}
	if f, ok := residualsFigure(a); ok {
		s.Body = append(s.Body, f)
	}
	if t := stretchesTable(a.Hearing); len(t.Rows) > 1 {
		s.Body = append(s.Body, t)
	}
	if t := marksTable(a.Hearing.Marks); len(t.Rows) > 0 {
		s.Body = append(s.Body, t)
	}
	return s
}

func steadySection(a listen.Answer) doc.Section {
	s := doc.Section{Heading: "How steady it is"}
	if f, ok := allanFigure(a.Going); ok {
		s.Body = append(s.Body, f)
	}
	return s
}

func soundsSection(a listen.Answer) doc.Section {
	s := doc.Section{Heading: "Tick and tock"}
	if f, ok := soundsFigure(a.Hearing); ok {
		s.Body = append(s.Body, f)
	}
	return s
}

// stretchesTable lists the unbroken stretches.
func stretchesTable(h beat.Hearing) doc.Table {
	t := doc.Table{Caption: "Stretches heard without a break", Columns: []doc.Column{{Head: "From"}, {Head: "To"}, {Head: "Beats", Number: true}, {Head: "Silent", Number: true}, {Head: "Extra", Number: true}, {Head: "Beat", Unit: "s", Number: true}, {Head: "Ended by"}}}
	ends := map[beat.Ending]string{beat.EndOfSound: "the end", beat.Stopped: "the clock stopped", beat.Stepped: "sound lost or put in", beat.Silence: "the sound cut off"}
	for _, r := range h.Runs {
		if r.Heard == 0 {
			continue
		}
		t.Rows = append(t.Rows, []string{atTime(r.From), atTime(r.To), counted(float64(r.Heard)), counted(float64(r.Silent)), counted(float64(r.Extra)), unit.Number(float64(r.Beat), 6), ends[r.EndedBy]})
	}
	return t
}

// mostMarks is how many single things are listed.
const mostMarks = 40

// marksTable lists what was heard that is not a beat, noises left out.
func marksTable(marks []beat.Mark) doc.Table {
	t := doc.Table{Caption: "Beside the beats", Columns: []doc.Column{{Head: "At"}, {Head: "What"}, {Head: "Size"}}}
	left := 0
	inOrder := slices.SortedStableFunc(slices.Values(marks), func(a, b beat.Mark) int { return cmp.Compare(a.At, b.At) })
	for _, m := range inOrder {
		if len(t.Rows) == mostMarks {
			left++
			continue
		}
		size := ""
		if m.Size != 0 {
			size = signedNumber(unit.In(m.Size, "ms"), 3) + "\u00a0ms"
		}
		t.Rows = append(t.Rows, []string{atTime(m.At), string(m.Kind), size})
	}
	if left > 0 {
		t.Note = fmt.Sprintf("And %s more.", counted(float64(left)))
	}
	return t
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
