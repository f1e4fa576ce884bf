package form

import (
	"strconv"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// trainColumns are the columns of the grid of a train.
func trainColumns() []Column {
	return []Column{
		{Name: "name", Label: "Name", Size: 9},
		{Name: "pinion", Label: "Pinion, leaves", Size: 4},
		{Name: "wheel", Label: "Wheel, teeth", Size: 4},
		{Name: "pinion-diameter", Label: "Pinion across", Unit: "mm", Size: 11},
		{Name: "wheel-diameter", Label: "Wheel across", Unit: "mm", Size: 11},
		{Name: "depth", Label: "Centre to next", Unit: "mm", Size: 11},
		{Name: "note", Label: "Note", Size: 12},
	}
}

// Train declares the inputs of the wheel trains.
func Train(q *train.Query) Form {
	q.Trains = []train.Train{{Name: train.Going}, {Name: train.Strike}, {Name: train.Quarter}}
	going, strike, quarter := &q.Trains[0], &q.Trains[1], &q.Trains[2]
	return Form{Name: "train", Groups: []Group{
		{Legend: "Going train", Hint: "96 is seen, 96? inferred, ? missing, 8L a lantern pinion", Fields: []Field{
			Parsed("going", "Counts as the handbooks print them", &going.Chain).AsArg().Sized(44).
				Hinted("From the barrel on: 96/8 60/8 56/7 30, or 8)96 8)60 7)56 30; they are laid out in the table"),
			trainGrid("going", "Arbor by arbor, from the barrel", going),
			barrelTurns("going", going),
			Text("hour-arbor", "Arbor that turns once an hour", &q.HourArbor).Sized(10).Hinted("Its number from the barrel, or its name; found by rule where empty"),
			ParsedArea("going-sizes", "Sizes as text", &going.Sizes).Hinted("A line for each arbor: 2 wheel 61 mm pinion 9.8 mm depth 35.2 mm").ForCommands(),
		}},
		{Legend: "Motion work", Fields: []Field{
			Parsed("motion", "Wheels to the hour hand", &q.Motion).Hinted("Wheel driven / pinion that drives it: 36/12 40/10"),
			Text("motion-arbor", "Arbor that carries it", &q.MotionArbor).Sized(10).Hinted("Left empty, the one that turns once an hour"),
			Whole("dial-hours", "Hours of the dial", &q.DialHours, 1, 24).Hinted("12 where empty"),
		}},
		{Legend: "What else fixes the speed", Folded: true, Fields: []Field{
			Quantity("pendulum", "Pendulum, to the centre of swing", "mm", &q.Pendulum),
			Parsed("beats-per-hour", "Beats an hour", &q.Beats).Sized(8),
			Quantity("gravity", "Gravity", "m/s²", &q.Gravity),
			Quantity("arbor-turn", "One turn of the named arbor, if not an hour", "h", &q.ArborTurn).Sized(8),
			Whole("beats-per-tooth", "Beats for one escape tooth", &q.PerTooth, 1, 100).Hinted("2 where empty"),
			Parsed("beats-per-turn", "Beats for one turn of the last arbor", &q.PerTurn).Sized(8).Hinted("6 for a double three-legged gravity escapement"),
		}},
		strikeGroup("Strike", "strike", strike),
		{Legend: "Quarters", Folded: true, Fields: []Field{
			Parsed("quarter", "Counts of the quarter train", &quarter.Chain).Sized(44),
			trainGrid("quarter", "Arbor by arbor, from the barrel", quarter),
			barrelTurns("quarter", quarter),
		}},
	}}
}

func strikeGroup(legend, name string, t *train.Train) Group {
	return Group{Legend: legend, Folded: true, Fields: []Field{
		Parsed(name, "Counts of the strike train", &t.Chain).Sized(44).Hinted("Ends in the fly’s pinion: 78/8 56/7 48/6"),
		trainGrid(name, "Arbor by arbor, from the barrel", t),
		barrelTurns(name, t),
		Whole(name+"-pins", "Pins that lift the hammer", &t.Pins, 1, 400),
		Text(name+"-pin-arbor", "Arbor that has the pins", &t.PinArbor).Sized(10),
		Choice(name+"-counts", "The blows are counted by", &t.Counts, countings()...),
		Parsed(name+"-report", "Wheels to the count wheel", &t.Report).Hinted("48/8"),
		Whole(name+"-blows", "Blows in 12 hours", &t.BlowsPer12h, 1, 2000).Hinted("78 where empty; 90 with half hours"),
	}}
}

// countings are what may count the blows.
func countings() []Option {
	return []Option{{string(train.ByRack), "Rack and snail"}, {string(train.ByCountWheel), "Count wheel"}}
}

func barrelTurns(name string, t *train.Train) Field {
	return Quantity(name+"-barrel-turns", "Turns of the barrel or fusee for one winding", "", &t.BarrelTurns).Sized(6)
}

// trainGrid reads the table of a train. A name alone does not make an arbor.
func trainGrid(name, label string, t *train.Train) Field {
	field := name + "-arbors"
	return Table(field, label, 4, trainColumns(), func(rows [][]string) meas.Faults {
		var faults meas.Faults
		arbors := make([]train.Arbor, len(rows))
		for i, r := range rows {
			faults = append(faults, readArbor(&arbors[i], field, i+1, r)...)
		}
		if len(faults) == 0 {
			t.Arbors = arbors
		}
		return faults
	})
}

func readArbor(a *train.Arbor, field string, row int, cells []string) meas.Faults {
	var faults meas.Faults
	fail := func(column string, err error) {
		if err != nil {
			faults = append(faults, meas.Fault{Field: CellName(field, row, column), Text: "Arbor " + strconv.Itoa(row) + ": " + strings.TrimPrefix(err.Error(), "train: ")})
		}
	}
	a.Name, a.Note = cells[0], cells[6]
	fail("pinion", a.Pinion.UnmarshalText([]byte(cells[1])))
	fail("wheel", a.Wheel.UnmarshalText([]byte(cells[2])))
	for _, x := range []struct {
		column, cell string
		to           *meas.Reading[unit.Length]
	}{{"pinion-diameter", cells[3], &a.PinionDiameter}, {"wheel-diameter", cells[4], &a.WheelDiameter}, {"depth", cells[5], &a.Depth}} {
		r, err := meas.Parse[unit.Length](x.cell, "mm")
		*x.to = r
		fail(x.column, err)
	}
	return faults
}

// LayOutTrains moves counts typed as text into the tables, so that they can
// be looked at and added to arbor by arbor. A text that cannot be read stays
// as typed. What the tables say of names and sizes stays.
func LayOutTrains(values map[string][]string) map[string][]string {
	out := map[string][]string{}
	for k, v := range values {
		out[k] = v
	}
	for _, name := range []string{train.Going, train.Strike, train.Quarter} {
		text := strings.Join(values[name], " ")
		c, err := train.ParseChain(text)
		if strings.TrimSpace(text) == "" || err != nil {
			continue
		}
		delete(out, name)
		layOut(out, name+"-arbors", c.Arbors())
	}
	return out
}

func layOut(out map[string][]string, field string, arbors []train.Arbor) {
	set := func(row int, column, s string) {
		name := CellName(field, row, column)
		delete(out, name)
		if s != "" {
			out[name] = []string{s}
		}
	}
	for i := range maxRows {
		var a train.Arbor
		if i < len(arbors) {
			a = arbors[i]
		}
		set(i+1, "pinion", a.Pinion.String())
		set(i+1, "wheel", a.Wheel.String())
	}
}
