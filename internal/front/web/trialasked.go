package web

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// askedView is a question with the buttons that answer it.
type askedView struct {
	N           int
	Text, Next  string
	Used        bool
	About, From string
	Readings    string
	Answers     []optionView
	Words       *recordField // what is told with the answer
}

// sayWords are what a button of an answer says.
var sayWords = map[shop.TrialSay]string{
	shop.SayRight: "It is right", shop.SayWrong: "It is wrong: leave it out", shop.SaySet: "The hands were set", shop.SayStood: "It stood, and went on", shop.SayNut: "The nut was turned",
	shop.SayWorked: "Something else was done", shop.SayNothing: "Nothing was done that I know", shop.SayBefore: "The time was right before", shop.SaySince: "The time is right since",
}

// askedOf lays the questions out; form is what was typed for one of them.
func askedOf(t shop.Trial, form url.Values, faults meas.Faults) []askedView {
	var out []askedView
	for i, q := range t.Questions {
		v := askedView{N: i, Text: sentence(q.Text), Next: sentence(q.Ask), Used: q.Used, About: string(q.About), From: q.From.UTC().Format(time.RFC3339Nano), Readings: joined(q.Reading)}
		for _, say := range shop.Answers(q) {
			v.Answers = append(v.Answers, sayOptions(*t.Book, q, say)...)
		}
		if q.About == regulate.SetUnnoted || q.About == regulate.RateUnnoted {
			text := ""
			f := recordField{Name: "answer-words", Label: "What was done, or how far the nut was turned", Hint: "up 1/2 · down 12 divisions · moved", Size: 24, target: &text}
			if form.Get("about") == v.About && form.Get("from") == v.From {
				text, f.Error = form.Get(f.Name), faultOf(faults, f.Name)
			}
			v.Words = &f
		}
		out = append(out, v)
	}
	return out
}

// sayOptions are the buttons of an answer: one, or one for each reading that
// may be the wrong one.
func sayOptions(b trial.Book, q regulate.Question, say shop.TrialSay) []optionView {
	words := sayWords[say]
	switch {
	case say == shop.SayShift && q.Later > 0:
		words = "It was taken 12 h later"
	case say == shop.SayShift && q.Later < 0:
		words = "It was taken 12 h earlier"
	case say == shop.SayShift:
		words = "Put it right by " + present.ShiftWords(shop.ShiftOf(q))
	case len(q.Reading) > 1 && say == shop.SayRight:
		words = "All are right"
	case say == shop.SayWrong && (q.About == regulate.Disagree || q.About == regulate.Twice):
		var out []optionView
		for _, id := range q.Reading {
			r, _ := b.Reading(id)
			out = append(out, optionView{Value: string(say) + "/" + strconv.Itoa(id), Label: fmt.Sprintf("Leave out reading %d, %s", id, present.FastWords(r.Error))})
		}
		return out
	case len(q.Reading) > 1 && say == shop.SayWrong:
		words = "Leave them all out"
	}
	return []optionView{{Value: string(say), Label: words}}
}

// answerAsked is an answer as its button says it.
func answerAsked(form url.Values) shop.TrialAnswer {
	say, which, _ := strings.Cut(form.Get("say"), "/")
	a := shop.TrialAnswer{About: regulate.Doubtful(form.Get("about")), Say: shop.TrialSay(say), Words: typed(form["answer-words"])}
	a.Which, _ = strconv.Atoi(which)                           // 0 is all of them
	a.From, _ = time.Parse(time.RFC3339Nano, form.Get("from")) // another moment is not asked about
	for _, id := range strings.Fields(form.Get("readings")) {
		n, _ := strconv.Atoi(id) // 0 is no reading
		a.Readings = append(a.Readings, n)
	}
	return a
}

func joined(ids []int) string {
	var out []string
	for _, id := range ids {
		out = append(out, strconv.Itoa(id))
	}
	return strings.Join(out, " ")
}

// sentence ends words with a full stop.
func sentence(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!:") {
		return s
	}
	return s + "."
}
