package listen

import "seatboard/internal/craft/listen/culprit"

// blame names the parts at fault, where the record says anything of them. A
// train that does not fit the beat heard accuses nobody.
func (a *Answer) blame() error {
	q := culprit.Query{Beats: a.Query.Hearing.Beats, Scatter: a.Going.Scatter.Value, Wander: a.Going.Wander.Value}
	if a.Train != nil && a.alike(a.Query.Hearing) {
		q.Parts, q.EscapeTeeth = culprit.Parts(*a.Train)
	}
	c, err := culprit.Solve(q)
	if err != nil {
		return nil // too short for any period: Going says what there is
	}
	a.Culprit = &c
	return nil
}
