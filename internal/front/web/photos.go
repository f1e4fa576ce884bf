package web

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
	"seatboard/internal/shop"
)

// photosView is the photographs of a clock, or those in the tray.
type photosView struct {
	head
	At     string // address of the page
	Shots  []shotView
	Total  int
	More   string // address of the next page
	Bin    bool
	Part   string
	Taken  int // just taken in
	Again  int // of these, there already
	Wrong  []string
	Area   string    // chosen, as the address keeps it
	Same   *shotView // what is taken is to show the same
	Unsaid int       // how many have no words
	Areas  []string
	Stages []optionView
	Script string
}

// shotView is a photograph in a list.
type shotView struct {
	picture.Photo
	At, Small string // addresses; Small is "" where there is none
	Alt       string
}

// Waits tells whether its small pictures are being made.
func (v shotView) Waits() bool { return v.Photo.Small == picture.Waiting }

// Room keeps the room on a page that its small picture takes at a width in px:
// what stands below it does not move away from a finger when the picture comes.
func (v shotView) Room(width int) template.HTMLAttr {
	if v.Width <= 0 || v.Height <= 0 {
		return template.HTMLAttr(fmt.Sprintf(`width="%d"`, width))
	}
	return template.HTMLAttr(fmt.Sprintf(`width="%d" height="%d"`, width, (width*v.Height+v.Width/2)/v.Width))
}

func shotOf(p picture.Photo) shotView {
	v := shotView{Photo: p, At: "/photos/" + p.UID, Alt: p.Caption}
	if p.Small == picture.Made {
		v.Small = v.At + "/small.jpg"
	}
	if v.Alt == "" {
		v.Alt = "Photograph of " + p.Received.Local().Format("2 January 15:04")
	}
	return v
}

func (s *Server) photos(w http.ResponseWriter, r *http.Request) error {
	v, err := s.photosView(r)
	if err != nil {
		return err
	}
	return s.renderPhotos(w, r, http.StatusOK, v)
}

func (s *Server) renderPhotos(w http.ResponseWriter, r *http.Request, status int, v *photosView) error {
	f := frame{Title: "Photographs to be filed", Place: "clocks", View: v}
	if v.Clock.ID != 0 {
		f.Title = v.title("Photographs")
	}
	return s.render(w, r, status, "photos", f)
}

func (s *Server) photosView(r *http.Request) (*photosView, error) {
	q := r.URL.Query()
	v := &photosView{At: "/photos", Area: q.Get("area"), Areas: condition.Areas(), Stages: stagesOf(picture.Stage(q.Get("stage"))), Script: s.assets.url("photos.js")}
	at, h, err := s.photoPlace(r)
	if err != nil {
		return nil, err
	}
	if v.head = h; at.Clock != 0 {
		v.At = v.Path + "/photos"
	}
	v.Bin, v.Part = q.Get("bin") != "", q.Get("part")
	v.Taken, _ = strconv.Atoi(q.Get("taken"))
	v.Again, _ = strconv.Atoi(q.Get("again"))
	if same := q.Get("same"); same != "" {
		p, err := s.Shop.Photo(r.Context(), same)
		if err != nil {
			return nil, err
		}
		shot := shotOf(p)
		v.Same = &shot
	}
	before, _ := strconv.ParseInt(q.Get("before"), 10, 64) // what is no number begins at the last
	l, err := s.Shop.Photos(r.Context(), at, before)
	if err != nil {
		return nil, err
	}
	_, v.Unsaid, _, err = s.Shop.PhotoToWrite(r.Context(), at, 0)
	for _, p := range l.Photos {
		v.Shots = append(v.Shots, shotOf(p))
	}
	v.Total = l.Total
	if l.Before != 0 {
		q.Set("before", strconv.FormatInt(l.Before, 10))
		v.More = v.At + "?" + q.Encode()
	}
	return v, err
}

// photoPlace is the place that an address names, with the head of its clock.
func (s *Server) photoPlace(r *http.Request) (at store.PhotoPlace, h head, err error) {
	q := r.URL.Query()
	at.Bin, at.Part = q.Get("bin") != "", parts.Number(q.Get("part"))
	if r.PathValue("id") == "" {
		return at, h, nil
	}
	f, err := s.file(r)
	at.Clock = f.Clock.ID
	return at, headOf(f.Clock, "photos"), err
}

