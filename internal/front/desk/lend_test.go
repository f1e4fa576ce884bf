package desk

import (
	"slices"
	"testing"
)

// A calculation is lent what the survey has, and takes it without a mistake of
// reading; a train typed arbor by arbor is lent as one text.
func TestSurveyLends(t *testing.T) {
	train, _ := Find("train")
	typed := map[string]map[string][]string{
		"train":    Tidy(train, map[string][]string{"going": {"96/8 60/8 ?/7 30"}, "motion": {"36/36 72/6"}}),
		"pendulum": {"length": {"994 mm"}, "latitude": {"52.6° N"}, "rod": {"iron"}, "nut-divisions": {"60"}},
	}
	if typed["train"]["going"] != nil {
		t.Fatal("the counts were not laid out")
	}
	for _, c := range All() {
		var names []string
		for _, f := range c.Begin().Form.Fields() {
			names = append(names, f.Name)
		}
		for field, from := range c.Lend {
			if !slices.Contains(names, field) {
				t.Errorf("%s has no field %s, to which %s is lent", c.Name, field, from)
			}
		}
		if faults := c.Begin().Form.Fill(c.Lent(typed)); len(faults) > 0 {
			t.Errorf("%s is lent what it cannot read: %v", c.Name, faults)
		}
	}
	stops, _ := Find("stops")
	lent := stops.Lent(typed)
	if !slices.Equal(lent["going"], []string{"96/8 60/8 ?/7 30"}) || !slices.Equal(lent["motion"], []string{"36/36 72/6"}) || len(lent) != 2 {
		t.Errorf("%v", lent)
	}
	if lent := train.Lent(typed); lent["motion"] == nil {
		t.Errorf("a part of the survey is lent whole: %v", lent)
	}
}

// A sheet has the values, the answer and what came out in a line; the same
// values make the same answer.
func TestSheetOfACalculation(t *testing.T) {
	c, _ := Find("pendulum")
	is, o, err := c.Sheet(t.Context(), map[string][]string{"beats": {"3600"}, "nonsense": {"1"}, "length": {" "}})
	if err != nil || len(is.Values) != 1 || len(is.Answer) == 0 || is.Gist == "" || o.Answer == nil {
		t.Fatalf("%+v %v", is, err)
	}
	if again := WorkSheet(t.Context(), "pendulum", is.Values); string(again.Answer) != string(is.Answer) || again.Gist != is.Gist {
		t.Errorf("%s\n%s", again.Gist, is.Gist)
	}
	if _, _, err := c.Sheet(t.Context(), map[string][]string{"beats": {"fast"}}); err == nil {
		t.Error("what cannot be read has an answer")
	}
	if x := WorkSheet(t.Context(), "nothing", is.Values); x.Answer != nil || x.Calculation != "nothing" {
		t.Errorf("%+v", x)
	}
}
