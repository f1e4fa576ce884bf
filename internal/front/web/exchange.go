package web

import (
	"bytes"
	"mime"
	"net/http"
	"net/url"
	"strings"

	"seatboard/internal/shop"
)

// export sends one clock as a JSON file.
func (s *Server) export(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := s.Shop.Export(r.Context(), f.Clock.ID, &b); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Content-Disposition", attachment("clock-"+f.Clock.Number+".json"))
	_, err = w.Write(b.Bytes())
	return err
}

// attachment names a download; control characters and path marks are left
// out of the name.
func attachment(name string) string {
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, name)
	return mime.FormatMediaType("attachment", map[string]string{"filename": clean})
}

// bringInView is the form for a clock's file from elsewhere.
type bringInView struct{ Problem *shop.Problem }

// bringIn asks for a file.
func (s *Server) bringIn(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, r, http.StatusOK, "bring-in", frame{Title: "Bring a clock in from a file", Place: "clocks", View: bringInView{}})
}

// bringInFile reads a clock from a file that another shop, or this one, wrote.
func (s *Server) bringInFile(w http.ResponseWriter, r *http.Request) error {
	file, _, err := r.FormFile("file")
	if err != nil {
		p := &shop.Problem{Code: shop.BadInput, Message: "No file was chosen.", Hint: "Choose a clock's JSON file first."}
		return s.render(w, r, statuses[p.Code], "bring-in", frame{Title: p.Message, Place: "clocks", View: bringInView{p}})
	}
	defer file.Close()
	got, err := s.Shop.Import(r.Context(), s.by(r), file)
	if err != nil {
		p := shop.AsProblem(err)
		if p.Code == shop.Internal {
			return err
		}
		return s.render(w, r, statuses[p.Code], "bring-in", frame{Title: p.Message, Place: "clocks", View: bringInView{p}})
	}
	state := "imported"
	switch {
	case len(got.Ended) > 0 && len(got.Unread) > 0:
		state = "endpart"
	case len(got.Ended) > 0:
		state = "ended"
	case len(got.Unread) > 0:
		state = "partly"
	}
	return done(w, r, clockPath(got.Clock.ID), state)
}

// encode makes a query string of pairs, leaving out empty values and those
// that no address holds.
func encode(pairs ...string) string {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" && len(pairs[i+1]) < maxAddress {
			v.Set(pairs[i], pairs[i+1])
		}
	}
	return v.Encode()
}
