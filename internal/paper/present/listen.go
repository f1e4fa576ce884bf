package present

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Listen sets out what was heard of a clock. It opens with what the answer
// has to say, the first sentence large; figures and tables follow.
func Listen(a listen.Answer) doc.Doc {
	d := doc.Doc{Title: "Listening", Lead: heardLine(a)}
	var open doc.Section
	var more doc.List
	for i, f := range inReading(a.Findings) {
		text := f.Text
		if f.Next != "" {
			text += " " + f.Next
		}
		if i == 0 {
			open.Body = append(open.Body, doc.Say{Text: text})
			continue
		}
		more.Items = append(more.Items, text)
	}
	if len(more.Items) > 0 {
		open.Body = append(open.Body, more)
	}
	open.Margin = append(open.Margin, doc.Working{Steps: a.Working})
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

// opening are the codes of what is read first; the rest follows as urgent as
// it is.
const opening = " no-beat too-few other-clock no-nominal rate stopped expect limits recorder "

func inReading(all []meas.Finding) []meas.Finding {
	place := func(f meas.Finding) int {
		if i := strings.Index(opening, " "+f.Code+" "); i >= 0 {
			return i
		}
		return len(opening)
	}
	return slices.SortedStableFunc(slices.Values(all), func(x, y meas.Finding) int { return place(x) - place(y) })
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
	what := phrase.Times(heard, "beat", "beats")
	if h.Length > 0 || h.Rate > 0 {
		what += " in " + phrase.Lasting(h.Length)
	}
	if h.Rate > 0 {
		what += fmt.Sprintf(" of sound at %s samples a second", phrase.Counted(h.Rate))
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
		t.Rows = append(t.Rows, []string{phrase.At(r.From), phrase.At(r.To), phrase.Counted(float64(r.Heard)), phrase.Counted(float64(r.Silent)), phrase.Counted(float64(r.Extra)), unit.Number(float64(r.Beat), 6), ends[r.EndedBy]})
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
		t.Rows = append(t.Rows, []string{phrase.At(m.At), string(m.Kind), size})
	}
	if left > 0 {
		t.Note = fmt.Sprintf("And %s more.", phrase.Counted(float64(left)))
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
