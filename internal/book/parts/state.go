package parts

import "strings"

// State is where a part is in its life.
type State string

// The states.
const (
	OnClock State = "on-clock" // not taken off, or left in place
	Off     State = "off"
	InBath  State = "in-bath"
	Dry     State = "dry"
	OnBench State = "on-bench"
	Mended  State = "mended" // mended or made new
	BackOn  State = "back-on"
	Kept    State = "kept" // for the owner
	UsedUp  State = "used-up"
)

// States lists them in the order of a part's life.
func States() []State {
	return []State{OnClock, Off, InBath, Dry, OnBench, Mended, BackOn, Kept, UsedUp}
}

// Words is the state as shown.
func (s State) Words() string {
	switch s {
	case OnClock:
		return "on the clock"
	case Off:
		return "off"
	case InBath:
		return "in the bath"
	case Dry:
		return "dry"
	case OnBench:
		return "on the bench"
	case Mended:
		return "mended or made new"
	case BackOn:
		return "back on"
	case Kept:
		return "kept for the owner"
	case UsedUp:
		return "used up"
	}
	return ""
}

// Known tells whether the state is one of [States].
func (s State) Known() bool { return s.Words() != "" }

// accounted tells whether a part in this state is where it is to stay.
func (s State) accounted() bool { return s == BackOn || s == Kept || s == UsedUp }

// Move is one move that a part may make. From "" is being recorded.
type Move struct {
	From, To State
	NeedsWhy bool // a reason must be written
}

// Moves lists every move that is allowed.
func Moves() []Move { return moves[:] }

// moves is a constant table; it is never written.
var moves = [...]Move{
	{"", OnClock, false}, {"", Off, false}, {"", Mended, true}, // a part made new says for what
	{OnClock, Off, false},
	{Off, InBath, false}, {Off, OnBench, false}, {Off, Mended, false}, {Off, BackOn, false}, {Off, Kept, true}, {Off, UsedUp, true},
	{InBath, Dry, false},
	{Dry, InBath, false}, {Dry, OnBench, false}, {Dry, Mended, false}, {Dry, BackOn, false}, {Dry, Kept, true}, {Dry, UsedUp, true},
	{OnBench, InBath, false}, {OnBench, Mended, false}, {OnBench, BackOn, false}, {OnBench, Kept, true}, {OnBench, UsedUp, true},
	{Mended, InBath, false}, {Mended, OnBench, false}, {Mended, BackOn, false}, {Mended, Kept, true}, {Mended, UsedUp, true},
	{BackOn, Off, true},
	{Kept, OnBench, true},
}

// FindMove is the rule of a move; false where it is not allowed.
func FindMove(from, to State) (Move, bool) {
	for _, m := range moves {
		if m.From == from && m.To == to {
			return m, true
		}
	}
	return Move{}, false
}

// Next lists the states that a part may go to.
func (s State) Next() []State {
	var out []State
	for _, m := range moves {
		if m.From == s {
			out = append(out, m.To)
		}
	}
	return out
}

// NextByHand lists the moves that a person may make without a batch.
func (s State) NextByHand() []Move {
	var out []Move
	for _, m := range moves {
		if m.From == s && m.To != InBath {
			out = append(out, m)
		}
	}
	return out
}

// nextWords is what may be done with a part, for a sentence.
func (s State) nextWords() string {
	var words []string
	for _, n := range s.Next() {
		words = append(words, n.Words())
	}
	if len(words) == 0 {
		return "nothing; undo what brought it there"
	}
	return strings.Join(words, ", ")
}
