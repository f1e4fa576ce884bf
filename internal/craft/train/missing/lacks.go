package missing

import "seatboard/internal/craft/train"

// Lacking is a member whose count is not known, or was never counted.
type Lacking struct {
	Member
	Teeth train.Teeth // 0 where it is missing, else as inferred
}

// Lacks lists the members of the trains, of the motion work and of the way to
// the count wheel that are missing or inferred, in their order.
func Lacks(q train.Query) []Lacking {
	var out []Lacking
	take := func(name string, rows []train.Arbor) {
		for i, a := range rows {
			part := wheelPart
			if name == train.Going && i == len(rows)-1 {
				part = escapePart
			}
			for _, x := range []struct {
				part string
				c    train.Count
			}{{pinionPart, a.Pinion}, {part, a.Wheel}} {
				if x.c.Status == train.Missing || x.c.Status == train.Inferred {
					out = append(out, Lacking{Member{name, i, x.part}, x.c.Teeth})
				}
			}
		}
	}
	of := Query{Train: q}
	for _, name := range []string{train.Going, train.Strike, train.Quarter} {
		if t := of.of(name); t != nil {
			take(name, t.Rows())
		}
	}
	take(motionWork, q.Motion.Arbors())
	if t := of.of(train.Strike); t != nil {
		take(countWheel, t.Report.Arbors())
	}
	return out
}
