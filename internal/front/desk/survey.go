package desk

import (
	"context"
	"errors"

	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/train"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// Survey is the parts of a clock's survey worked out together, and what they
// come to.
type Survey struct {
	Parts    []SurveyPart
	Overview doc.Doc
}

// SurveyPart is one calculation as a part of a survey.
type SurveyPart struct {
	Calculation
	Typed   bool         // something was filled in
	Faults  meas.Faults  // what cannot be understood
	Lent    []string     // what was taken from other parts
	Outcome *Outcome     // nil where there is no answer
	Found   []meas.Level // levels of the findings
}

// Form is the part's form, pointing into nothing that is kept.
func (p SurveyPart) Form() form.Form { return p.Begin().Form }

// The states of a part.
const (
	NotStarted = "Not started"
	Unreadable = "Cannot be read"
	Disagrees  = "Does not agree"
	Surveyed   = "Surveyed"
)

// State is the part in a word.
func (p SurveyPart) State() string {
	switch {
	case !p.Typed:
		return NotStarted
	case len(p.Faults) > 0:
		return Unreadable
	case p.has(meas.Clash):
		return Disagrees
	}
	return Surveyed
}

// Tag is the class of the state: good, bad or none.
func (p SurveyPart) Tag() string {
	switch p.State() {
	case Surveyed:
		return "good"
	case NotStarted:
		return ""
	}
	return "bad"
}

func (p SurveyPart) has(l meas.Level) bool {
	for _, x := range p.Found {
		if x == l {
			return true
		}
	}
	return false
}

// WorkSurvey works the parts out from what was typed in each, by its name.
func WorkSurvey(ctx context.Context, typed map[string]map[string][]string) Survey {
	var (
		tq train.Query
		pq pendulum.Query
		dq drive.Query
		q  shop.Survey
		s  Survey
	)
	forms := map[string]form.Form{"train": form.Train(&tq), "pendulum": form.Pendulum(&pq), "drive": form.Drive(&dq)}
	for _, c := range All() {
		if c.Apart {
			continue
		}
		p := SurveyPart{Calculation: c, Typed: len(typed[c.Name]) > 0}
		if p.Typed {
			p.Faults = forms[c.Name].Fill(typed[c.Name])
		}
		if len(p.Faults) > 0 {
			errors.As(second(c.Work(ctx, typed[c.Name])), &p.Faults)
		}
		if p.Typed && len(p.Faults) == 0 {
			switch c.Name {
			case "train":
				q.Train = &tq
			case "pendulum":
				q.Pendulum = &pq
			case "drive":
				q.Drive = &dq
			}
		}
		s.Parts = append(s.Parts, p)
	}
	a := shop.WorkSurvey(ctx, q)
	for i := range s.Parts {
		s.Parts[i].take(a)
	}
	s.Overview = present.Survey(a.Train, a.Pendulum, a.Drive)
	return s
}

// ReadSurvey reads what was typed in the parts of a survey, by their names; a
// part that is empty or cannot be read is nil.
func ReadSurvey(typed map[string]map[string][]string) shop.Survey {
	var (
		q  shop.Survey
		tq train.Query
		pq pendulum.Query
		dq drive.Query
	)
	reads := func(name string, f form.Form) bool {
		return len(typed[name]) > 0 && len(f.Fill(typed[name])) == 0
	}
	if reads("train", form.Train(&tq)) {
		q.Train = &tq
	}
	if reads("pendulum", form.Pendulum(&pq)) {
		q.Pendulum = &pq
	}
	if reads("drive", form.Drive(&dq)) {
		q.Drive = &dq
	}
	return q
}

func second(_ Outcome, err error) error { return err }

// take puts the answer into the part.
func (p *SurveyPart) take(a shop.Surveyed) {
	switch p.Name {
	case "train":
		settle(p, a.Train, a.TrainErr, a.TrainLent, present.Train)
		if a.Train != nil {
			p.Found = levels(a.Train.Findings)
		}
	case "pendulum":
		settle(p, a.Pendulum, a.PendulumErr, a.PendulumLent, present.Pendulum)
		if a.Pendulum != nil {
			p.Found = levels(a.Pendulum.Findings)
		}
	case "drive":
		settle(p, a.Drive, a.DriveErr, a.DriveLent, present.Drive)
		if a.Drive != nil {
			p.Found = levels(a.Drive.Findings)
		}
	}
}

func settle[A any](p *SurveyPart, a *A, err error, lent []string, show func(A) doc.Doc) {
	p.Lent = lent
	var faults meas.Faults
	switch {
	case errors.As(err, &faults):
		p.Faults = append(p.Faults, faults...)
	case err != nil:
		p.Faults = append(p.Faults, meas.Fault{Text: err.Error()})
	case a != nil:
		p.Outcome = &Outcome{Answer: *a, Doc: show(*a)}
	}
}

func levels(findings []meas.Finding) []meas.Level {
	var out []meas.Level
	for _, f := range findings {
		out = append(out, f.Level)
	}
	return out
}
