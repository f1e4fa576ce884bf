package web

import (
	"net/http"
	"time"

	"seatboard/internal/book/device"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// The cookies of a phone, see [cookieName]: the claim while it waits to be
// let in, and its key afterwards.
const (
	claimCookie = "seatboard_claim"
	keyCookie   = "seatboard_phone"
	claimAge    = int(3 * shop.PairingLasts / time.Second)
	keyAge      = 400 * 24 * 3600 // s, the longest that browsers keep one
)

// valueOf is what a cookie of a request holds, "" where there is none.
func valueOf(r *http.Request, name string) string {
	c, err := r.Cookie(cookieName(r, name))
	if err != nil {
		return ""
	}
	return c.Value
}

// knownBy is the device whose key a request shows.
func (s *Server) knownBy(r *http.Request) (device.Device, bool, error) {
	key := valueOf(r, keyCookie)
	if key == "" {
		return device.Device{}, false, nil
	}
	return s.Shop.Known(r.Context(), key)
}

// comingView is the page on the phone that wants to be let in.
type comingView struct {
	Step       shop.PairingStep // that of the phone
	Digits     string
	Code, Name string
	Faults     meas.Faults
	Problem    *shop.Problem
	Plain      bool
}

// Wrong is the mistake beside a field.
func (v comingView) Wrong(field string) string {
	for _, f := range v.Faults {
		if f.Field == field {
			return f.Text
		}
	}
	return ""
}

// pairPage shows a phone how far it has come.
func (s *Server) pairPage(w http.ResponseWriter, r *http.Request) error {
	g, ok := guestOf(r)
	if !ok {
		http.Redirect(w, r, "/phones", http.StatusSeeOther)
		return nil
	}
	if g.paired() {
		http.Redirect(w, r, "/this-phone", http.StatusSeeOther)
		return nil
	}
	var v comingView
	if claim := valueOf(r, claimCookie); claim != "" {
		st := s.pairing.Claimed(claim)
		v.Step, v.Digits = st.Step, st.Digits
	}
	if v.Step == shop.Ended {
		setCookie(w, r, claimCookie, "", -1)
	}
	return s.renderPair(w, r, http.StatusOK, v)
}

func (s *Server) renderPair(w http.ResponseWriter, r *http.Request, status int, v comingView) error {
	v.Plain = s.Lan.plain()
	f := frame{Title: "Let this phone in", View: v, Faults: v.Faults}
	if v.Step == shop.Asking {
		f.Again = 3
	}
	return s.render(w, r, status, "pair", f)
}

// askIn takes the code and the name.
func (s *Server) askIn(w http.ResponseWriter, r *http.Request) error {
	if g, ok := guestOf(r); !ok || g.paired() {
		return s.pairPage(w, r)
	}
	v := comingView{Code: typed(r.PostForm["code"]), Name: typed(r.PostForm["name"])}
	claim, _, err := s.pairing.Ask(v.Code, v.Name)
	if err == nil {
		s.Log.Info("a phone asks to be let in", "from", remote(r))
		setCookie(w, r, claimCookie, claim, claimAge)
		http.Redirect(w, r, "/pair", http.StatusSeeOther)
		return nil
	}
	p := shop.AsProblem(err)
	if p.Code == shop.Internal {
		return err
	}
	s.Log.Warn("a phone was not taken", "from", remote(r), "why", string(p.Code))
	if v.Faults = p.Fields; len(p.Fields) == 0 {
		v.Problem = p
	}
	return s.renderPair(w, r, statuses[p.Code], v)
}

// pairStep tells the page on the phone how far it has come.
func (s *Server) pairStep(w http.ResponseWriter, r *http.Request) error {
	return sayStep(w, s.pairing.Claimed(valueOf(r, claimCookie)).Step)
}

func sayStep(w http.ResponseWriter, step shop.PairingStep) error {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, _ = w.Write([]byte(step)) // the visitor is gone if this fails
	return nil
}

// finishPair gives the phone its key, once. What it was before is forgotten.
func (s *Server) finishPair(w http.ResponseWriter, r *http.Request) error {
	if g, ok := guestOf(r); !ok || g.paired() {
		return s.pairPage(w, r)
	}
	key, err := s.pairing.Finish(r.Context(), s.By, valueOf(r, claimCookie))
	if err != nil {
		return err
	}
	s.Log.Info("a phone was let in", "from", remote(r))
	setCookie(w, r, claimCookie, "", -1)
	setCookie(w, r, keyCookie, key, keyAge)
	s.tokens.renew(w, r)
	return done(w, r, "/this-phone", "let-in")
}

// thisPhoneView is what a phone can do here.
type thisPhoneView struct {
	Name        string // "" on the shop's own computer
	Plain       bool
	Fingerprint string
}

// thisPhone tests what the browser can do.
func (s *Server) thisPhone(w http.ResponseWriter, r *http.Request) error {
	var v thisPhoneView
	if g, ok := guestOf(r); ok {
		v = thisPhoneView{Name: g.device.Name, Plain: s.Lan.plain(), Fingerprint: s.Lan.root()}
	}
	return s.render(w, r, http.StatusOK, "this-phone", frame{Title: "This device", View: v})
}

// leave shuts the phone out that asks for it.
func (s *Server) leave(w http.ResponseWriter, r *http.Request) error {
	g, ok := guestOf(r)
	if !ok {
		return errNoPage
	}
	if err := s.shutOut(r, g.device.ID); err != nil {
		return err
	}
	setCookie(w, r, keyCookie, "", -1)
	http.Redirect(w, r, "/pair", http.StatusSeeOther)
	return nil
}
