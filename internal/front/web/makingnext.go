package web

import (
	"context"
	"fmt"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/craft/train/missing"
	"seatboard/internal/shop"
)

// nextToMake is the next step about what a clock lacks, "" where it lacks
// nothing or all is answered under Making.
func (s *Server) nextToMake(ctx context.Context, clock int64, number string) (words, href string, err error) {
	w, err := s.Shop.Wanted(ctx, clock)
	if w == nil || err != nil {
		return "", "", err
	}
	words, href = wantedWords(*w, clockPath(clock), number)
	return words, href, nil
}

// wantedWords says what is to be found or made next, and where.
func wantedWords(w shop.Wanted, path, number string) (words, href string) {
	sheet := fmt.Sprintf("%s/making/%d", path, w.Sheet)
	switch what := members(w.Members); w.Step {
	case shop.FindCounts:
		return "Find what " + what + " had", "/desk/missing?" + encode(forClock, number)
	case shop.ChooseCounts:
		return fmt.Sprintf("Choose for the survey what sheet %d found for %s", w.Sheet, what), sheet
	case shop.DrawPart:
		if w.Members[0].Part == "escape wheel" {
			sheet = "/desk/escape-wheel?" + encode(forClock, number)
		}
		return "Draw " + what + ", for cutting", sheet
	case shop.CutPart:
		return fmt.Sprintf("Cut %s, by sheet %d, and write the part down", what, w.Sheet), sheet
	case shop.ReplacePart:
		return fmt.Sprintf("Find or make %s: “%s”", strings.TrimSpace("part "+string(w.Part)+" "+w.Name), clipped(w.Said)), path + "/parts/" + string(w.Part)
	}
	return fmt.Sprintf("Find or make what is missing, %s: “%s”", w.Name, clipped(w.Said)), path + "/condition"
}

// members names what is lacking, with its count where that is inferred.
func members(all []missing.Lacking) string {
	const most = 3
	var words []string
	for _, l := range all[:min(most, len(all))] {
		word := l.String()
		switch {
		case l.Teeth > 0 && l.Part == "pinion":
			word += fmt.Sprintf(", %d leaves", l.Teeth)
		case l.Teeth > 0:
			word += fmt.Sprintf(", %d teeth", l.Teeth)
		}
		words = append(words, word)
	}
	if more := len(all) - most; more > 0 {
		words = append(words, fmt.Sprintf("%d more", more))
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// clipped is the beginning of words of a record.
func clipped(words string) string {
	const most = 80
	if r := []rune(words); len(r) > most {
		return strings.TrimSpace(string(r[:most])) + "…"
	}
	return words
}

// makeLine is a clock in the list of what is to be found or made.
type makeLine struct {
	Clock       job.Summary
	Words, Href string
}

// toMake lists what is to be found or made next for clocks that are worked on,
// of each stage those touched last.
func (s *Server) toMake(ctx context.Context, stages []shop.InStage) ([]makeLine, error) {
	var out []makeLine
	for _, st := range stages {
		switch st.Stage {
		case job.Surveying, job.TakingDown, job.Work, job.Case:
		default:
			continue
		}
		for _, c := range st.Clocks {
			w, err := s.Shop.WantedOf(ctx, c)
			if err != nil {
				return nil, err
			}
			if w != nil {
				words, href := wantedWords(*w, clockPath(c.ID), c.Number)
				out = append(out, makeLine{c, words, href})
			}
		}
	}
	return out, nil
}
