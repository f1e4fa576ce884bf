package parts

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

// CloseOut is what came off against what went back, in pieces.
type CloseOut struct {
	CameOff     int // taken off
	New         int // made new or bought
	Back        int // of both: back on
	Kept        int // for the owner
	UsedUp      int
	Elsewhere   int // neither back on, kept nor used up
	LeftInPlace int // recorded and never taken off
	Recounted   int // changed by recounting, while taken down
	Lines       []Line
}

// Line is one part of the close-out: all that came off or was made new.
type Line struct {
	Part
	Accounted bool // back on, kept or used up
	Explained bool // or a reason is written
}

// CloseOut sets up the close-out, by number.
func (l *Ledger) CloseOut() CloseOut {
	c := CloseOut{Recounted: l.recount}
	for _, p := range l.Parts() {
		if !p.CameOff && !p.New {
			c.LeftInPlace += p.Count
			continue
		}
		line := Line{Part: p, Accounted: p.State.accounted() || p.Count == 0}
		line.Explained = line.Accounted || strings.TrimSpace(p.Reason) != ""
		c.Lines = append(c.Lines, line)
		c.count(p)
	}
	return c
}

func (c *CloseOut) count(p Part) {
	if p.New {
		c.New += p.Count
	} else {
		c.CameOff += p.Count
	}
	switch p.State {
	case BackOn:
		c.Back += p.Count
	case Kept:
		c.Kept += p.Count
	case UsedUp:
		c.UsedUp += p.Count
	default:
		c.Elsewhere += p.Count
	}
}

// Balances tells whether what came off and what was made new is all back on,
// kept or used up.
func (c CloseOut) Balances() bool { return c.CameOff+c.New == c.Back+c.Kept+c.UsedUp }

// Unexplained lists the parts that are neither accounted for nor explained.
func (c CloseOut) Unexplained() []Line {
	var out []Line
	for _, l := range c.Lines {
		if !l.Explained {
			out = append(out, l)
		}
	}
	return out
}

// ReadyForTrial tells whether the clock may go on trial: every part that came
// off or was made new is back on, kept or used up, or a reason is written.
// The findings say what holds it up (clashes) and what else wants a look.
func (l *Ledger) ReadyForTrial() (ready bool, findings []meas.Finding) {
	practice := cite.Ref{Grade: cite.CommonPractice}
	say := func(level meas.Level, code string, n Number, text, next string) {
		findings = append(findings, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: []string{string(n)}, Ref: practice})
	}
	c := l.CloseOut()
	lines := c.Unexplained()
	for _, u := range lines {
		say(meas.Clash, "unexplained", u.Number, fmt.Sprintf("%s, %s: %s, not back on, kept or used up.", u.called(), pieces(u.Count), u.State.Words()),
			"Put it back, lay it aside for the owner, or write why it is where it is.")
	}
	replaced := map[Number]bool{}
	for _, p := range l.parts {
		if p.State == BackOn {
			replaced[p.Replaces] = true
		}
	}
	for _, line := range c.Lines {
		switch p := line.Part; {
		case line.Explained && !line.Accounted:
			say(meas.Note, "explained", p.Number, fmt.Sprintf("%s is %s: %s.", p.called(), p.State.Words(), strings.TrimRight(strings.TrimSpace(p.Reason), ".")), "")
		case p.State == Kept && !replaced[p.Number]:
			say(meas.Note, "kept", p.Number, p.called()+" is kept for the owner and nothing is noted in its place.", "Say which part replaces it, if one does.")
		}
	}
	for _, p := range l.Parts() {
		if p.WantsSecondLook() {
			say(meas.Doubt, "second-look", p.Number, p.called()+" had an earlier repair that was not looked at again.", "Look, and write what was found.")
		}
	}
	return len(lines) == 0, findings
}

// called is how a sentence names the part.
func (p Part) called() string {
	if p.Name == "" {
		return string(p.Number)
	}
	return string(p.Number) + " " + p.Name
}

// Hazards lists the cautions that go wherever the part goes.
func (p Part) Hazards() []clean.Hazard { return clean.HazardsOf(p.Made) }

// Pieces is parts as a bath judges them, by the clock's number.
func (l *Ledger) Pieces(clock string, numbers ...Number) []clean.Piece {
	var out []clean.Piece
	for _, n := range numbers {
		if p, ok := l.parts[n]; ok {
			out = append(out, clean.Piece{Number: n.Of(clock), Name: p.Name, Materials: p.Made, Assembled: l.Assembled(n)})
		}
	}
	return out
}
