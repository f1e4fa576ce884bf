package present

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// Chapter is what one part of the craft leans on and how it proves itself.
type Chapter struct {
	Title   string
	Entries []cite.Entry
	Checks  []cite.Check
}

// Sources lists every constant and table with where it is from, chapter by
// chapter, then the works.
func Sources(chapters []Chapter) doc.Doc {
	d := doc.Doc{Title: "Sources", Lead: "Every constant and table, with where it is from. The word in the last column is the kind of evidence."}
	for _, c := range chapters {
		if len(c.Entries) == 0 { // it leans on nothing, and is only held against others
			continue
		}
		t := doc.Table{Caption: "Constants and tables", Columns: []doc.Column{{Head: "What"}, {Head: "Value"}, {Head: "From"}, {Head: "Evidence"}}}
		for _, e := range c.Entries {
			t.Rows = append(t.Rows, []string{e.Name, e.Value, place(e.Ref), e.Ref.Grade.String()})
		}
		d.Sections = append(d.Sections, doc.Section{Heading: c.Title, Body: []doc.Block{t}})
	}
	return withWorks(d)
}

func withWorks(d doc.Doc) doc.Doc {
	t := doc.Table{Caption: "Where they were read", Columns: []doc.Column{{Head: "Author"}, {Head: "Title"}, {Head: "Edition"}, {Head: "Seen as"}}}
	for _, s := range cite.Bibliography() {
		t.Rows = append(t.Rows, []string{s.Author, s.Title, s.Edition, s.Seen})
	}
	d.Sections = append(d.Sections, doc.Section{Heading: "Works", Body: []doc.Block{t}})
	return d
}

// place is a reference without its grade.
func place(r cite.Ref) string {
	r.Grade = cite.Printed
	return r.String()
}

// Validation sets what outside sources print beside what is computed here.
// Known misprints stand among them and must not agree.
func Validation(chapters []Chapter) doc.Doc {
	d := doc.Doc{Title: "Validation"}
	total, held, printed := 0, 0, 0
	for _, c := range chapters {
		t := doc.Table{Caption: "Printed figures and ours", Columns: []doc.Column{
			{Head: "What"}, {Head: "From"}, {Head: "Printed", Number: true}, {Head: "Ours", Number: true}, {Head: "Difference", Number: true}, {Head: "Verdict"},
		}}
		for _, k := range c.Checks {
			total++
			if k.Holds() {
				held++
			}
			if k.Ref.Grade != cite.Computed {
				printed++
			}
			t.Rows = append(t.Rows, checkRow(k))
		}
		d.Sections = append(d.Sections, doc.Section{Heading: c.Title, Body: []doc.Block{t}})
	}
	d.Lead = fmt.Sprintf("%d figures from outside beside ours, worked out as this page is made; %d come out as they should. %d of them are read in print, the others worked out independently and marked “computed”. A figure agrees when ours rounds to the last digit printed, or is within the tolerance its source allows; a known misprint must not agree.", total, held, printed)
	return d
}

func checkRow(k cite.Check) []string {
	printed, half, err := cite.PrintedNumber(k.Printed)
	if err != nil {
		return []string{k.What, k.Ref.String(), k.Printed, "", "", "not a figure"}
	}
	decimals := 2
	if half > 0 {
		decimals = max(0, int(math.Ceil(-math.Log10(2*half)-1e-9))) + 1
	}
	ours, diff := unit.Number(k.Got, decimals), unit.Number(k.Got-printed, decimals)
	if decimals > 9 || strings.ContainsAny(k.Printed, "eE") {
		ours, diff = strconv.FormatFloat(k.Got, 'g', 12, 64), strconv.FormatFloat(k.Got-printed, 'g', 2, 64)
	}
	return []string{k.What, k.Ref.String(), k.Printed, ours, diff, verdict(k)}
}

func verdict(k cite.Check) string {
	switch {
	case k.Misprint && k.Holds():
		return "misprint, differs"
	case k.Misprint:
		return "taken for a misprint, but agrees"
	case k.Holds():
		return "agrees"
	}
	return "differs"
}
