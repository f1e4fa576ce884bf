package web

import (
	"maps"
	"net/url"

	"seatboard/internal/front/desk"
)

// onwardView is a link to another calculation with values filled in.
type onwardView struct{ Words, Href string }

// onwardOf lists the calculations that an answer leads to, for the same clock.
func onwardOf(c desk.Calculation, answer any, number string) []onwardView {
	if c.Onward == nil {
		return nil
	}
	var out []onwardView
	for _, o := range c.Onward(answer) {
		if _, ok := desk.Find(o.Name); !ok {
			continue
		}
		values := maps.Clone(url.Values(o.Values))
		if number != "" {
			values.Set(forClock, number)
		}
		out = append(out, onwardView{o.Words, "/desk/" + o.Name + "?" + values.Encode()})
	}
	return out
}
