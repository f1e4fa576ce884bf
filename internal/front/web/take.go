package web

import (
	"net/http"
	"net/url"
	"strconv"

	"seatboard/internal/book/job"
	"seatboard/internal/book/making"
	"seatboard/internal/front/desk"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// takeView offers what of an answer may go into the survey of its clock.
type takeView struct {
	At, Clock string
	Values    url.Values
	Takings   []desk.Taking
	Kept      bool // the answer is in the clock's file already
}

// takeOf is the offer of an answer for a clock, by its number; nil where there
// is none.
func takeOf(c desk.Calculation, answer any, number string, values url.Values, kept bool) *takeView {
	if c.Takes == nil || number == "" {
		return nil
	}
	all := c.Takes(answer)
	if len(all) == 0 {
		return nil
	}
	return &takeView{At: "/desk/" + c.Name + "/take", Clock: number, Values: values, Takings: all, Kept: kept}
}

// takeIntoSurvey puts a chosen part of an answer into the survey of a clock, and the
// answer into its file, as one.
func (s *Server) takeIntoSurvey(w http.ResponseWriter, r *http.Request) error {
	c, err := s.chosen(r)
	if err != nil || c.Takes == nil {
		return errNoPage
	}
	is, o, err := s.sheetOf(r.Context(), c, r.PostForm)
	if err != nil {
		return s.answer(w, r, c, r.PostForm, nil)
	}
	all := c.Takes(o.Answer)
	i, err := strconv.Atoi(r.PostForm.Get("take"))
	if err != nil || i < 0 || i >= len(all) {
		return errNoPage
	}
	number := r.PostForm.Get(forClock)
	id, err := s.numbered(r.Context(), number)
	if err != nil {
		return err
	}
	f, err := s.Shop.File(r.Context(), id)
	if err != nil {
		return err
	}
	t := all[i]
	values, ok := t.Take(typedParts(f.Survey))
	if !ok {
		return &shop.Problem{Code: shop.Conflict, Message: "The survey of " + number + " says something else than this was worked out from, which was " + t.Was + ".",
			Hint: "Nothing was changed. Open the calculation from the survey once more, and choose again.", Fields: meas.Faults{{Text: "It was worked out from " + t.Was}}}
	}
	var keep *making.Sheet
	if r.PostForm.Get("kept") == "" {
		is.Title, is.Note = t.Title, "Chosen for the survey: "+t.Value
		keep = &is
	}
	if err := s.Shop.TakeIntoSurvey(r.Context(), s.by(r), id, t.Part, job.Part{Values: values, Version: f.Survey[t.Part].Version}, keep); err != nil {
		return err
	}
	return done(w, r, clockPath(id)+"/survey/"+t.Part, "taken")
}