// takePhotos takes in all photographs of a form, one after the other as they
// come; those that were taken in stay so whatever becomes of the others.
func (s *Server) takePhotos(w http.ResponseWriter, r *http.Request) error {
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(time.Hour)) // not all connections have one
	defer func() { _, _ = io.Copy(io.Discard, r.Body) }()                         // a browser reads the answer when all is sent
	var ask shop.PhotoAsk
	if r.PathValue("id") != "" {
		f, err := s.file(r)
		if err != nil {
			return err
		}
		ask.Clock = f.Clock.ID
	}
	words := url.Values{}
	taken, again, wrong, err := s.photosOf(r, ask, words)
	if err != nil {
		return err
	}
	if taken == 0 && len(wrong) == 0 {
		wrong = []string{"No photograph was chosen."}
	}
	if len(wrong) == 0 { // the next are of the same, until something else is said
		back := encode("part", words.Get("part"), "stage", words.Get("stage"), "area", words.Get("area"), "taken", strconv.Itoa(taken))
		if again > 0 {
			back += "&" + encode("again", strconv.Itoa(again))
		}
		http.Redirect(w, r, r.URL.Path+"?"+back, http.StatusSeeOther)
		return nil
	}
	words.Del("token")
	r.URL.RawQuery = words.Encode()
	v, err := s.photosView(r)
	if err != nil {
		return err
	}
	v.Taken, v.Again, v.Wrong = taken, again, wrong
	return s.renderPhotos(w, r, http.StatusUnprocessableEntity, v)
}

// mostWords is how many words are read of a form of photographs.
const mostWords = 8

// photosOf reads the form: its words, which come before its files, are put
// into values.
func (s *Server) photosOf(r *http.Request, ask shop.PhotoAsk, values url.Values) (taken, again int, wrong []string, err error) {
	bad := &shop.Problem{Code: shop.BadInput, Message: "What was sent could not be read as a form.", Hint: "Go back and press the button once more."}
	m, err := r.MultipartReader()
	if err != nil {
		return 0, 0, nil, bad
	}
	for {
		p, err := m.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return taken, again, wrong, nil
		case err != nil:
			wrong = append(wrong, fmt.Sprintf("The sending broke off after %d photographs. Send the others again; what is here already is kept once.", taken))
			return taken, again, wrong, nil
		case p.FileName() == "" && p.FormName() != "photo":
			word, err := io.ReadAll(io.LimitReader(p, maxBody))
			if err != nil {
				return taken, again, wrong, bad
			}
			if len(values) < mostWords {
				values.Set(p.FormName(), string(word))
			}
			continue
		case p.FileName() == "":
			continue // one of the two choices was left empty
		case !s.tokens.accepts(r, values.Get("token")):
			return 0, 0, nil, errStaleForm
		}
		ask.Part, ask.Stage, ask.Area = parts.Number(values.Get("part")), picture.Stage(values.Get("stage")), values.Get("area")
		ask.SameView = values.Get("same")
		was, err := s.takeOne(r, p, ask)
		if err != nil {
			problem := shop.AsProblem(err)
			if problem.Code == shop.Internal {
				return taken, again, wrong, err
			}
			wrong = append(wrong, wordsOf(problem))
			continue
		}
		taken++
		if was {
			again++
		}
	}
}

var errStaleForm = &shop.Problem{Code: shop.Conflict, Message: "The page was open from before Seatboard was last started.", Hint: "Nothing was taken in. Go back, load the page again and choose the photographs once more."}

func (s *Server) takeOne(r *http.Request, p *multipart.Part, ask shop.PhotoAsk) (again bool, err error) {
	t, err := s.Shop.TakePhoto(r.Context(), s.by(r), p.FileName(), p, ask)
	return t.Again, err
}

// wordsOf is a problem with all its mistakes in one line.
func wordsOf(p *shop.Problem) string {
	words := p.Message
	for _, f := range p.Fields {
		words += " " + f.Text + "."
	}
	return words + " " + p.Hint
}
