package web

import (
	"html/template"
	"net/http"
	"strconv"
	"strings"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/craft/train"
	"seatboard/internal/front/desk"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/shop"
)

// clockView is the sheet a clock's file opens on.
type clockView struct {
	head
	Next     string // what is to be done next
	NextHref string
	Overview template.HTML
	Hazards  []condition.AreaHazard
	Findings []meas.Finding // open questions of the record
	Lines    []job.Line     // the record, filled fields only
	Stages   []job.Stage
	Picture  *shotView // the photograph that stands for it
}

// clock shows what this clock is, where it stands and what is open.
func (s *Server) clock(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	sv := desk.WorkSurvey(r.Context(), typedParts(f.Survey))
	v := clockView{head: headOf(f.Clock, "sheet"), Findings: f.Clock.Findings(), Stages: job.Stages()}
	if v.Hazards, err = s.Shop.Cautions(r.Context(), f.Clock.ID); err != nil {
		return err
	}
	if v.Next, v.NextHref = nextStep(f, sv, v.Path); v.Next == "" {
		if v.Next, v.NextHref, err = s.nextToMake(r.Context(), f.Clock.ID, f.Clock.Number); err != nil {
			return err
		}
	}
	for _, l := range job.Checklist(f.Clock) {
		if l.Stated {
			v.Lines = append(v.Lines, l)
		}
	}
	main, ok, err := s.Shop.MainPhoto(r.Context(), f.Clock.ID)
	if err != nil {
		return err
	}
	if ok {
		shot := shotOf(main)
		v.Picture = &shot
	}
	v.Overview = html.Render(sv.Overview, html.Options{ID: "o", Links: figureLinks(v.Path+"/survey/overview", "")})
	return s.render(w, r, http.StatusOK, "clock", frame{Title: v.title(""), Place: "clocks", View: v})
}

// nextStep is the first thing that the file still wants; what is to be made
// comes after it, see nextToMake.
func nextStep(f shop.File, sv desk.Survey, path string) (words, href string) {
	c := f.Clock
	switch {
	case c.Title == "" || c.Owner.Name == "":
		return "Write down what it is and whose it is", path + "/taking-in"
	case c.Object.Type == "" && c.Object.Measurements == "":
		return "Fill in what is known of the object", path + "/taking-in"
	}
	for _, p := range sv.Parts {
		if !p.Typed {
			return "Survey: " + p.Title, path + "/survey/" + p.Name
		}
		if len(p.Faults) > 0 {
			return "Look again at what was typed under " + p.Title, path + "/survey/" + p.Name
		}
		if p.State() == desk.Disagrees {
			return "Settle what does not agree under " + p.Title, path + "/survey/" + p.Name
		}
	}
	return "", ""
}

// typedParts are the values of each part as typed.
func typedParts(s job.Survey) map[string]map[string][]string {
	out := map[string]map[string][]string{}
	for key, p := range s {
		if p.Removed.IsZero() {
			out[key] = p.Values
		}
	}
	return out
}

// surveyView is the survey chapter: the whole, then its parts.
type surveyView struct {
	head
	Overview template.HTML
	Parts    []desk.SurveyPart
}

// survey shows what the parts come to together.
func (s *Server) survey(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	sv := desk.WorkSurvey(r.Context(), typedParts(f.Survey))
	v := surveyView{head: headOf(f.Clock, "survey"), Parts: sv.Parts}
	v.Overview = html.Render(sv.Overview, html.Options{ID: "o", Level: 3, Links: figureLinks(v.Path+"/survey/overview", "")})
	return s.render(w, r, http.StatusOK, "survey", frame{Title: v.title("Survey"), Place: "clocks", View: v})
}

// partView is one part of the survey: its form as typed, and what follows.
type partView struct {
	head
	Part    desk.SurveyPart
	Others  []desk.SurveyPart
	Form    formView
	Answer  template.HTML
	Version int
	Differ  []job.Change // from what someone else saved meanwhile
	Unkept  bool         // it could not be
	Seek    string       // address that looks for what is missing, "" where nothing is
}

