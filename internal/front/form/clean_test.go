package form

import (
	"strings"
	"testing"

	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/unit"
)

func TestCleanForm(t *testing.T) {
	var q clean.Query
	f := Clean(&q).Fill(map[string][]string{
		"pieces": {"third wheel: brass-worked, Steel spring\nplate : brass; screws:"}, "liquid": {"water"}, "time": {"12"}, "heated": {"YES"},
		"ultrasound": {"no"}, "temperature": {"40"}, "substances": {"ammonia; 64-17-5,"}, "uses": {"3"}, "flash-point": {"12"}, "age": {"2"},
	})
	if len(f) > 0 {
		t.Fatal(f)
	}
	if len(q.Pieces) != 3 || q.Pieces[0].Name != "third wheel" || len(q.Pieces[0].Materials) != 2 || q.Pieces[0].Materials[1] != clean.Spring || q.Pieces[2].Name != "screws" || len(q.Pieces[2].Materials) != 0 {
		t.Errorf("%+v", q.Pieces)
	}
	if q.Time.Value != unit.Duration(720) || !q.Heated || q.Ultrasound || len(q.Substances) != 2 || q.Uses != 3 || q.Age.Value != 2*86400 {
		t.Errorf("%+v", q)
	}
	f = Clean(&q).Fill(map[string][]string{"pieces": {"wheel: bras, silver\npin: tin"}, "heated": {"maybe"}, "liquid": {"soup"}})
	if len(f) != 5 || !strings.Contains(f[0].Text, "“bras” of wheel") || f[0].Field != "pieces" {
		t.Errorf("%d mistakes: %v", len(f), f)
	}
}

func TestEveryMistakeOfABathHasItsField(t *testing.T) {
	var q clean.Query
	fields := map[string]bool{}
	for _, x := range Clean(&q).Fields() {
		fields[x.Name] = true
	}
	q.NoFlash, q.FlashPoint.Set, q.FlashPoint.Value, q.Time.Set, q.Uses, q.Age.Set, q.Age.Value = true, true, 1e4, true, -1, true, -1
	q.Temperature.Set, q.Substances = true, []string{"moonlight"}
	faults := q.Check()
	if len(faults) < 7 {
		t.Errorf("%d mistakes", len(faults))
	}
	for _, f := range faults {
		if !fields[f.Field] {
			t.Errorf("%q has no field: %s", f.Field, f.Text)
		}
	}
}
