package web

import (
	"errors"
	"net/http/httptest"
	"strings"
	"testing"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/shop"
)

// TestDrawingFiles sends a drawing in each of its forms.
func TestDrawingFiles(t *testing.T) {
	p := pic.Picture{Title: "wheel", W: 30, H: 30, Scale: pic.TrueSize, Items: []pic.Item{pic.Outline{Paths: []geom.Path{geom.Round(geom.Pt{X: 15, Y: 15}, 12)}}}}
	d := doc.Doc{Sections: []doc.Section{{Body: []doc.Block{doc.Drawing{Name: "wheel", Title: "Wheel", Views: []doc.View{{Name: "True size", Scale: 1, Picture: p}}}}}}}
	s := &Server{Config: Config{Shop: openEmpty(t)}}
	for file, want := range map[string]string{"wheel.svg": "image/svg+xml", "wheel.pdf": "application/pdf", "wheel.dxf": "image/vnd.dxf"} {
		w := httptest.NewRecorder()
		if err := s.sendDrawing(w, httptest.NewRequest("GET", "/x?paper=letter&bar-across=99.5", nil), d, file); err != nil {
			t.Errorf("%s: %v", file, err)
		}
		if h := w.Header(); h.Get("Content-Type") != want || !strings.Contains(h.Get("Content-Disposition"), file) || w.Body.Len() == 0 {
			t.Errorf("%s: %v, %d bytes", file, h, w.Body.Len())
		}
	}
	for _, file := range []string{"pinion.svg", "wheel.png", "wheel"} {
		if err := s.sendDrawing(httptest.NewRecorder(), httptest.NewRequest("GET", "/x", nil), d, file); !errors.Is(err, errNoPage) {
			t.Errorf("%s: %v", file, err)
		}
	}
	var problem *shop.Problem
	if err := s.sendDrawing(httptest.NewRecorder(), httptest.NewRequest("GET", "/x?bar-down=12&paper=A0", nil), d, "wheel.pdf"); !errors.As(err, &problem) || len(problem.Fields) != 2 {
		t.Errorf("%v", err)
	}
}
