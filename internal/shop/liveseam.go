package shop

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/unit"
)

// seam is a place across which nothing is reckoned. Beats between its two
// ends belong to neither side and are left out.
type seam struct {
	from, to unit.Duration
	how      beat.Ending // of the run before it
	mark     beat.Mark   // that says why; of no kind where another does
}

// splitAt splits the runs of a hearing at seams. A part keeps which of its
// beats are the first side's.
func splitAt(h beat.Hearing, seams []seam) beat.Hearing {
	seams = slices.DeleteFunc(seams, func(s seam) bool { return s.how == beat.Stepped && stepHeard(h, s) })
	if len(seams) == 0 {
		return h
	}
	slices.SortStableFunc(seams, func(a, b seam) int { return cmp.Compare(a.from, b.from) })
	out := h
	out.Runs, out.Beats = nil, make([]beat.Beat, 0, len(h.Beats))
	rest := h.Beats
	for i, r := range h.Runs {
		n := 0
		for n < len(rest) && rest[n].Run == i {
			n++
		}
		addParts(&out, r, rest[:n], seams)
		rest = rest[n:]
	}
	for _, s := range seams {
		if s.mark.Kind != "" {
			out.Marks = append(out.Marks, s.mark)
		}
	}
	return out
}

// stepHeard tells whether the ear has found a step itself.
func stepHeard(h beat.Hearing, s seam) bool {
	return slices.ContainsFunc(h.Marks, func(m beat.Mark) bool { return m.Kind == beat.Step && m.At > s.from-stepDoubt && m.At < s.to+stepDoubt })
}

// addParts adds a run, whole or in parts.
func addParts(out *beat.Hearing, r beat.Run, beats []beat.Beat, seams []seam) {
	if len(beats) == 0 {
		out.Runs = append(out.Runs, r)
		return
	}
	var part []beat.Beat
	how, extra := r.EndedBy, r.Extra
	give := func(how beat.Ending) {
		if len(part) > 0 {
			out.Runs = append(out.Runs, partOf(r, part, how, len(out.Runs)))
			out.Beats = append(out.Beats, part...)
		}
		part = nil
	}
	first := len(out.Runs)
	k, closed := 0, unit.Duration(math.Inf(-1))
	for _, b := range beats {
		for k < len(seams) && seams[k].from <= b.At {
			give(seams[k].how)
			closed = max(closed, seams[k].to)
			k++
		}
		if b.At >= closed {
			part = append(part, b)
		}
	}
	give(how)
	if len(out.Runs) > first {
		out.Runs[first].Extra = extra // which part they were in is told by their marks
	}
}

// partOf is the part of a run that has these beats; it numbers them anew.
func partOf(r beat.Run, beats []beat.Beat, how beat.Ending, run int) beat.Run {
	base := beats[0].N &^ 1
	span := beats[len(beats)-1].N - beats[0].N + 1
	for i := range beats {
		beats[i].N -= base
		beats[i].Run = run
	}
	r.From, r.To, r.Heard, r.Extra, r.EndedBy = beats[0].At, beats[len(beats)-1].At, len(beats), 0, how
	r.Silent = max(int(span)-len(beats), 0)
	r.ShareKept = float64(len(beats)) / float64(span)
	return r
}
