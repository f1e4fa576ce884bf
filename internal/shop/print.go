package shop

import (
	"context"
	"io"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/photo"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/drawing"
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
// stands on every page beside the day. Its photographs are the shop's, in the
// size made for a page; the sheets of its drawings follow it.
func (s *Shop) Print(ctx context.Context, d doc.Doc, foot, paper string) ([]byte, error) {
	return printOn(d, foot, paper, s.now(), func(uid string) []byte { return s.printable(ctx, uid) })
}

// PrintOn is Print on a day, for what belongs to no shop.
func PrintOn(d doc.Doc, foot, paper string, day time.Time) ([]byte, error) {
	return printOn(d, foot, paper, day, nil)
}

func printOn(d doc.Doc, foot, paper string, day time.Time, photo func(string) []byte) ([]byte, error) {
	p, err := paperOf(paper)
	if err != nil {
		return nil, AsProblem(err)
	}
	o := pdf.Options{Paper: p, Foot: foot, Made: day.Local(), Photo: photo}
	for _, one := range d.Drawings() {
		sheets, err := drawing.Lay(one, drawing.Options{Paper: p, Day: day.Local()})
		if err != nil {
			return nil, err
		}
		o.Sheets = append(o.Sheets, sheets...)
	}
	return pdf.Render(d, o)
}

// printable is a photograph as it is printed: the picture that was made of it,
// never the file as it came; nil where there is none.
func (s *Shop) printable(ctx context.Context, uid string) []byte {
	p, err := s.Photo(ctx, uid)
	if err != nil {
		return nil
	}
	f, err := s.SmallPhoto(ctx, p, photo.MiddleSide)
	if err != nil {
		return nil
	}
	defer f.Close()
	b, err := io.ReadAll(f)
	if err != nil {
		return nil
	}
	return b
}

// Printer is what a drawing is printed on: the name of a paper, "" for the
// first, and what bars of 100 mm came out as on it, in words with or without a
// unit, "" where they were not measured.
type Printer struct{ Paper, BarAcross, BarDown string }

// DrawingNow is the sheets of one drawing as PDF, at true size.
func (s *Shop) DrawingNow(d doc.Drawing, on Printer) ([]byte, error) {
	return PrintDrawing(d, on, s.now())
}

// PrintDrawing is DrawingNow on a day, for what belongs to no shop.
func PrintDrawing(d doc.Drawing, on Printer, day time.Time) ([]byte, error) {
	o, faults := drawing.Options{Day: day.Local()}, meas.Faults(nil)
	var err error
	if o.Paper, err = paperOf(on.Paper); err != nil {
		faults = append(faults, meas.Fault{Field: "paper", Text: "The paper is A4 or Letter"})
	}
	o.BarAcross = bar(&faults, "bar-across", "across", on.BarAcross)
	o.BarDown = bar(&faults, "bar-down", "down", on.BarDown)
	if len(faults) > 0 {
		return nil, AsProblem(faults)
	}
	sheets, err := drawing.Lay(d, o)
	if err != nil {
		return nil, err
	}
	return pdf.Sheets(d.Title, o.Day, sheets...)
}

// bar reads what a bar of 100 mm measured, in millimetres; 0 where nothing
// was typed.
func bar(faults *meas.Faults, field, way, typed string) float64 {
	if strings.TrimSpace(typed) == "" {
		return 0
	}
	length, err := unit.Parse[unit.Length](typed, "mm")
	if mm := length.MM(); err == nil && mm >= 80 && mm <= 120 {
		return mm
	}
	*faults = append(*faults, meas.Fault{Field: field, Text: "The bar " + way + ", as measured, is between 80 and 120 mm, like 99.6 mm"})
	return 0
}
