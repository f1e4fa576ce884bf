package web

import (
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"time"

	"seatboard/internal/book/device"
	"seatboard/internal/io/authority"
	"seatboard/internal/paper/qr"
	"seatboard/internal/shop"
)

// Where the certificate stands, and the steps to install it.
const (
	stepsPath = "/certificate"
	rootPath  = "/certificate/seatboard-root.crt"
	codeSide  = 260 // px: a QR code on the screen
)

// phoneRoutes are those by which phones come in and are shut out.
func (s *Server) phoneRoutes(get, post func(string, handler)) {
	get("/phones", s.atComputer(s.phones))
	get("/phones/step", s.atComputer(s.phonesStep))
	post("/phones/code", s.atComputer(s.showCode))
	post("/phones/answer", s.atComputer(s.answerPhone))
	post("/phones/{device}/shut-out", s.atComputer(s.shutOutPhone))
	get("/pair", s.onLan(s.pairPage))
	post("/pair", s.onLan(s.askIn))
	get("/pair/step", s.onLan(s.pairStep))
	post("/pair/finish", s.onLan(s.finishPair))
	get("/this-phone", s.thisPhone)
	post("/this-phone/leave", s.leave)
	get(stepsPath, s.onLan(s.steps))
	get(rootPath, s.onLan(s.rootFile))
}

var (
	errAtComputer = &shop.Problem{Code: shop.NotFound, Message: "Phones are let in and shut out at the shop’s computer alone.", Hint: "Open Phones there, at the foot of every page."}
	errNoLan      = &shop.Problem{Code: shop.NotFound, Message: "The shop is open on this computer alone.", Hint: "Start it with seatboard serve --lan to let phones in."}
	errNoRoot     = &shop.Problem{Code: shop.NotFound, Message: "There is no certificate: phones come by plain http.", Hint: "Nothing has to be installed."}
)

// atComputer keeps phones out.
func (s *Server) atComputer(h handler) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		if _, ok := guestOf(r); ok {
			return errAtComputer
		}
		return h(w, r)
	}
}

// onLan is only there where phones may come.
func (s *Server) onLan(h handler) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		if s.Lan == nil {
			return errNoLan
		}
		return h(w, r)
	}
}

// phonesView is the computer's page of phones.
type phonesView struct {
	On, Plain   bool
	NoNetwork   bool
	Address     string // of the shop in figures
	Name        string // the same by the .local name, "" where it is not vouched for
	Help        string // address of the steps in figures
	HelpCode    template.HTML
	Fingerprint string
	Before      string // fingerprint of the certificate that was in use before
	Ending      string // the day it ends, where that is near
	Pairing     shop.PairingState
	Code        template.HTML // QR of the way in
	Typed       string        // in two groups
	Left        int           // s
	Devices     []deviceLine
}

// Watched tells whether the page has something to wait for.
func (v phonesView) Watched() bool {
	switch v.Pairing.Step {
	case shop.CodeShown, shop.Asking, shop.LetIn:
		return true
	}
	return false
}

// deviceLine is a line of the list.
type deviceLine struct {
	ID                 int64
	Name, Paired, Seen string
	Out                string // the day it was shut out
	Old                bool   // it was let in under another certificate
}

// phones shows how phones come in, who asks, and who is in.
func (s *Server) phones(w http.ResponseWriter, r *http.Request) error {
	all, err := s.Shop.Devices(r.Context())
	if err != nil {
		return err
	}
	v := phonesView{Devices: s.deviceLines(all)}
	if s.Lan != nil {
		v.On, v.Pairing = true, s.pairing.Watch()
		if err := s.tellWay(&v); err != nil {
			return err
		}
	}
	f := frame{Title: "Phones", View: v}
	if v.Watched() {
		f.Again = 3
	}
	return s.render(w, r, http.StatusOK, "phones", f)
}

func (s *Server) deviceLines(all []device.Device) []deviceLine {
	var out []deviceLine
	for _, d := range all {
		l := deviceLine{ID: d.ID, Name: d.Name, Paired: moment(d.Paired), Seen: moment(d.Seen), Old: s.Lan != nil && d.Root != s.Lan.root()}
		if !d.LetIn() {
			l.Out = moment(d.Revoked)
		}
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b deviceLine) int { return len(a.Out) - len(b.Out) }) // those that are in come first
	return out
}

