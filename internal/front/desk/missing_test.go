package desk

import (
	"strings"
	"testing"

	"seatboard/internal/kit/doc"
)

// What a candidate leads to takes its values without a mistake.
func TestMissingLeadsOn(t *testing.T) {
	c, _ := Find("missing")
	for _, values := range []map[string][]string{
		{"going": {"96/8 60/8 ?/? 30"}, "hour-arbor": {"2"}, "pendulum": {"994 mm"}, "going-sizes": {"3 wheel 41 mm depth 24 mm"}},
		{"going": {"96/8 ?/? ?/?L 30"}, "hour-arbor": {"2"}, "beats-per-hour": {"3600"}},
		{"motion": {"?/12 40/10"}},
	} {
		o, err := c.Work(t.Context(), values)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := o.Doc.Sections[0].Body[0].(doc.Say); !ok {
			continue
		}
		on := c.Onward(o.Answer)
		if len(on) == 0 {
			t.Errorf("%v leads nowhere", values)
		}
		for _, x := range on {
			to, ok := Find(x.Name)
			if !ok {
				continue
			}
			if _, err := to.Work(t.Context(), x.Values); err != nil && !strings.Contains(err.Error(), "size") {
				t.Errorf("%s: %v leads to %v", x.Words, x.Values, err)
			}
			if faults := to.Begin().Form.Fill(x.Values); len(faults) > 0 {
				t.Errorf("%s: %v", x.Words, faults)
			}
		}
	}
}
