package csv

import (
	"strings"
	"testing"

	"seatboard/internal/kit/doc"
)

func TestWrite(t *testing.T) {
	var b strings.Builder
	err := Write(&b, doc.Table{
		Columns: []doc.Column{{Head: "Day"}, {Head: "Height", Unit: "mm", Number: true}},
		Rows:    [][]string{{"wound", "1200.5"}, {`a "long", day`, "−3"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := "Day,Height (mm)\r\nwound,1200.5\r\n\"a \"\"long\"\", day\",-3\r\n"
	if b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
}

func TestCellCannotBecomeAFormula(t *testing.T) {
	for in, want := range map[string]string{
		"=1+1": "'=1+1", "+cmd|x": "'+cmd|x", "-2+3": "'-2+3", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", "\r=1": "'\r=1",
		"＝1": "'＝1", "+3.2": "+3.2", "-12": "-12", "−12": "-12", "96/8": "96/8", "\x00=1": "'=1",
	} {
		if got := Cell(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}