func moment(t time.Time) string { return t.Local().Format("2 January 2006, 15:04") }

// tellWay puts in how the computer is reached now.
func (s *Server) tellWay(v *phonesView) (err error) {
	l := s.Lan
	host := l.first()
	v.Plain, v.NoNetwork = l.plain(), host == ""
	v.Address, v.Name = l.address(host, l.Port, "/pair"), l.address(l.name(), l.Port, "/pair")
	if !l.plain() {
		v.Help, v.Fingerprint = l.address(host, l.HelpPort, "/"), l.root()
		if b := l.Authority.Before(); b != nil {
			v.Before = authority.Fingerprint(b)
		}
		if l.Authority.Ending() {
			v.Ending = l.Authority.Root().NotAfter.Local().Format("2 January 2006")
		}
	}
	p := v.Pairing
	v.Left = int(p.Left.Round(time.Second) / time.Second)
	if v.NoNetwork {
		return nil
	}
	if v.Help != "" {
		if v.HelpCode, err = code(v.Help, "QR code of the steps for the phone"); err != nil {
			return err
		}
	}
	if p.Step == shop.CodeShown {
		v.Typed = p.Typed[:4] + " " + p.Typed[4:]
		v.Code, err = code(v.Address+"#"+p.Token, "QR code that lets one phone in")
	}
	return err
}

// code is a QR code for a page.
func code(text, label string) (template.HTML, error) {
	svg, err := qr.SVG(text, label, codeSide)
	return template.HTML(svg), err // the text is drawn, the label escaped
}

// phonesStep tells the open page how far the pairing is, and that it is
// watched.
func (s *Server) phonesStep(w http.ResponseWriter, r *http.Request) error {
	if s.Lan == nil {
		return errNoLan
	}
	return sayStep(w, s.pairing.Watch().Step)
}

// showCode begins a pairing.
func (s *Server) showCode(w http.ResponseWriter, r *http.Request) error {
	if s.Lan == nil {
		return errNoLan
	}
	if _, err := s.pairing.Begin(); err != nil {
		return err
	}
	http.Redirect(w, r, "/phones", http.StatusSeeOther)
	return nil
}

// answerPhone lets the phone in that asks, or turns it away.
func (s *Server) answerPhone(w http.ResponseWriter, r *http.Request) error {
	if s.Lan == nil {
		return errNoLan
	}
	if err := s.pairing.Confirm(typed(r.PostForm["digits"]), typed(r.PostForm["do"]) == "yes"); err != nil {
		return err
	}
	http.Redirect(w, r, "/phones", http.StatusSeeOther)
	return nil
}

// shutOutPhone shuts a phone out for good.
func (s *Server) shutOutPhone(w http.ResponseWriter, r *http.Request) error {
	id, err := strconv.ParseInt(r.PathValue("device"), 10, 64)
	if err != nil {
		return errNoPage
	}
	if err := s.shutOut(r, id); err != nil {
		return err
	}
	return done(w, r, "/phones", "shut-out")
}

// shutOut writes it down first, and then ends what the phone has under way.
func (s *Server) shutOut(r *http.Request, id int64) error {
	if err := s.Shop.Revoke(r.Context(), s.by(r), id); err != nil {
		return err
	}
	s.guests.shut(id)
	return nil
}

// stepsView is the page that says how to install the certificate.
type stepsView struct {
	Fingerprint string
	Shop        string // address of the way in, by figures
	File        string
	Ends        string
}

// steps says how the certificate is installed.
func (s *Server) steps(w http.ResponseWriter, r *http.Request) error {
	if s.Lan.plain() {
		return errNoRoot
	}
	v := stepsView{Fingerprint: s.Lan.root(), Shop: s.Lan.address(s.Lan.first(), s.Lan.Port, "/pair"), File: rootPath, Ends: s.Lan.Authority.Root().NotAfter.Local().Format("2 January 2006")}
	return s.render(w, r, http.StatusOK, "certificate", frame{Title: "The certificate of this shop", View: v})
}

// rootFile sends the certificate that phones have to trust.
func (s *Server) rootFile(w http.ResponseWriter, r *http.Request) error {
	if s.Lan.plain() {
		return errNoRoot
	}
	w.Header().Set("Content-Type", "application/x-x509-ca-cert")
	_, _ = w.Write(s.Lan.Authority.Root().Raw) // the visitor is gone if this fails
	return nil
}
