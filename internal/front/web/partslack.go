package web

import (
	"net/http"
	"net/url"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/parts"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// lack is something that is not written down of a part, by which a list is
// narrowed.
type lack struct {
	Key, Words string
	of         func(p parts.Part, shot bool) bool
}

// lacks lists them in the order in which they are offered.
func lacks() []lack {
	return []lack{
		{"place", "without a place", func(p parts.Part, _ bool) bool { return p.Place == "" && p.LiesSomewhere() }},
		{"photo", "without a photograph", func(_ parts.Part, shot bool) bool { return !shot }},
		{"name", "without a name", func(p parts.Part, _ bool) bool { return p.Name == "" }},
		{"made", "not said of what", func(p parts.Part, _ bool) bool { return len(p.Made) == 0 }},
		{"look", "to look at again", func(p parts.Part, _ bool) bool { return p.WantsSecondLook() }},
	}
}

// partsView is the list of a ledger's parts as an address asks for it.
func (s *Server) partsView(r *http.Request, t shop.TakeDown, q url.Values, ticked []string) (partsView, error) {
	shot, err := s.Shop.PhotographedParts(r.Context(), t.Clock.ID)
	if err != nil {
		return partsView{}, err
	}
	hurts, err := s.Shop.LedgerHazards(r.Context(), t)
	if err != nil {
		return partsView{}, err
	}
	v := partsOf(t, q, ticked, shot)
	told := map[string]int{}
	for i, row := range v.Rows {
		v.Rows[i].Hurts = present.CautionNames(hurts[row.Number])
		for _, h := range hurts[row.Number] {
			at, ok := told[h.Key]
			if !ok {
				at, told[h.Key] = len(v.Hazards), len(v.Hazards)
				v.Hazards = append(v.Hazards, condition.AreaHazard{Hazard: h})
			}
			v.Hazards[at].Areas = append(v.Hazards[at].Areas, row.N)
		}
	}
	return v, nil
}

// narrowed leaves the parts that lack what is asked for, and counts what the
// others would leave.
func (v *partsView) narrowed(all []parts.Part, shot map[parts.Number]bool) (out []parts.Part) {
	out = all
	for _, l := range lacks() {
		var some []parts.Part
		for _, p := range all {
			if l.of(p, shot[p.Number]) {
				some = append(some, p)
			}
		}
		if l.Key == v.Lack {
			out = some
		}
		if len(some) > 0 || l.Key == v.Lack {
			v.Lacking = append(v.Lacking, stateChoice{Words: l.Words, Href: v.address(v.State, l.Key, v.ByOrder), Pieces: len(some), Here: l.Key == v.Lack})
		}
	}
	return out
}

// address is the list, narrowed and ordered.
func (v partsView) address(state parts.State, lack string, byOrder bool) string {
	order := ""
	if byOrder {
		order = "taken"
	}
	return v.Path + "/parts?" + encode("state", string(state), "lack", lack, "order", order)
}
