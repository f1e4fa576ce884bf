package desk

import (
	"fmt"
	"maps"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/craft/train/missing"
)

// Taking is something of an answer that may go back into a clock's survey.
type Taking struct {
	Title string // "the wheel of arbor 3: 56"
	Words string // what stands in the survey then
	Part  string // of the survey
	Field string // of its form
	Was   string // what stands there while nothing has changed
	Value string // what is to stand there
}

// Take puts it into the values of a survey, by its parts; false where the
// survey says something else than the answer was worked out from.
func (t Taking) Take(typed map[string]map[string][]string) (values map[string][]string, ok bool) {
	if now := strings.Join(surveyed(typed, t.Part, t.Field), " "); strings.TrimSpace(now) != "" && now != t.Was {
		return nil, false
	}
	values = map[string][]string{}
	maps.Copy(values, typed[t.Part])
	values[t.Field] = []string{t.Value}
	c, _ := Find(t.Part)
	return Tidy(c, values), true
}

// mostTakings is how many candidates of a gap may be chosen.
const mostTakings = 6

// takeMissing offers the first candidates of each gap in a train of the
// survey; they go there marked as inferred.
func takeMissing(answer any) []Taking {
	a := answer.(missing.Answer)
	var out []Taking
	for _, g := range a.Gaps {
		was := ""
		for _, t := range a.Query.Train.Trains {
			if t.Name == g.Train {
				was = t.Text()
			}
		}
		if was == "" {
			continue // not a train of the survey
		}
		for _, c := range g.Candidates[:min(mostTakings, len(g.Candidates))] {
			out = append(out, Taking{Title: g.What + ": " + countsOf(c.Counts), Words: c.Chain, Part: "train", Field: g.Train, Was: was, Value: c.Chain})
		}
	}
	return out
}

func countsOf(all []train.Teeth) string {
	out := make([]string, len(all))
	for i, n := range all {
		out[i] = fmt.Sprint(n)
	}
	return strings.Join(out, ", ")
}
