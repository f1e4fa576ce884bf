package clean

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestPrintedFigures(t *testing.T) { check.All(t, Checks()) }

// Every material has a cell in every liquid, and every cell says where it is
// from or that it is common practice.
func TestEveryCellHasASource(t *testing.T) {
	table := newCellTable()
	for _, m := range Materials() {
		for _, l := range Liquids() {
			c, ok := table[m][l.Key]
			if m == Unknown {
				if ok {
					t.Errorf("what is not known has a cell in %s", l.Key)
				}
				continue
			}
			if !ok {
				t.Errorf("%s in %s has no cell", m, l.Key)
				continue
			}
			if c.Effect != OK && c.Reason == "" {
				t.Errorf("%s in %s gives no reason", m, l.Key)
			}
			if !slices.Contains([]Effect{OK, Care, Test, No}, c.Effect) {
				t.Errorf("%s in %s: %q is no effect", m, l.Key, c.Effect)
			}
			_, known := cite.Find(c.Ref.Source)
			if !known && c.Ref.Grade != cite.CommonPractice || known && c.Ref.Grade != cite.Printed {
				t.Errorf("%s in %s: source %q, %s", m, l.Key, c.Ref.Source, c.Ref.Grade)
			}
		}
	}
	if got, want := len(Cells()), (len(Materials())-1)*len(Liquids()); got != want {
		t.Errorf("%d cells, want %d, each once", got, want)
	}
}

func TestEverySourceIsKnown(t *testing.T) {
	for _, e := range Sources() {
		if _, ok := cite.Find(e.Ref.Source); e.Ref.Source != "" && !ok {
			t.Errorf("%s: %q is not in the bibliography", e.Name, e.Ref.Source)
		}
		if e.Ref.Source == "" && e.Ref.Grade == cite.Printed {
			t.Errorf("%s has no source and is said to be printed", e.Name)
		}
	}
}

