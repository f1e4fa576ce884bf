package shop

import (
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/pdf"
)

// Papers are the names of the sheets that can be printed on, the one that is
// taken without a word first.
func Papers() []string { return []string{pdf.A4().Name, pdf.Letter().Name} }

// paperOf finds a sheet by its name; case does not matter.
func paperOf(name string) (pdf.Paper, error) {
	for _, p := range []pdf.Paper{pdf.A4(), pdf.Letter()} {
		if name == "" || strings.EqualFold(name, p.Name) {
			return p, nil
		}
	}
	return pdf.Paper{}, meas.Faults{{Field: "paper", Text: "The paper is A4 or Letter"}}
}

// Foot is what stands at the foot of every page about a clock.
func Foot(c job.Clock) string {
	foot := strings.TrimSpace(c.Number + " " + c.Title)
	if c.Invented {
		foot += " · invented for the demonstration"
	}
	return foot
}

// Print sets a document as PDF on a paper of [Papers], "" for the first; foot
// stands on every page beside the day.
func (s *Shop) Print(d doc.Doc, foot, paper string) ([]byte, error) {
	return PrintOn(d, foot, paper, s.now())
}

// PrintOn is Print on a day, for what belongs to no shop.
func PrintOn(d doc.Doc, foot, paper string, day time.Time) ([]byte, error) {
	p, err := paperOf(paper)
	if err != nil {
		return nil, AsProblem(err)
	}
	return pdf.Render(d, pdf.Options{Paper: p, Foot: foot, Made: day.Local()})
}
