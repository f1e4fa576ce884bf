package web

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"

	"seatboard/internal/book/making"
	"seatboard/internal/front/desk"
	"seatboard/internal/kit/meas"
)

// forClock is the part of an address of the desk that names a clock: its
// survey fills in what is known, and the answer is offered to its file.
const forClock = "for"

// keepView is the form by which an answer goes into a clock's file.
type keepView struct {
	At     string
	Values url.Values
	Fields []recordField
}

// keepFields are the fields of that form, named apart from those of any
// calculation.
func keepFields(clock string, is *making.Sheet, faults meas.Faults) []recordField {
	own := ownOfSheet(is)
	for i := range own {
		own[i].Name = "keep-" + own[i].Name
	}
	number := recordField{Name: "keep-clock", Label: "Clock", Hint: "Its number in the shop", Size: 14, target: &clock}
	return withError(append([]recordField{number}, own...), faults)
}

// keepOf is the form under an answer; what was typed in it stands in it again.
func keepOf(c desk.Calculation, at, clock string, values, given url.Values, faults meas.Faults) *keepView {
	is := making.Sheet{Title: c.Title, Note: typed(given["keep-note"])}
	if given.Has("keep-clock") {
		is.Title, clock = typed(given["keep-title"]), typed(given["keep-clock"])
	}
	return &keepView{At: at + "/keep", Values: values, Fields: keepFields(clock, &is, faults)}
}

// keepSheet puts an answer into a clock's file.
func (s *Server) keepSheet(w http.ResponseWriter, r *http.Request) error {
	c, err := s.chosen(r)
	if err != nil {
		return err
	}
	is, _, err := s.sheetOf(r.Context(), c, r.PostForm)
	if err != nil {
		return s.answer(w, r, c, r.PostForm, nil) // the mistakes stand beside their fields
	}
	is.Title, is.Note = typed(r.PostForm["keep-title"]), typed(r.PostForm["keep-note"])
	number := typed(r.PostForm["keep-clock"])
	var faults meas.Faults
	clock, n := int64(0), 0
	if number == "" {
		faults = meas.Faults{{Field: "clock", Text: "Enter the number of the clock"}}
	} else if clock, err = s.numbered(r.Context(), number); err != nil && !errors.As(err, &faults) {
		return err
	}
	if faults = append(faults, is.Check()...); len(faults) == 0 {
		n, err = s.Shop.KeepSheet(r.Context(), s.by(r), clock, is)
		if err == nil {
			return done(w, r, clockPath(clock)+"/making/"+strconv.Itoa(n), "kept")
		}
		p := faultsOf(err)
		if p == nil {
			return err
		}
		faults = p.Fields
	}
	for i := range faults {
		faults[i].Field = "keep-" + faults[i].Field
	}
	return s.answer(w, r, c, r.PostForm, faults)
}
