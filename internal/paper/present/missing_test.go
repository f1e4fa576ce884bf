package present

import (
	"context"
	"strings"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/craft/train/missing"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/svg"
	"seatboard/internal/paper/text"
)

// lost are questions of missing wheels: one that has answers, one that has
// none.
func lost(t testing.TB) map[string]missing.Answer {
	t.Helper()
	out := map[string]missing.Answer{}
	for name, beats := range map[string]string{"pair": "3600", "none": "3607"} {
		q := missing.Query{Train: train.Query{HourArbor: "2", Trains: []train.Train{{Name: train.Going, Chain: train.MustChain("96/8 60/8 ?/? 30")}}}, Most: 4}
		for _, err := range []error{q.Train.Beats.UnmarshalText([]byte(beats)), q.Circles.UnmarshalText([]byte("360 336"))} {
			if err != nil {
				t.Fatal(err)
			}
		}
		a, err := missing.Solve(context.Background(), q, nil)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = a
	}
	return out
}

func TestMissingGolden(t *testing.T) {
	for name, a := range lost(t) {
		check.Golden(t, "missing-"+name+".txt", text.Render(Missing(a), text.Options{Width: 100, Working: true}))
	}
}

// The likeliest is read first; every row has a cell for every column; the
// points of the figure's table add up.
func TestMissingSaysTheLikeliestFirst(t *testing.T) {
	d := Missing(lost(t)["pair"])
	if say, ok := d.Sections[0].Body[0].(doc.Say); !ok || !strings.Contains(say.Text, "64?/8?") {
		t.Errorf("the first thing read is %v", d.Sections[0].Body[0])
	}
	for _, s := range d.Sections {
		for _, b := range s.Body {
			if table, ok := b.(doc.Table); ok {
				for _, r := range table.Rows {
					if len(r) != len(table.Columns) {
						t.Errorf("%s: %d cells in %d columns", table.Caption, len(r), len(table.Columns))
					}
				}
			}
		}
	}
	for _, f := range d.Figures() {
		if drawn := string(svg.File(f.Wide)) + string(svg.File(f.Narrow)); strings.Contains(drawn, "NaN") || !strings.Contains(drawn, "64 / 8") {
			t.Errorf("%s is not drawn", f.Name)
		}
	}
}
