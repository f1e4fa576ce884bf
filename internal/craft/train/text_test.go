package train

import "testing"

func TestTextOfATrain(t *testing.T) {
	for text, want := range map[string]string{"": "", "96/8 60/8 ?/7 30": "96/8 60/8 ?/7 30", " 8)96 8)60 7)56? 30": "96/8 60/8 56?/7 30", "sixty": "sixty"} {
		c, _ := ParseChain(text) // what cannot be read is one of them
		if got := (Train{Chain: c}).Text(); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
		if got := (Train{Arbors: c.Arbors()}).Text(); c.Err() == nil && got != want {
			t.Errorf("%q arbor by arbor: %q, want %q", text, got, want)
		}
	}
}
