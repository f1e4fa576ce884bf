package job

import "time"

// Clock is the shop's record of one clock. Every text is as typed.
type Clock struct {
	ID      int64  `json:"-"`   // place in the store, 0 before it is stored
	Version int    `json:"-"`   // how often it was saved; a save from an older one is a conflict
	UID     string `json:"uid"` // 16 hexadecimal digits, the same after export and import

	Number   string   `json:"number"`   // the shop's number: "2026-014"
	Title    string   `json:"title"`    // what it is: "Longcase clock, eight-day"
	Stage    Stage    `json:"stage"`    // where it is in its journey
	Promise  string   `json:"promise"`  // the day it is promised for: "2026-12-24", or words
	Invented bool     `json:"invented"` // a made-up clock of the demonstration
	Owner    Owner    `json:"owner"`
	Object   Object   `json:"object"`
	Holders  []Holder `json:"holders"` // whose it was, first to last
	Pieces   []Piece  `json:"pieces"`  // loose pieces that came with it

	Created time.Time `json:"created"`          // taken into the book
	Touched time.Time `json:"touched"`          // last change of anything in its file
	Removed time.Time `json:"removed,omitzero"` // marked removed; zero while it stands
}

// Owner is whose clock it is now.
type Owner struct {
	Name    string `json:"name"`
	Contact string `json:"contact"` // address, telephone, mail; a line each
	Note    string `json:"note"`
}

// Object is the description of the Object ID standard.
type Object struct {
	Type         string `json:"type"`         // type of object: "clock, longcase"
	Materials    string `json:"materials"`    // materials and techniques
	Measurements string `json:"measurements"` // with the unit and which dimension
	Inscriptions string `json:"inscriptions"` // inscriptions and markings, as read
	Made         Made   `json:"made"`         // date or period
	Maker        Maker  `json:"maker"`
	Subject      string `json:"subject"` // what is pictured
	Title        string `json:"title"`   // a name it goes by: "the Night Watch"
	Features     string `json:"features"`
	Description  string `json:"description"`

	Inventory  string `json:"inventory"`  // inventory number, of the owner or a collection
	Writings   string `json:"writings"`   // related written material
	Place      string `json:"place"`      // place of origin or discovery
	Related    string `json:"related"`    // cross reference to related objects
	Documented string `json:"documented"` // date documented
}

// Maker is the maker as the clock says it and as the trade thinks it.
type Maker struct {
	AsRead     string `json:"as_read"`    // as read on the clock
	Attributed string `json:"attributed"` // who is thought to have made it
	Role       string `json:"role"`       // "maker", "retailer", "case maker"
}

// Holder is one link in the chain of holders before the owner.
type Holder struct {
	N       int       `json:"n"` // number within the clock, from 1; 0 in a row just typed
	Name    string    `json:"name"`
	From    string    `json:"from"` // from when, in words
	To      string    `json:"to"`
	How     string    `json:"how"` // how it is known
	Removed time.Time `json:"removed,omitzero"`
}

// Piece is a loose piece that came with the clock.
type Piece struct {
	N        int       `json:"n"` // number within the clock, from 1; 0 in a row just typed
	What     string    `json:"what"`
	Count    string    `json:"count"` // how many, as typed
	Note     string    `json:"note"`
	Received bool      `json:"received"` // it is here and was signed for
	Removed  time.Time `json:"removed,omitzero"`
}

// StandingHolders is the chain of holders without rows marked removed.
func (c Clock) StandingHolders() []Holder {
	return standing(c.Holders, func(h Holder) bool { return h.Removed.IsZero() })
}

// StandingPieces is the list of pieces without rows marked removed.
func (c Clock) StandingPieces() []Piece {
	return standing(c.Pieces, func(p Piece) bool { return p.Removed.IsZero() })
}

func standing[Row any](rows []Row, keep func(Row) bool) []Row {
	var out []Row
	for _, r := range rows {
		if keep(r) {
			out = append(out, r)
		}
	}
	return out
}

// Summary is a clock as a line in a list.
type Summary struct {
	ID       int64     `json:"-"`
	Touch    int64     `json:"-"` // grows with every change of anything in its file; 0 where it was not read from a list
	UID      string    `json:"uid"`
	Number   string    `json:"number"`
	Title    string    `json:"title"`
	Stage    Stage     `json:"stage"`
	Owner    string    `json:"owner"`
	Maker    string    `json:"maker"` // as read, or attributed where nothing was read
	Made     string    `json:"made"`  // date or period, in words
	Promise  string    `json:"promise"`
	Invented bool      `json:"invented"`
	Touched  time.Time `json:"touched"`
	Removed  time.Time `json:"removed,omitzero"`
}

// Summary is the clock as a line in a list.
func (c Clock) Summary() Summary {
	return Summary{
		ID: c.ID, UID: c.UID, Number: c.Number, Title: c.Title, Stage: c.Stage, Owner: c.Owner.Name,
		Maker: c.Object.Maker.Name(), Made: c.Object.Made.Text, Promise: c.Promise,
		Invented: c.Invented, Touched: c.Touched, Removed: c.Removed,
	}
}

// Name is the maker as read, or as attributed where nothing was read.
func (m Maker) Name() string {
	if m.AsRead != "" {
		return m.AsRead
	}
	return m.Attributed
}