// No cell is milder here than in the table that was gathered outside.
func TestNoMilderThanTheGatheredTable(t *testing.T) {
	f, err := os.Open(check.Shared(t, "reference", "tables", "metals_compat.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1 // its last column has commas
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	table := newCellTable()
	liquids := []string{"", BrassLiquid, WaterBath, Alcohol, WhiteSpirit}
	if len(rows) != 17 {
		t.Fatalf("%d rows, want the heading and 16", len(rows))
	}
	for i, row := range rows[1:] {
		m := Materials()[i]
		for k := 1; k < len(liquids); k++ {
			c := table[m][liquids[k]]
			least := map[bool]Effect{true: No, false: OK}[strings.HasPrefix(row[k], "no")]
			switch {
			case strings.HasPrefix(row[k], "no long soak"), strings.HasPrefix(row[k], "short"), strings.HasPrefix(row[k], "caution"):
				least = Care
			case strings.HasPrefix(row[k], "test"), strings.HasPrefix(row[k], "ok-test"):
				least = Test
			}
			order := []Effect{OK, Care, Test, No}
			if slices.Index(order, c.Effect) < slices.Index(order, least) {
				t.Errorf("%s (%s) in %s: %s here, %q there", m, row[0], liquids[k], c.Effect, row[k])
			}
		}
	}
}

func piece(m ...Material) Piece { return Piece{Number: "1.1", Name: "part", Materials: m} }

func degrees(s string) meas.Reading[unit.Temperature] {
	r, err := meas.Parse[unit.Temperature](s, "°C")
	if err != nil {
		panic(err)
	}
	return r
}

func minutes(n float64) meas.Reading[unit.Duration] { return meas.Of(unit.Duration(60 * n)) }

func solve(t *testing.T, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func refusal(a Answer, code string) (Refusal, bool) {
	for _, r := range a.Refusals {
		if r.Finding.Code == code {
			return r, true
		}
	}
	return Refusal{}, false
}

func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		q    Query
		code string
		hard bool
	}{
		"brass liquid on steel":        {Query{Liquid: BrassLiquid, Pieces: []Piece{piece(Steel)}}, "material", false},
		"steel liquid on brass":        {Query{Liquid: SteelLiquid, Pieces: []Piece{piece(Brass)}}, "material", false},
		"ammonia on worked brass":      {Query{Liquid: BrassLiquid, Pieces: []Piece{piece(Worked)}}, "material", false},
		"brass wheel, steel pinion":    {Query{Liquid: BrassLiquid, Pieces: []Piece{piece(Brass, Steel)}}, "material", false},
		"lacquer":                      {Query{Liquid: Alcohol, Pieces: []Piece{piece(Lacquered)}}, "material", false},
		"silvered":                     {Query{Liquid: WaterBath, Pieces: []Piece{piece(Silvered)}}, "material", false},
		"ivory":                        {Query{Liquid: WhiteSpirit, Pieces: []Piece{piece(Ivory)}}, "material", false},
		"shellac":                      {Query{Liquid: Alcohol, Pieces: []Piece{piece(Steel, Shellac)}}, "material", false},
		"radium in water":              {Query{Liquid: WaterBath, Pieces: []Piece{piece(Brass, Radium)}}, "radium", true},
		"radium in white spirit":       {Query{Liquid: WhiteSpirit, Pieces: []Piece{piece(Radium)}}, "radium", true},
		"alcohol heated":               {Query{Liquid: Alcohol, Heated: true, Pieces: []Piece{piece(Steel)}}, "flash-point", true},
		"alcohol in ultrasound":        {Query{Liquid: Alcohol, Ultrasound: true, Pieces: []Piece{piece(Steel)}}, "flash-point", true},
		"warm by its temperature":      {Query{Liquid: WhiteSpirit, Temperature: degrees("45"), Pieces: []Piece{piece(Steel)}}, "flash-point", true},
		"sheet gives a flash point":    {Query{Liquid: BrassLiquid, FlashPoint: degrees("63 °C"), Ultrasound: true, Pieces: []Piece{piece(Brass)}}, "flash-point", true},
		"sheet denies a named one":     {Query{Liquid: BrassLiquid, NoFlash: true, Substances: []string{"67-63-0"}, Heated: true, Pieces: []Piece{piece(Brass)}}, "flash-point", true},
		"still together":               {Query{Liquid: WaterBath, Pieces: []Piece{{Number: "1", Materials: []Material{Brass}, Assembled: true}}}, "assembled", false},
		"too long":                     {Query{Liquid: WaterBath, Time: minutes(21), Pieces: []Piece{piece(Brass)}}, "time", false},
		"too long for ammonia":         {Query{Liquid: BrassLiquid, Time: minutes(6), Pieces: []Piece{piece(Brass)}}, "time", false},
		"zinc among brass":             {Query{Liquid: WaterBath, Pieces: []Piece{piece(Brass), {Number: "2", Materials: []Material{Zinc}}}}, "galvanic", false},
		"shellac warm in white spirit": {Query{Liquid: WhiteSpirit, Heated: true, Pieces: []Piece{piece(Shellac)}}, "warm-shellac", false},
	} {
		a := solve(t, c.q)
		r, ok := refusal(a, c.code)
		if !ok || a.Verdict != MustNot {
			t.Errorf("%s: verdict %s, refusals %v", name, a.Verdict, a.Refusals)
			continue
		}
		if r.Hard != c.hard || r.Finding.Text == "" || r.Finding.Next == "" {
			t.Errorf("%s: %+v", name, r)
		}
		if r.Finding.Ref.String() == "" {
			t.Errorf("%s: no authority", name)
		}
		if c.hard && !strings.Contains(r.Finding.Next, LastWord) {
			t.Errorf("%s does not defer to the law: %s", name, r.Finding.Next)
		}
	}
}

func TestWhatMayGoIn(t *testing.T) {
	for name, c := range map[string]struct {
		q    Query
		want Verdict
	}{
		"steel in white spirit, cold":  {Query{Liquid: WhiteSpirit, Temperature: degrees("18"), Pieces: []Piece{piece(Steel)}}, Go},
		"steel in alcohol, a warm day": {Query{Liquid: Alcohol, Temperature: degrees("25"), Pieces: []Piece{piece(Steel)}}, WithCare},
		"brass in ammonia, four min":   {Query{Liquid: BrassLiquid, Time: minutes(4), Pieces: []Piece{piece(Brass)}}, WithCare},
		"water, heated, ultrasound":    {Query{Liquid: WaterBath, Heated: true, Ultrasound: true, Temperature: degrees("50"), Pieces: []Piece{piece(Brass)}}, WithCare},
		"brass liquid in ultrasound":   {Query{Liquid: BrassLiquid, Ultrasound: true, Pieces: []Piece{piece(Brass)}}, Ask},
		"the same, sheet read":         {Query{Liquid: BrassLiquid, Ultrasound: true, NoFlash: true, Pieces: []Piece{piece(Brass)}}, WithCare},
		"material not known":           {Query{Liquid: WaterBath, Pieces: []Piece{piece(Unknown)}}, Ask},
		"material not stated":          {Query{Liquid: WaterBath, Pieces: []Piece{piece()}}, Ask},
		"nothing in it":                {Query{Liquid: WaterBath}, Ask},
	} {
		a := solve(t, c.q)
		if a.Verdict != c.want {
			t.Errorf("%s: %s, want %s\nrefusals %v\nquestions %v\nfindings %v", name, a.Verdict, c.want, a.Refusals, a.Questions, a.Findings)
		}
		if (a.Verdict == Ask) == a.Complete {
			t.Errorf("%s: complete is %v", name, a.Complete)
		}
	}
}

func TestMixedMetals(t *testing.T) {
	q := Query{Liquid: WaterBath, Pieces: []Piece{piece(Brass), {Number: "2", Materials: []Material{Steel}}}}
	says := func(q Query) bool {
		return slices.ContainsFunc(solve(t, q).Findings, func(f meas.Finding) bool { return f.Code == "galvanic" })
	}
	if !says(q) {
		t.Error("brass and steel in one water bath: nothing is said")
	}
	q.Liquid = WhiteSpirit
	if says(q) {
		t.Error("white spirit carries no current, and a warning is given")
	}
}

func TestLimit(t *testing.T) {
	for _, c := range []struct {
		liquid string
		m      Material
		want   unit.Duration
	}{{WaterBath, Brass, 20 * 60}, {BrassLiquid, Brass, 5 * 60}, {WaterBath, Spring, 5 * 60}} {
		if got := solve(t, Query{Liquid: c.liquid, Pieces: []Piece{piece(c.m)}}).Limit; got.Value != c.want {
			t.Errorf("%s in %s: %v", c.m, c.liquid, got.Value)
		}
	}
}

func TestFlashPoint(t *testing.T) {
	for name, c := range map[string]struct {
		q    Query
		want float64 // °C
		from string
	}{
		"lowest of the label":  {Query{Liquid: WhiteSpirit, Substances: []string{"toluene", "acetone", "turpentine"}}, -20, FromTable},
		"the kind of liquid's": {Query{Liquid: Alcohol}, 12, FromTable},
		"by CAS number":        {Query{Liquid: BrassLiquid, Substances: []string{"67-56-1"}}, 9, FromTable},
		"the sheet wins":       {Query{Liquid: Alcohol, FlashPoint: degrees("24 °C")}, 24, FromSheet},
	} {
		a := solve(t, c.q)
		check.Near(t, name, celsius(a.Flash.Value), c.want, 1e-9)
		if a.FlashFrom != c.from {
			t.Errorf("%s: from %q", name, a.FlashFrom)
		}
	}
	for liquid, from := range map[string]string{BrassLiquid: NotKnown, SteelLiquid: NotKnown, WaterBath: FromWater} {
		if a := solve(t, Query{Liquid: liquid}); a.Flash.Set || a.FlashFrom != from {
			t.Errorf("%s: %v from %q", liquid, a.Flash, a.FlashFrom)
		}
	}
}

func TestHazards(t *testing.T) {
	keys := func(q Query) (out []string) {
		for _, h := range solve(t, q).Hazards {
			if h.Text == "" || h.Authority == "" || h.Ref.String() == "" {
				t.Errorf("%s is not whole: %+v", h.Key, h)
			}
			out = append(out, h.Key)
		}
		return out
	}
	for name, c := range map[string]struct {
		q    Query
		want []string
	}{
		"brass liquid":    {Query{Liquid: BrassLiquid, Pieces: []Piece{piece(Brass)}}, []string{AmmoniaHazard}},
		"gilt in alcohol": {Query{Liquid: Alcohol, Pieces: []Piece{piece(Gilt)}}, []string{MercuryHazard, FireHazard, VapourHazard}},
		"lead and radium": {Query{Liquid: WaterBath, Pieces: []Piece{piece(Lead, Radium)}}, []string{RadiumHazard, LeadHazard}},
	} {
		if got := keys(c.q); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", name, got, c.want)
		}
	}
}

