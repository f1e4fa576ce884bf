package clean

import (
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The figures of common practice.
var (
	usualLimit = cite.Value[unit.Duration]{V: 20 * 60, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "about twenty minutes in the bath; no safe time in ammonia has been published"}}
	shortLimit = cite.Value[unit.Duration]{V: 5 * 60, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "between the 2 and 10 minutes that are usual for short baths"}}
	warmest    = cite.Value[unit.Temperature]{V: 273.15 + 60, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "water baths stand at 40 to 60 °C"}}
	roomWarm   = cite.Value[unit.Temperature]{V: 273.15 + 30, Ref: cite.Ref{Grade: cite.CommonPractice, Note: "a bath above this is warmed by something"}}
)

func (p Piece) has(m ...Material) bool {
	return slices.ContainsFunc(p.Materials, func(x Material) bool { return slices.Contains(m, x) })
}

// radium: no cleaning of any kind.
func (w *work) radium() {
	if about, parts := w.which(func(p Piece) bool { return p.has(Radium) }); len(about) > 0 {
		h := findHazard(RadiumHazard)
		w.refuse(true, "radium", "Radium is not ruled out on "+parts+": no cleaning, scraping or brushing of any kind.",
			"Bag and label it, leave it as it is, and ask: "+h.Authority+". "+LastWord, h.Ref, about...)
	}
}

// heated tells whether the bath is warmed, by what was said or by its
// temperature.
func (w *work) heated() bool {
	return w.q.Heated || w.q.Temperature.Set && w.q.Temperature.Value > roomWarm.V
}

// fire: a flash point with heat or ultrasound, or a flash point not known.
func (w *work) fire() {
	how := strings.Join(w.stirred(), " and ")
	if how == "" {
		return
	}
	h := findHazard(FireHazard)
	switch {
	case w.burns():
		w.refuse(true, "flash-point", fmt.Sprintf("This liquid has a flash point, %s; it is not to be used with %s at any temperature.", w.flash.Text("°C", 0), how),
			"Use it cold and still, or a water bath in the tank. "+LastWord, h.Ref)
	case w.flashFrom == NotKnown:
		w.ask("flash-point", "Whether this liquid has a flash point is not known, and the bath is to have "+how+".",
			"Read it off the safety data sheet, section 9, and enter it, or that there is none.", h.Ref)
	}
}

// stirred lists what makes a flash point dangerous.
func (w *work) stirred() []string {
	var how []string
	if w.heated() {
		how = append(how, "heat")
	}
	if w.q.Ultrasound {
		how = append(how, "ultrasound")
	}
	return how
}

// roomFire: cold and still, but the vapour burns at the bath's own temperature.
func (w *work) roomFire() {
	if !w.burns() {
		return
	}
	room := unit.Temperature(293.15)
	at := "in a room at 20 °C"
	if w.q.Temperature.Set {
		room, at = w.q.Temperature.Value, "at "+unit.Text(w.q.Temperature.Value, "°C", 0)
	}
	if room >= w.flash.Value {
		w.say(meas.Danger, "vapour", "Its vapour can be set alight "+at+": the flash point is "+w.flash.Text("°C", 0)+".",
			"No flame, no spark, lid on, air; only as much as the parts need. "+LastWord, w.flashRef())
	}
}

// assembled: liquid stays between parts.
func (w *work) assembled() {
	if about, parts := w.which(func(p Piece) bool { return p.Assembled }); len(about) > 0 {
		w.refuse(false, "assembled", "Still together: "+parts+". Liquid stays between the parts and works on.",
			"Take it down first; let springs down before.", practice, about...)
	}
}

// judgeCells looks every piece up in the table.
func (w *work) judgeCells() {
	refused := map[Material][]string{}
	var order []Cell
	for _, p := range w.q.Pieces {
		for _, m := range p.Materials {
			c, ok := w.cells[m][w.liquid.Key]
			if !ok {
				continue
			}
			w.judged = append(w.judged, Judged{p.Number, p.Name, c})
			if c.Short {
				w.limit = min(w.limit, shortLimit.V)
			}
			if _, seen := refused[m]; !seen {
				order = append(order, c)
				refused[m] = []string{}
			}
			refused[m] = append(refused[m], p.Number)
		}
	}
	for _, c := range order {
		w.cellSays(c, refused[c.Material])
	}
}

// cellSays makes a sentence of a cell for all the pieces that it is about.
func (w *work) cellSays(c Cell, about []string) {
	_, parts := w.which(func(p Piece) bool { return slices.Contains(about, p.Number) && p.has(c.Material) })
	head := fmt.Sprintf("%s, %s, in %s", parts, c.Material.Words(), w.liquid.Name)
	tail := "."
	if c.Reason != "" {
		tail = ": " + c.Reason + "."
	}
	switch c.Effect {
	case No:
		if c.Material != Radium { // said already, and harder
			w.refuse(false, "material", "Not "+head+tail, "Take it out of the batch, or choose another liquid.", c.Ref, about...)
		}
	case Test:
		w.say(meas.Doubt, "try", head+tail, "Try it first and write down what was seen.", c.Ref, about...)
	case Care:
		next := ""
		if c.Short {
			next = "Not longer than " + unit.Text(shortLimit.V, "min", 0) + "."
		}
		w.say(meas.Doubt, "care", head+tail, next, c.Ref, about...)
	}
}

