package web

import (
	"net/url"
	"strconv"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/meas"
)

// recordGroup is a set of fields of a clock's record under one legend.
type recordGroup struct {
	Legend, Hint string
	Fields       []recordField
}

// recordField is one field of a clock's record, pointing into it.
type recordField struct {
	Name, Label, Hint string
	Lines             int // rows of a text area, 0 for one line
	Size              int
	Options           []string // words offered; others may be typed
	Error             string
	target            *string
}

// Value is what the field holds.
func (f recordField) Value() string { return *f.target }

// ownFields are what a new clock is asked for; all but the number may wait.
func ownFields(c *job.Clock) []recordField {
	return []recordField{
		{Name: "number", Label: "Number in the shop", Size: 14, target: &c.Number},
		{Name: "title", Label: "What it is", Hint: "In a few words, as you would call it across the bench", Size: 40, target: &c.Title},
		{Name: "owner.name", Label: "Owner", Size: 32, target: &c.Owner.Name},
	}
}

// recordGroups are all fields of the taking-in chapter, in the order they are
// met: whose, what, by whom and when, what is on it, where it was.
func recordGroups(c *job.Clock) []recordGroup {
	o := &c.Object
	own := ownFields(c)
	return []recordGroup{
		{Legend: "The clock and its owner", Fields: append(own,
			recordField{Name: "owner.contact", Label: "How to reach the owner", Hint: "Address, telephone, mail, a line each", Lines: 3, target: &c.Owner.Contact},
			recordField{Name: "owner.note", Label: "What the owner says and wishes", Lines: 3, target: &c.Owner.Note},
			recordField{Name: "promise", Label: "Promised for", Hint: "A day such as 2026-12-24, or words", Size: 20, target: &c.Promise},
		)},
		{Legend: "What it is", Hint: "The fields of the Object ID standard; what is not known stays empty", Fields: []recordField{
			{Name: "object.type", Label: "Type of object", Size: 32, target: &o.Type},
			{Name: "object.materials", Label: "Materials and techniques", Lines: 2, target: &o.Materials},
			{Name: "object.measurements", Label: "Measurements", Hint: "Say which dimension and the unit: height 2110 mm, dial 12 in", Lines: 2, target: &o.Measurements},
			{Name: "object.inscriptions", Label: "Inscriptions and markings, as read", Hint: "□ for one mark that cannot be read, [...] for several, [letters] supplied by you", Lines: 3, target: &o.Inscriptions},
			{Name: "object.features", Label: "Distinguishing features", Hint: "Damage, repairs, scratches inside: what tells it from its twin", Lines: 2, target: &o.Features},
			{Name: "object.subject", Label: "Subject", Hint: "What is pictured on dial or case", Size: 40, target: &o.Subject},
			{Name: "object.title", Label: "Title", Hint: "A name it goes by, if it has one", Size: 32, target: &o.Title},
			{Name: "object.description", Label: "Description", Lines: 4, target: &o.Description},
		}},
		{Legend: "Made by whom, and when", Fields: []recordField{
			{Name: "object.maker.as_read", Label: "Maker, as read on the clock", Size: 32, target: &o.Maker.AsRead},
			{Name: "object.maker.attributed", Label: "Maker, as thought", Size: 32, target: &o.Maker.Attributed},
			{Name: "object.maker.role", Label: "Role", Hint: "Maker, retailer, case maker, dial painter", Size: 24, target: &o.Maker.Role},
			{Name: "object.made.text", Label: "Date or period, in words", Hint: "About 1790; last quarter of the 18th century", Size: 32, target: &o.Made.Text},
			{Name: "object.made.from", Label: "Earliest year", Size: 6, target: &o.Made.From},
			{Name: "object.made.to", Label: "Latest year", Size: 6, target: &o.Made.To},
			{Name: "object.made.certainty", Label: "How sure", Size: 24, Options: job.Certainties(), target: &o.Made.Certainty},
			{Name: "object.place", Label: "Place of origin", Size: 32, target: &o.Place},
		}},
		{Legend: "Papers", Fields: []recordField{
			{Name: "object.inventory", Label: "Inventory number of the owner or collection", Size: 20, target: &o.Inventory},
			{Name: "object.writings", Label: "Related written material", Lines: 2, target: &o.Writings},
			{Name: "object.related", Label: "Related objects", Size: 40, target: &o.Related},
			{Name: "object.documented", Label: "Date documented", Size: 14, target: &o.Documented},
		}},
	}
}

// listRow is a row of holders or pieces as typed.
type listRow struct {
	N     int
	Cells []listCell
}

