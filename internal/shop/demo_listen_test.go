package shop

import (
	"encoding/json"
	"strings"
	"testing"
)

// TestDemoFindsItsOwnFault makes the demo's shop and wants the wheel that the
// generator put out of true to be named in the regulator's file.
func TestDemoFindsItsOwnFault(t *testing.T) {
	s := open(t)
	if err := s.FillDemo(t.Context(), asTyped, unworked); err != nil {
		t.Fatal(err)
	}
	all, err := s.Listenings(t.Context(), 1)
	if err != nil || len(all) != 1 {
		t.Fatalf("%d listenings, %v", len(all), err)
	}
	l, err := s.Listening(t.Context(), all[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	var a struct {
		Findings []struct{ Code, Text string }
		Hearing  struct{ Verdict string }
	}
	if err := json.Unmarshal([]byte(l.Answer), &a); err != nil {
		t.Fatal(err)
	}
	for _, f := range a.Findings {
		t.Log(f.Code, f.Text)
	}
	if len(a.Findings) == 0 || a.Findings[0].Code != "culprit" && a.Findings[0].Code != "out-of-beat" {
		t.Errorf("%+v", a)
	}
	if !l.Gist.Mean.Set || !l.Gist.Mean.Has(1.7/86400) {
		t.Errorf("rate %s", l.Gist.Mean.Text("s/d"))
	}
	named := false
	for _, f := range a.Findings {
		named = named || f.Code == "culprit" && strings.Contains(f.Text, "7\u00a0min 30\u00a0s")
	}
	if !named {
		t.Error("the wheel out of true is not named")
	}
}