// unstated: what a piece is made of is asked, never supposed.
func (w *work) unstated() {
	if about, parts := w.which(func(p Piece) bool { return len(p.Materials) == 0 || p.has(Unknown) }); len(about) > 0 {
		w.ask("material", "What it is made of is not known: "+parts+".",
			"Look again, with a magnet and a glass, and for lacquer, silvering, gilding and luminous paint; then say.", practice, about...)
	}
	if len(w.q.Pieces) == 0 {
		w.ask("pieces", "Nothing is in the batch yet.", "Choose the parts.", practice)
	}
}

// galvanic: unlike metals in one water bath work on each other.
func (w *work) galvanic() {
	if !w.liquid.Water {
		return
	}
	of := map[string][]string{}
	for _, p := range w.q.Pieces {
		for _, m := range p.Materials {
			if g := m.metal(); g != "" && !slices.Contains(of[g], p.Number) {
				of[g] = append(of[g], p.Number)
			}
		}
	}
	var groups []string
	var about []string
	for _, g := range []string{"brass", "steel", "lead", "zinc or aluminium"} {
		if len(of[g]) > 0 {
			groups = append(groups, g)
			about = append(about, of[g]...)
		}
	}
	if len(groups) < 2 {
		return
	}
	text := "In one water bath: " + strings.Join(groups, ", ") + ". Where unlike metals touch, the baser one is eaten."
	if len(of["zinc or aluminium"]) > 0 {
		w.refuse(false, "galvanic", text, "Zinc and aluminium go by themselves, in a basket of plastic.", practice, about...)
		return
	}
	w.say(meas.Doubt, "galvanic", text, "Separate baskets that do not touch, or separate batches; what cannot be parted, short.", practice, about...)
}

// soak: the limit, and the time asked against it.
func (w *work) soak() {
	ref := usualLimit.Ref
	if w.limit < usualLimit.V {
		ref = shortLimit.Ref
	}
	w.steps = append(w.steps, cite.Step{Name: "Longest in the bath", Formula: "the shortest that any part allows", Numbers: unit.Text(w.limit, "min", 0), Result: unit.Text(w.limit, "min", 0), Ref: ref})
	if w.q.Time.Set && w.q.Time.Value > w.limit {
		w.refuse(false, "time", fmt.Sprintf("%s is asked; %s is the longest for this batch.", typedOr(w.q.Time, "min"), unit.Text(w.limit, "min", 0)),
			"Shorten it, or take the delicate parts out; better two short baths than a long one.", ref)
	}
}

// warmth: warmer than water baths usually stand, or warm ammonia.
func (w *work) warmth() {
	if t := w.q.Temperature; t.Set && t.Value > warmest.V {
		w.say(meas.Doubt, "warm", "The bath is warmer than usual: "+typedOr(t, "°C")+".", "Let it cool to 60 °C or less.", warmest.Ref)
	}
	if w.heated() && (w.liquid.Ammonia || w.names("ammonia")) {
		h := findHazard(AmmoniaHazard)
		w.say(meas.Danger, "warm-ammonia", "A warm bath gives off far more ammonia. "+h.Text, "Extraction or open air, a lid, goggles. "+LastWord, h.Ref)
	}
	if about, parts := w.which(func(p Piece) bool { return p.has(Shellac) }); len(about) > 0 && w.heated() {
		w.refuse(false, "warm-shellac", "Warmth softens the shellac of "+parts+".", "Clean it cold, by hand, around the setting.", practice, about...)
	}
}

// bathAge: what is known of the bath's age and use.
func (w *work) bathAge() {
	if w.q.Blue {
		w.say(meas.Doubt, "blue", "The bath has turned blue: it holds copper, and ammonia with copper in it was seen to crack strained brass, fastest near neutral. A used bath is not a weak one.",
			"Mix it fresh for brass.", cite.Ref{Source: "corrosion22", Place: "p. 178, abstract"})
	}
	if !w.q.Age.Set {
		w.say(meas.Note, "age", "How old the bath is was not said.", "Write the day on the jar when it is mixed.", practice)
		return
	}
	text := "The bath is " + typedOr(w.q.Age, "d") + " old"
	switch {
	case w.q.Uses == 1:
		text += " and had one batch before."
	case w.q.Uses > 1:
		text += fmt.Sprintf(" and had %d batches before.", w.q.Uses)
	default:
		text += "; no batch before was noted."
	}
	w.say(meas.Note, "age", text, "", practice)
}

// typedOr is what was typed, with the unit it was taken in, or the value in
// that unit.
func typedOr[Q unit.Quantity](r meas.Reading[Q], symbol string) string {
	if r.Entered != "" {
		return r.Written(symbol)
	}
	return unit.Text(r.Value, symbol, 0)
}