func TestCheckNamesAllMistakes(t *testing.T) {
	q := Query{Liquid: "paraffin", FlashPoint: degrees("900 °C"), NoFlash: true, Uses: -1, Substances: []string{"moonshine"},
		Time: minutes(-1), Pieces: []Piece{{}, {Number: "1", Materials: []Material{"cheese"}}, {Number: "1"}}}
	a, err := Solve(q)
	faults, _ := err.(meas.Faults)
	if len(faults) != 9 {
		t.Errorf("%d faults: %v", len(faults), faults)
	}
	if a.Verdict != "" {
		t.Errorf("a verdict stands beside mistakes: %s", a.Verdict)
	}
}

// Another delicate thing on a part never makes the verdict milder, radium is
// always a hard stop, and nothing panics.
func TestMoreOnAPartIsNeverMilder(t *testing.T) {
	rank := []Verdict{Go, WithCare, Ask, MustNot}
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Liquid: rapid.SampledFrom(Liquids()).Draw(t, "liquid").Key, Heated: rapid.Bool().Draw(t, "heated"), Ultrasound: rapid.Bool().Draw(t, "ultrasound")}
		ms := rapid.SliceOfN(rapid.SampledFrom(Materials()), 1, 4).Draw(t, "materials")
		q.Pieces = []Piece{piece(ms...)}
		before, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		q.Pieces[0].Materials = append(ms[:len(ms):len(ms)], rapid.SampledFrom(Materials()).Draw(t, "more"))
		after, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if slices.Index(rank, after.Verdict) < slices.Index(rank, before.Verdict) {
			t.Fatalf("%v in %s: %s, with one more %s", q.Pieces[0].Materials, q.Liquid, before.Verdict, after.Verdict)
		}
		if q.Pieces[0].has(Radium) && !after.Hard() {
			t.Fatal("radium is no hard stop")
		}
	})
}

func BenchmarkSolve160Pieces(b *testing.B) {
	q := Query{Liquid: WaterBath}
	for i := range 160 {
		q.Pieces = append(q.Pieces, Piece{Number: "1." + string(rune('a'+i%26)) + strings.Repeat("x", i/26), Materials: []Material{Brass, Steel}})
	}
	for b.Loop() {
		if _, err := Solve(q); err != nil {
			b.Fatal(err)
		}
	}
}
