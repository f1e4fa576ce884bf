package present

import (
	"strconv"
	"strings"

	"seatboard/internal/book/parts"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
)

// CloseOut sets what came off a clock against what went back.
func CloseOut(clock string, l *parts.Ledger) doc.Doc {
	c := l.CloseOut()
	ready, findings := l.ReadyForTrial()
	d := doc.Doc{Title: "Close-out of " + clock}
	open := doc.Section{Body: []doc.Block{doc.Say{Text: closeWords(c, ready)}}}
	if len(c.Lines) == 0 {
		open.Body = []doc.Block{doc.Para{Text: "Nothing has been taken off yet. What comes off stands here against what goes back, so that nothing is left over."}}
		d.Sections = append(d.Sections, open)
		return d
	}
	open.Body = append(open.Body, closeFacts(c))
	if n, ok := unaccounted(c, findings); ok {
		open.Body = append(open.Body, n)
	}
	for _, f := range findings {
		if f.Level != meas.Clash {
			open.Body = append(open.Body, titled(notices([]meas.Finding{f}), "Wants a second look")...)
		}
	}
	open.Margin = remarks(findings)
	d.Sections = append(d.Sections, open, doc.Section{Heading: "Part by part", Body: []doc.Block{closeTable(clock, c)}})
	return d
}

func closeWords(c parts.CloseOut, ready bool) string {
	switch n := len(c.Unexplained()); {
	case ready && c.Balances():
		return "Everything is accounted for; the clock may go on trial."
	case ready:
		return "What is not back has its reason written; the clock may go on trial."
	case n == 1:
		return "One part is not accounted for; the clock waits for it."
	default:
		return strconv.Itoa(n) + " parts are not accounted for; the clock waits for them."
	}
}

// namedParts is how many parts a sentence names; the table has all.
const namedParts = 6

// unaccounted is one notice of all parts that hold the trial up.
func unaccounted(c parts.CloseOut, findings []meas.Finding) (doc.Notice, bool) {
	lines := c.Unexplained()
	for _, f := range findings {
		if f.Level != meas.Clash {
			continue
		}
		var names []string
		for _, l := range lines[:min(namedParts, len(lines))] {
			names = append(names, strings.TrimSpace(string(l.Number)+" "+l.Name))
		}
		text := strings.Join(names, "; ")
		if more := len(lines) - len(names); more > 0 {
			text += "; and " + strconv.Itoa(more) + " more, in the table"
		}
		return doc.Notice{Kind: doc.ClashNotice, Title: "Not accounted for", Text: text + ".", Next: f.Next, Ref: f.Ref}, true
	}
	return doc.Notice{}, false
}

func closeFacts(c parts.CloseOut) doc.Facts {
	var f doc.Facts
	add := func(label string, n int, note string, always bool) {
		if n != 0 || always {
			f = append(f, doc.Fact{Label: label, Value: strings.Replace(strconv.Itoa(n), "-", "−", 1), Note: note})
		}
	}
	add("Came off", c.CameOff, "pieces", true)
	add("Made new", c.New, "pieces", false)
	add("Back on", c.Back, "", true)
	add("Kept for the owner", c.Kept, "", false)
	add("Used up", c.UsedUp, "", false)
	add("Elsewhere", c.Elsewhere, "neither back, kept nor used up", false)
	add("Left in place", c.LeftInPlace, "never taken off", false)
	add("By recounting", c.Recounted, "more, or fewer, than was first counted", false)
	return f
}

func closeTable(clock string, c parts.CloseOut) doc.Table {
	t := doc.Table{Caption: "What came off and what was made", Columns: []doc.Column{{Head: "Number"}, {Head: "Part"}, {Head: "Pieces", Number: true}, {Head: "Now"}, {Head: "Place"}, {Head: "Reason"}}}
	for _, l := range c.Lines {
		now := l.State.Words()
		if l.New {
			now += ", new"
		}
		t.Rows = append(t.Rows, []string{l.Number.Of(clock), l.Name, strconv.Itoa(l.Count), now, l.Place, l.Reason})
	}
	return t
}