// listCell is one cell with its name.
type listCell struct {
	Name, Label, Value, Error string
	Check                     bool // a tick instead of text
	Size                      int
}

const spareRows = 2 // empty rows under a list, so that it grows without script

// holderRows lays out the chain of holders with spare rows.
func holderRows(c job.Clock) []listRow {
	rows := append(c.StandingHolders(), make([]job.Holder, spareRows)...)
	out := make([]listRow, len(rows))
	for i, h := range rows {
		p := "holders[" + strconv.Itoa(i) + "]."
		out[i] = listRow{N: h.N, Cells: []listCell{
			{Name: p + "name", Label: "Who", Value: h.Name, Size: 32},
			{Name: p + "from", Label: "From", Value: h.From, Size: 10},
			{Name: p + "to", Label: "To", Value: h.To, Size: 10},
			{Name: p + "how", Label: "How it is known", Value: h.How, Size: 22},
		}}
	}
	return out
}

// pieceRows lays out the loose pieces with spare rows.
func pieceRows(c job.Clock) []listRow {
	rows := append(c.StandingPieces(), make([]job.Piece, spareRows)...)
	out := make([]listRow, len(rows))
	for i, x := range rows {
		p := "pieces[" + strconv.Itoa(i) + "]."
		received := ""
		if x.Received {
			received = "yes"
		}
		out[i] = listRow{N: x.N, Cells: []listCell{
			{Name: p + "what", Label: "What", Value: x.What, Size: 22},
			{Name: p + "count", Label: "How many", Value: x.Count, Size: 6},
			{Name: p + "note", Label: "Note", Value: x.Note, Size: 26},
			{Name: p + "received", Label: "Here", Value: received, Check: true},
		}}
	}
	return out
}

// readRecord copies what was posted over a clock's record. Fields that the
// form did not have stay as they are.
func readRecord(c *job.Clock, form url.Values) {
	for _, g := range recordGroups(c) {
		for _, f := range g.Fields {
			if v, ok := form[f.Name]; ok {
				*f.target = typed(v)
			}
		}
	}
	if s := job.Stage(form.Get("stage")); s.Known() {
		c.Stage = s
	}
	if form.Has("holders[0].name") {
		c.Holders = readHolders(form)
	}
	if form.Has("pieces[0].what") {
		c.Pieces = readPieces(form)
	}
}

// typed is a posted value with plain line ends and no space around it.
func typed(v []string) string {
	return strings.TrimSpace(strings.ReplaceAll(strings.Join(v, "\n"), "\r\n", "\n"))
}

const maxListRows = 200

func readHolders(form url.Values) []job.Holder {
	var out []job.Holder
	eachRow(form, "holders", "name", func(get func(string) string, n int) {
		h := job.Holder{N: n, Name: get("name"), From: get("from"), To: get("to"), How: get("how")}
		if h != (job.Holder{N: n}) {
			out = append(out, h)
		}
	})
	return out
}

func readPieces(form url.Values) []job.Piece {
	var out []job.Piece
	eachRow(form, "pieces", "what", func(get func(string) string, n int) {
		p := job.Piece{N: n, What: get("what"), Count: get("count"), Note: get("note"), Received: get("received") != ""}
		if p != (job.Piece{N: n}) {
			out = append(out, p)
		}
	})
	return out
}

// eachRow visits the posted rows of a list; a row that was emptied is left
// out by the caller and so marked removed when it is saved.
func eachRow(form url.Values, list, first string, visit func(get func(string) string, n int)) {
	for i := range maxListRows {
		prefix := list + "[" + strconv.Itoa(i) + "]."
		if !form.Has(prefix + first) {
			return
		}
		n, _ := strconv.Atoi(form.Get(prefix + "n")) // 0 is a new row
		visit(func(name string) string { return typed(form[prefix+name]) }, n)
	}
}

// withErrors sets the mistakes beside their fields.
func withErrors(groups []recordGroup, faults meas.Faults) []recordGroup {
	for _, g := range groups {
		withError(g.Fields, faults)
	}
	return groups
}

func withError(fields []recordField, faults meas.Faults) []recordField {
	for i := range fields {
		fields[i].Error = faultOf(faults, fields[i].Name)
	}
	return fields
}

// faultOf is the sentence of the mistakes in a field, "" where there is none.
func faultOf(faults meas.Faults, field string) string {
	var all []string
	for _, f := range faults {
		if f.Field == field {
			all = append(all, f.Text)
		}
	}
	return strings.Join(all, " ")
}
