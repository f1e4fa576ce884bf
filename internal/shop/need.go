package shop

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Need is one thing that waits for a hand: a batch, or hours of which nobody
// has said when they ended.
type Need struct {
	Name  string // "2026-012 blue jar"
	About string // what is to be done
	Words string // how long is left, or since when it waits
	Late  bool
	Bath  *Bath // that it is about, or
	Work  *Work

	rank int
	by   time.Time // within a rank the earlier comes first
}

// The order in which things wait for a hand.
const (
	rankDamaged = iota
	rankOver    // parts that are too long in a liquid
	rankLate    // parts that lie wet
	rankInBath
	rankStep
	rankHours
)

// needs lists what waits for a hand, the most urgent first.
func (s *Shop) needs(ctx context.Context) ([]Need, error) {
	baths, err := s.RunningBaths(ctx)
	if err != nil {
		return nil, err
	}
	var out []Need
	for _, b := range baths {
		out = append(out, needOfBath(b, s.now()))
	}
	open, err := s.OpenWork(ctx)
	if err != nil {
		return nil, err
	}
	for _, w := range open {
		if w.Question == nil {
			continue
		}
		out = append(out, Need{Name: w.Words(), About: "Say when the work of " + w.Who + " ended; until then it stands in no sum", Words: "since " + day(w.Start.In(s.Zone()), s.now()), Late: true, Work: &w, rank: rankHours, by: w.Start})
	}
	slices.SortStableFunc(out, func(a, b Need) int { return cmp.Or(cmp.Compare(a.rank, b.rank), a.by.Compare(b.by)) })
	return out, nil
}

// needOfBath says what a batch waits for.
func needOfBath(b Bath, now time.Time) Need {
	n := Need{Name: strings.TrimSpace(b.Clock.Number + " " + b.Jar), Bath: &b, by: b.Until}
	if b.Damaged != "" {
		n.About, n.Words, n.Late = "Its log is damaged, and nobody knows when its parts must come out: look at the jar now", "damaged", true
		return n
	}
	wait, ok := b.Waits(now)
	switch {
	case !ok:
		n.About, n.Words, n.rank = "All is ticked: close it", "to be closed", rankStep
	case b.InLiquid() && b.Remains <= 0:
		n.About, n.Words, n.Late, n.rank = "Take the parts out", Minutes(b.Remains), true, rankOver
	case b.InLiquid():
		n.About, n.Words, n.rank = fmt.Sprintf("In the liquid until %s", day(b.Until.In(now.Location()), now)), Minutes(b.Remains)+" left", rankInBath
	default:
		n.About, n.Words, n.Late, n.rank, n.by = wait.Step.Name+" is not ticked", "since "+day(wait.Since.In(now.Location()), now), wait.Late, rankStep, wait.Since
		if wait.Late {
			n.rank = rankLate
		}
	}
	return n
}

// day is an instant as people say it: the time alone where it is today.
func day(t, now time.Time) string {
	if t.Format(time.DateOnly) == now.In(t.Location()).Format(time.DateOnly) {
		return t.Format("15:04")
	}
	return t.Format("2006-01-02 15:04")
}
