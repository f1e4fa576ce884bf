package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/shop"
)

// drawn is a document with so many drawings.
func drawn(names ...string) doc.Doc {
	var s doc.Section
	for _, n := range names {
		p := pic.Picture{Title: n, W: 30, H: 30, Scale: pic.TrueSize, Items: []pic.Item{pic.Outline{Paths: []geom.Path{geom.Round(geom.Pt{X: 15, Y: 15}, 12)}}}}
		s.Body = append(s.Body, doc.Drawing{Name: n, Title: n, Views: []doc.View{{Name: "True size", Scale: 1, Picture: p}}})
	}
	return doc.Doc{Title: "Drawn", Sections: []doc.Section{s}}
}

func TestDrawingFiles(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	o := output{svg: at("w.svg"), pdf: at("w.pdf"), dxf: at("w.dxf"), drawing: "wheel", on: shop.Printer{Paper: "letter", BarAcross: "99.5 mm"}}
	if done, err := o.files(Env{}, drawn("wheel", "pinion")); done || err != nil {
		t.Fatal(done, err)
	}
	for name, want := range map[string]string{"w.svg": `width="30mm"`, "w.pdf": "%PDF-", "w.dxf": "AC1009"} {
		b, err := os.ReadFile(at(name))
		if err != nil || !bytes.Contains(b, []byte(want)) {
			t.Errorf("%s: %v, %q is not in it", name, err, want)
		}
	}
}

// TestWhichDrawing: what is missing is named, with what there is.
func TestWhichDrawing(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x")
	for _, c := range []struct {
		o    output
		d    doc.Doc
		want string
	}{
		{output{dxf: file}, drawn("wheel", "pinion"), "wheel, pinion"},
		{output{svg: file}, drawn("wheel", "pinion"), "--drawing"},
		{output{dxf: file, drawing: "rack"}, drawn("wheel"), `no drawing "rack"; there are wheel`},
		{output{dxf: file}, drawn(), "no drawing at true size"},
		{output{pdf: file, on: shop.Printer{BarDown: "99.5"}}, drawn(), "no drawing at true size"},
		{output{pdf: file, on: shop.Printer{BarDown: "ninety", BarAcross: "12", Paper: "A0"}}, drawn("wheel"), "a problem with what was entered"},
	} {
		_, err := c.o.files(Env{}, c.d)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v", c.o, err)
		}
		if _, err := os.Stat(file); err == nil {
			t.Fatal("a file was left behind")
		}
	}
}
