package desk

import (
	"context"
	"fmt"
	"strconv"

	"seatboard/internal/craft/train"
	"seatboard/internal/craft/train/missing"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/present"
)

func sitMissing() Sitting {
	q, p := new(missing.Query), new(missing.Progress)
	solve := func(ctx context.Context) (Outcome, error) {
		a, err := missing.Solve(ctx, *q, p)
		if err != nil {
			return Outcome{}, err
		}
		return Outcome{Answer: a, Doc: present.Missing(a), Stopped: ctx.Err() != nil && !a.Complete}, nil
	}
	soFar := func() SoFar {
		f := SoFar{Share: p.Counter.Share(), Found: p.Counter.Found()}
		if s := p.SoFar.Look(); s != nil {
			f.Doc = present.MissingSoFar(*s)
		}
		return f
	}
	return Sitting{Form: form.Missing(q), Solve: solve, SoFar: soFar}
}

// missingFrom is what a survey tells of a train with lost members: all of the
// train, and the pendulum as it was measured.
func missingFrom() map[string]string {
	lend := map[string]string{}
	for _, name := range []string{"going", "going-barrel-turns", "hour-arbor", "motion", "motion-arbor", "dial-hours", "beats-per-hour", "arbor-turn", "beats-per-tooth", "beats-per-turn",
		"going-sizes", "strike", "strike-barrel-turns", "strike-pins", "strike-pin-arbor", "strike-counts", "strike-report", "strike-blows", "quarter", "quarter-barrel-turns"} {
		lend[name] = "train/" + name
	}
	lend["pendulum"], lend["gravity"] = "pendulum/length", "pendulum/gravity"
	return lend
}

// leadOn is of how many candidates of a gap the pairs can be cut.
const leadOn = 3

// cutMissing leads from the first candidates to the teeth of each pair that
// lacked a member, with what was measured of it, and from a gap of whole pairs
// to the ways in which the books find its ratio.
func cutMissing(answer any) []Onward {
	a := answer.(missing.Answer)
	var out []Onward
	for _, g := range a.Gaps {
		for _, c := range g.Candidates[:min(leadOn, len(g.Candidates))] {
			rows := train.MustChain(c.Chain).Arbors()
			sizes := sizesOf(a.Query, g.Train)
			for i := range len(rows) - 1 {
				if wheel, pinion := rows[i].Wheel, rows[i+1].Pinion; lacked(g, i) {
					out = append(out, cutPair(wheel.Teeth, pinion, sizes, i))
				}
			}
		}
		if o, ok := byTheBooks(g); ok {
			out = append(out, o)
		}
	}
	return out
}

// mostPairs is how many pairs the ways of the books are shown for.
const mostPairs = 3

// byTheBooks leads from a gap of as many wheels as pinions to its ratio.
func byTheBooks(g missing.Gap) (Onward, bool) {
	pairs, pinions := 0, 0
	for _, m := range g.Members {
		switch m.Part {
		case "wheel":
			pairs++
		case "pinion":
			pinions++
		}
	}
	if pairs != pinions || pairs > mostPairs || pairs+pinions != len(g.Members) {
		return Onward{}, false
	}
	return Onward{Words: "The ratio " + g.Wanted.Mixed() + " by the ways of the books", Name: "ratio",
		Values: map[string][]string{"wanted": {g.Wanted.String()}, "pairs": {strconv.Itoa(pairs)}}}, true
}

// lacked tells whether a gap has the wheel of a place or the pinion that it
// drives.
func lacked(g missing.Gap, i int) bool {
	for _, m := range g.Members {
		if m.Part == "wheel" && m.Arbor == i || m.Part == "pinion" && m.Arbor == i+1 {
			return true
		}
	}
	return false
}

// sizesOf is the arbors of a train as measured.
func sizesOf(q missing.Query, name string) []train.Arbor {
	for _, t := range q.Train.Trains {
		if t.Name == name {
			return t.Rows()
		}
	}
	return nil
}

func cutPair(wheel train.Teeth, pinion train.Count, sizes []train.Arbor, i int) Onward {
	o := Onward{Words: fmt.Sprintf("Teeth of the wheel of %d with its pinion of %d", wheel, pinion.Teeth), Name: "tooth",
		Values: map[string][]string{"wheel": {wheel.String()}, "leaves": {pinion.Teeth.String()}}}
	if pinion.Lantern {
		o.Values["form"] = []string{"lantern"}
	}
	if i+1 < len(sizes) {
		for name, r := range map[string]meas.Reading[unit.Length]{"wheel-outside": sizes[i].WheelDiameter, "pinion-outside": sizes[i+1].PinionDiameter, "distance": sizes[i].Depth} {
			if r.Set {
				o.Values[name] = []string{r.Written("mm")}
			}
		}
	}
	return o
}
