package web

import (
	"encoding/json"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/book/picture"
	"seatboard/internal/paper/svg"
	"seatboard/internal/shop"
)

// drawView is what a mark is drawn with, and those that are there.
type drawView struct {
	Kind          picture.MarkKind // chosen
	X, Y, X2, Y2  string           // as typed, pixels
	N, Text       string
	Fault         string
	Kinds         []optionView
	Width, Height int
	Over          template.HTML // the layer over the photograph
	Listed        []string      // the marks in words
}

// Can tells whether marks can be drawn: the size must be known.
func (d drawView) Can() bool { return d.Width > 0 }

// Last is the place of the last mark in the list.
func (d drawView) Last() int { return len(d.Listed) - 1 }

// over fills in what depends on the photograph.
func (d *drawView) over(p picture.Photo) {
	d.Width, d.Height = p.Width, p.Height
	for _, k := range []struct {
		kind  picture.MarkKind
		words string
	}{{picture.Arrow, "Arrow"}, {picture.Ring, "Ring"}, {picture.Number, "Number"}, {picture.Text, "Text"}} {
		d.Kinds = append(d.Kinds, optionView{string(k.kind), k.words, k.kind == d.Kind})
	}
	for _, m := range p.Marks {
		d.Listed = append(d.Listed, m.Words())
	}
	if d.N == "" {
		d.N = strconv.Itoa(picture.NextNumber(p.Marks))
	}
	if p.Width > 0 {
		words := "No marks on it"
		if len(d.Listed) > 0 {
			words = "Marks on it: " + strings.Join(d.Listed, "; ")
		}
		d.Over = template.HTML(svg.Marks(p.Marks, p.Width, p.Height, words)) // it escapes what it is given
	}
}

// changeMarks puts a mark on a photograph, or takes one off.
func (s *Server) changeMarks(w http.ResponseWriter, r *http.Request, p picture.Photo) error {
	f := r.PostForm
	stands := p
	p.Version, _ = strconv.Atoi(f.Get("version")) // 0 conflicts, and what stands is shown
	p.Marks = slices.Clone(p.Marks)
	draw := drawView{Kind: picture.MarkKind(f.Get("kind")), X: f.Get("x"), Y: f.Get("y"), X2: f.Get("x2"), Y2: f.Get("y2"), N: f.Get("n"), Text: typed(f["text"])}
	if f.Get("do") == "mark" {
		m, fault := draw.mark()
		if draw.Fault = fault; fault != "" {
			return s.renderPhoto(w, r, http.StatusUnprocessableEntity, stands, nil, draw)
		}
		p.Marks = append(p.Marks, m)
	} else {
		i, err := strconv.Atoi(f.Get("i"))
		if err != nil || i < 0 || p.Version == stands.Version && i >= len(p.Marks) {
			return errNoPage
		}
		if i < len(p.Marks) {
			p.Marks = slices.Delete(p.Marks, i, i+1)
		}
	}
	_, err := s.Shop.SavePhoto(r.Context(), s.by(r), p)
	if err == nil {
		back := url.Values{"tool": {string(draw.Kind)}}
		http.Redirect(w, r, "/photos/"+p.UID+"?"+back.Encode()+"#photo", http.StatusSeeOther)
		return nil
	}
	problem := shop.AsProblem(err)
	if problem.Code != shop.Conflict && len(problem.Fields) == 0 {
		return err
	}
	if len(problem.Fields) > 0 {
		draw.Fault, problem = problem.Fields[0].Text, nil
		return s.renderPhoto(w, r, http.StatusUnprocessableEntity, stands, nil, draw)
	}
	return s.renderPhoto(w, r, http.StatusConflict, stands, problem, draw) // pressed again, it is put on what stands
}

// mark reads a mark as typed; the fault is a sentence.
func (d drawView) mark() (m picture.Mark, fault string) {
	m.Kind = d.Kind
	place := func(to *float64, text string) {
		x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			fault = "Say where the mark goes, in pixels from the left and from the top, or tap on the photograph"
		}
		*to = math.Round(x)
	}
	place(&m.X, d.X)
	place(&m.Y, d.Y)
	switch m.Kind {
	case picture.Arrow, picture.Ring:
		place(&m.X2, d.X2)
		place(&m.Y2, d.Y2)
	case picture.Number:
		n, err := strconv.Atoi(strings.TrimSpace(d.N))
		if m.N = n; err != nil {
			return m, "A number on a photograph is 1 to 999"
		}
	case picture.Text:
		if m.Text = d.Text; m.Text == "" {
			return m, "Write what the mark says"
		}
	default:
		return m, "Choose an arrow, a ring, a number or a text"
	}
	return m, fault
}

// inWords shows marks of a conflict as words.
func inWords(p *shop.Problem) *shop.Problem {
	if p == nil {
		return nil
	}
	out := *p
	out.Differ = slices.Clone(p.Differ)
	for i, d := range out.Differ {
		if d.Field == "marks" {
			out.Differ[i].Before, out.Differ[i].After = marksInWords(d.Before), marksInWords(d.After)
		}
	}
	return &out
}

func marksInWords(kept string) string {
	var marks []picture.Mark
	if kept == "" || json.Unmarshal([]byte(kept), &marks) != nil {
		return kept
	}
	var words []string
	for _, m := range marks {
		words = append(words, m.Words())
	}
	return strings.Join(words, "; ")
}
