package storetest

import (
	"context"
	"fmt"
	"math/rand/v2"

	"seatboard/internal/book/parts"
	"seatboard/internal/io/store"
)

// What parts are called, where they lie, and what is written of some.
var (
	partNames  = [...]string{"third wheel", "centre wheel", "escape wheel", "great wheel", "minute wheel", "hour wheel", "cannon pinion", "click", "click spring", "click screw", "back cock", "pallets", "crutch", "pendulum", "minute hand", "hour hand", "hand collet", "dial", "dial feet pins", "front plate", "back plate", "pillar pins", "bell", "bell stand", "hammer", "hammer spring", "rack", "rack tail", "snail", "gathering pallet", "warning wheel", "fly", "barrel", "barrel ratchet", "line", "seat board screws", "moon disc", "lifting piece", "strike great wheel", "strike pin wheel"}
	partPlaces = [...]string{"tray", "bag", "box", "jar"}
	partNotes  = [...]string{"", "", "", "", "", "", "", "tail mended in soft solder", "two leaves worn", "punch marks round the hole", "scratched initials"}
)

// InventedParts gives n parts that a clock may have, the same ones for the
// same seed; in one of ten the note is its own.
func InventedParts(n int, seed uint64) []parts.Part {
	r := rand.New(rand.NewPCG(seed, 3))
	out := make([]parts.Part, n)
	states := parts.States()
	for i := range out {
		p := parts.Part{Number: parts.Number(fmt.Sprint(i + 1)), Count: 1 + r.IntN(3), State: states[r.IntN(len(states))]}
		if i > 3 && r.IntN(3) == 0 {
			p.Number = parts.Number(fmt.Sprintf("%d.%d", 1+r.IntN(i), i))
		}
		p.Name, p.Place, p.Repair = pick(r, partNames[:]), fmt.Sprintf("%s %d", pick(r, partPlaces[:]), 1+r.IntN(40)), pick(r, partNotes[:])
		if r.IntN(10) == 0 {
			p.Note = fmt.Sprintf("%s %d", surname(r), r.IntN(1e6))
		}
		out[i] = p
	}
	return out
}

// FillParts makes n invented parts findable of each of the first clocks of
// Fill. Their ledgers are not written.
func FillParts(ctx context.Context, s *store.Store, clocks, n int, seed uint64) error {
	const batch = 250
	for from := 1; from <= clocks; from += batch {
		err := s.Update(ctx, "generator", func(tx *store.Tx) error {
			for id := from; id < min(from+batch, clocks+1); id++ {
				if err := tx.IndexParts(int64(id), InventedParts(n, seed+uint64(id))); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}
