package desk

import (
	"strings"
)

// Lent is what a clock's survey fills in of a calculation, by the names of its
// fields; typed is the values of each part of the survey. A part of the survey
// is lent whole.
func (c Calculation) Lent(typed map[string]map[string][]string) map[string][]string {
	if !c.Apart {
		return typed[c.Name]
	}
	out := map[string][]string{}
	for field, from := range c.Lend {
		part, name, _ := strings.Cut(from, "/")
		if v := surveyed(typed, part, name); len(v) > 0 {
			out[field] = v
		}
	}
	return out
}

// surveyed is the value of a field of a survey. A train is one text, whether
// it was typed so or arbor by arbor, and so are its sizes.
func surveyed(typed map[string]map[string][]string, part, name string) []string {
	if part != "train" || len(typed[part]) == 0 {
		return typed[part][name]
	}
	q := ReadSurvey(map[string]map[string][]string{part: typed[part]}).Train
	if q == nil {
		return typed[part][name]
	}
	for _, t := range q.Trains {
		switch {
		case t.Name == name && t.Text() != "":
			return []string{t.Text()}
		case t.Name+"-sizes" == name && t.SizesText() != "":
			return []string{t.SizesText()}
		}
	}
	return typed[part][name]
}
