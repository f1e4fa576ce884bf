package present

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

func readQ[Q unit.Quantity](t testing.TB, s string) meas.Reading[Q] {
	t.Helper()
	r, err := meas.Parse[Q](s, "")
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// drives are clocks of every sort.
func drives(t testing.TB) map[string]drive.Query {
	t.Helper()
	l := func(s string) meas.Reading[unit.Length] { return readQ[unit.Length](t, s) }
	r := func(s string) meas.Reading[unit.Ratio] { return readQ[unit.Ratio](t, s) }
	d := func(s string) meas.Reading[unit.Duration] { return readQ[unit.Duration](t, s) }
	longcase := drive.Query{
		Name: "going", WeightMass: readQ[unit.Mass](t, "5.4 kg ± 0.05 kg"), BarrelDiameter: l("50 mm ± 0.1 mm"), LineDiameter: l("1.4 mm ± 0.05 mm"), Falls: 2,
		Turns: r("16"), TurnTime: d("12 h"), BeatsPerHour: r("3600"), PendulumLength: l("994 mm"), BobHalfHeight: l("55 mm"), SuspensionAboveSeat: l("60 mm"),
		SeatToFloor: l("1690 mm"), WeightLength: l("260 mm"), WeightHeight: l("180 mm"), TopGap: l("90 mm"), WoundOn: "Saturday",
		LineMaterial: drive.SteelLine, LineConstruction: "7x7", BarrelLength: l("32 mm"),
	}
	short := longcase
	short.SeatToFloor, short.WoundOn = l("1350 mm"), ""
	month := longcase
	month.TurnTime, month.BarrelDiameter, month.PendulumLength = d("48 h"), l("38 mm"), l("993.9 mm")
	year := longcase
	year.TurnTime = d("576 h")
	direct := longcase
	direct.Falls, direct.Turns, direct.TurnTime = 1, r("8"), d("24 h")
	bare := drive.Query{BarrelDiameter: l("50 mm"), LineDiameter: l("1.4 mm"), Turns: r("16"), TurnTime: d("12 h")}
	low := longcase
	low.PendulumLength, low.SeatToFloor = l("1560 mm"), l("1500 mm")
	tiny := longcase
	tiny.SeatToFloor, tiny.PendulumLength = l("3.2 m"), l("250 mm")
	thirty := drive.Query{
		WeightMass: readQ[unit.Mass](t, "4.1 kg"), Barrel: drive.Endless, BarrelDiameter: l("42 mm"), LineDiameter: l("5 mm"), Falls: 2, Turns: r("30"), TurnTime: d("1 h"),
		SeatToFloor: l("1560 mm"), WeightLength: l("210 mm"), TopGap: l("120 mm"),
	}
	spring := drive.Query{
		SpringBarrel: l("52 mm"), SpringArbor: l("17 mm"), SpringThickness: l("0.45 mm ± 0.01 mm"), SpringHeight: l("38 mm"), SpringLength: l("1750 mm ± 20 mm"), SpringNewThickness: l("0.4 mm"),
		FuseeLargest: l("19 mm"), FuseeBarrel: l("56 mm"), TurnTime: d("12 h"),
	}
	if err := spring.FuseeTorque.UnmarshalText([]byte("0 1250 N mm\n1 1130\n2 1000\n3 860\n4 720 N mm")); err != nil {
		t.Fatal(err)
	}
	fine := spring
	fine.SpringThickness, fine.SpringLength = l("0.1 mm"), l("6 m")
	return map[string]drive.Query{
		"longcase": longcase, "short": short, "month": month, "year": year, "direct": direct, "bare": bare, "low": low, "tiny": tiny, "thirty": thirty,
		"spring": spring, "fine": fine, "empty": {},
		"cylinder": {WeightMaterial: "lead", WeightDiameter: l("3 in"), WeightHeight: l("9 in"), WeightBore: l(".75 in")},
	}
}

func solvedDrive(t testing.TB, q drive.Query) drive.Answer {
	t.Helper()
	a, err := drive.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// No words of a figure leave it or stand on others, wide or narrow.
func TestDriveFiguresKeepTheirWordsApart(t *testing.T) {
	seen := map[string]int{}
	for name, q := range drives(t) {
		d := Drive(solvedDrive(t, q))
		for _, f := range d.Figures() {
			seen[f.Name]++
			for _, p := range []pic.Picture{f.Wide, f.Narrow} {
				wordsApart(t, fmt.Sprintf("%s, %s at %.0f", name, f.Name, p.W), p)
			}
			if f.Wide.W != 640 || f.Narrow.W != 340 || f.Numbers == nil || len(f.Numbers.Rows) == 0 || f.Wide.Desc == "" {
				t.Errorf("%s, %s: width %v %v", name, f.Name, f.Wide.W, f.Narrow.W)
			}
		}
	}
	if seen["fall"] != 9 || seen["spring"] != 2 || seen["fusee"] != 2 {
		t.Errorf("figures %v", seen)
	}
}

// wordBox is the room of a line of words.
type wordBox struct {
	s              string
	x0, y0, x1, y1 float64
}

func wordBoxes(items []pic.Item) []wordBox {
	var out []wordBox
	for _, it := range items {
		switch x := it.(type) {
		case pic.Group:
			out = append(out, wordBoxes(x.Items)...)
		case pic.Text:
			w := pic.TextWidth(x.S, x.Style)
			left := x.P.X - w*[]float64{0, .5, 1}[x.Anchor]
			out = append(out, wordBox{x.S, left, x.P.Y - 13, left + w, x.P.Y + 4})
		}
	}
	return out
}

func wordsApart(t rapid.TB, name string, p pic.Picture) {
	t.Helper()
	boxes := wordBoxes(p.Items)
	for i, a := range boxes {
		if a.x0 < 0 || a.y0 < 0 || a.x1 > p.W || a.y1 > p.H {
			t.Errorf("%s: %q leaves the picture: %+v of %v x %v", name, a.s, a, p.W, p.H)
		}
		for _, b := range boxes[:i] {
			if a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 {
				t.Errorf("%s: %q stands on %q", name, a.s, b.s)
			}
		}
	}
}

// A month-going clock is labelled every eighth day.
func TestMonthIsLabelledByEights(t *testing.T) {
	p := fallPicture(solvedDrive(t, drives(t)["month"]), 340)
	var days []string
	for _, b := range wordBoxes(p.Items) {
		if b.x1 < 90 {
			days = append(days, b.s)
		}
	}
	if got := strings.Join(days, " "); got != "wound day 8 day 16 day 24 day 32" {
		t.Errorf("labels %q", got)
	}
}

// The weight's marks are to scale: even falls at even distances, and the
// floor as far below the seat board as it was measured.
func TestFallIsToScale(t *testing.T) {
	a := solvedDrive(t, drives(t)["longcase"])
	s := newFallSheet(a, 640)
	floor := s.y(s.wound + s.room)
	if got := (floor - s.seat) / s.scale; got < 1.69-1e-9 || got > 1.69+1e-9 {
		t.Errorf("the floor is drawn %v m below the seat board", got)
	}
	if bob := (s.y(s.bobDepth()) - s.seat) / s.scale; bob < .934-1e-9 || bob > .934+1e-9 {
		t.Errorf("the bob is drawn %v m below the seat board", bob)
	}
}

func TestDriveSaysWhatMatters(t *testing.T) {
	a := solvedDrive(t, drives(t)["short"])
	d := Drive(a)
	var kinds []doc.NoticeKind
	for _, b := range d.Sections[0].Body {
		if n, ok := b.(doc.Notice); ok {
			kinds = append(kinds, n.Kind)
		}
	}
	if len(kinds) < 2 || kinds[0] != doc.CautionNotice || kinds[1] != doc.ClashNotice {
		t.Errorf("notices %v", kinds)
	}
	var budgets, working, refs bool
	for _, b := range d.Sections[0].Margin {
		switch x := b.(type) {
		case doc.Budget:
			budgets = true
		case doc.Working:
			working = len(x.Steps) > 0
		case doc.Sources:
			refs = len(x.Refs) > 0
		}
	}
	if !budgets || !working || !refs {
		t.Errorf("margin: budget %v, working %v, sources %v", budgets, working, refs)
	}
	if s := fmt.Sprint(Drive(solvedDrive(t, drives(t)["longcase"])).Sections[0]); !strings.Contains(s, "may swing with it, change the rate") || !strings.Contains(s, "Hangs as long as the pendulum") {
		t.Errorf("what is only worth knowing is left out: %s", s)
	}
	for name, q := range drives(t) {
		for _, s := range Drive(solvedDrive(t, q)).Sections {
			for _, b := range s.Body {
				if tb, ok := b.(doc.Table); ok {
					for _, row := range tb.Rows {
						if len(row) != len(tb.Columns) {
							t.Errorf("%s, %s: row %v", name, tb.Caption, row)
						}
					}
				}
			}
		}
	}
}