func (s *Server) partOf(f shop.File, sv desk.Survey, name, choice string, values map[string][]string) (partView, error) {
	for _, p := range sv.Parts {
		if p.Name != name {
			continue
		}
		v := partView{head: headOf(f.Clock, "survey"), Part: p, Others: sv.Parts, Version: f.Survey[name].Version}
		v.Form = viewOf(p.Form(), values, p.Faults)
		if p.Outcome != nil {
			if a, ok := p.Outcome.Answer.(train.Answer); ok && a.Lacks() {
				v.Seek = "/desk/missing?" + encode(forClock, f.Clock.Number)
			}
			at := v.Path + "/survey/" + name
			v.Answer = html.Render(p.Choose(*p.Outcome, choice).Doc, html.Options{ID: "a", Level: 3, Links: figureLinks(at, chosen("", choice)), Choose: func(x string) string { return at + "?" + chosen("", x) }})
		}
		return v, nil
	}
	return partView{}, errNoPage
}

// surveyPart shows one part of the survey. What was typed stands in its form
// even where it cannot be understood.
func (s *Server) surveyPart(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	name := r.PathValue("part")
	parts := typedParts(f.Survey)
	v, err := s.partOf(f, desk.WorkSurvey(r.Context(), parts), name, r.URL.Query().Get(enlarge), parts[name])
	if err != nil {
		return err
	}
	return s.renderPartPage(w, r, http.StatusOK, v)
}

func (s *Server) renderPartPage(w http.ResponseWriter, r *http.Request, status int, v partView) error {
	return s.render(w, r, status, "survey-part", frame{Title: v.title(v.Part.Title), Place: "clocks", Faults: v.Part.Faults, View: v})
}

// saveSurveyPart keeps what was typed, whatever it is, and then says what is
// wrong with it.
func (s *Server) saveSurveyPart(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	name := r.PathValue("part")
	c, ok := desk.Find(name)
	if !ok || c.Apart {
		return errNoPage
	}
	values := desk.Tidy(c, c.Begin().Form.Known(r.PostForm))
	version, _ := strconv.Atoi(r.PostForm.Get("version")) // 0 conflicts where something is kept, and the conflict is shown
	kept, err := s.Shop.SavePart(r.Context(), s.by(r), f.Clock.ID, name, job.Part{Values: values, Version: version})
	refused := faultsOf(err)
	if err != nil && refused == nil && shop.AsProblem(err).Code != shop.Conflict {
		return err
	}
	parts := typedParts(f.Survey)
	parts[name] = values
	sv := desk.WorkSurvey(r.Context(), parts)
	if refused != nil {
		for i := range sv.Parts {
			if p := &sv.Parts[i]; p.Name == name {
				p.Faults, p.Outcome = nil, nil
				for _, x := range refused.Fields {
					p.Faults = append(p.Faults, meas.Fault{Field: strings.TrimPrefix(x.Field, "survey."+name+".values."), Text: x.Text})
				}
			}
		}
	}
	v, perr := s.partOf(f, sv, name, "", values)
	if perr != nil {
		return perr
	}
	switch {
	case refused != nil:
		v.Version, v.Unkept = version, true
		return s.renderPartPage(w, r, statuses[refused.Code], v)
	case err != nil:
		v.Differ = shop.AsProblem(err).Differ
		return s.renderPartPage(w, r, http.StatusConflict, v)
	case len(v.Part.Faults) > 0:
		v.Version = kept.Version
		return s.renderPartPage(w, r, http.StatusUnprocessableEntity, v)
	}
	return done(w, r, v.Path+"/survey/"+name, "saved")
}

// surveyFile sends a figure of a part, or of the whole ("overview").
func (s *Server) surveyFile(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	sv := desk.WorkSurvey(r.Context(), typedParts(f.Survey))
	if r.PathValue("part") == "overview" {
		return s.sendFile(w, r, sv.Overview, r.PathValue("file"), shop.Foot(f.Clock))
	}
	for _, p := range sv.Parts {
		if p.Name == r.PathValue("part") && p.Outcome != nil {
			return s.sendFile(w, r, p.Choose(*p.Outcome, r.URL.Query().Get(enlarge)).Doc, r.PathValue("file"), shop.Foot(f.Clock))
		}
	}
	return errNoPage
}
