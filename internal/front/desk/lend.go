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
		if part == "train" {
			lendSizes(out, typed[part], name, field)
		}
	}
	return out
}

// lendSizes fills in what a table says of the arbors of a train beside their
// counts.
func lendSizes(out, typed map[string][]string, name, field string) {
	for cell, v := range typed {
		rest, ok := strings.CutPrefix(cell, name+"-arbors.")
		if _, column, _ := strings.Cut(rest, "."); ok && column != "wheel" && column != "pinion" {
			out[field+"-arbors."+rest] = v
		}
	}
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
