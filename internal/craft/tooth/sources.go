package tooth

import (
	"fmt"

	"seatboard/internal/kit/cite"
)

// Sources lists every rule and proportion that the chapter leans on.
func Sources() []cite.Entry {
	out := []cite.Entry{
		{Name: "curve of a wheel's tooth for radial leaves", Value: "epicycloid of half the pinion's pitch radius", Ref: cycloidRule},
		{Name: "curve of a wheel's tooth for pins", Value: "parallel to the epicycloid of the whole pitch circle", Ref: pinRule},
		{Name: "least leaves without action before the line of centres", Value: "15 pairs", Ref: willisRule},
		{Name: "leaf to space on the pitch circle", Value: "1 : 2 to 9 leaves, 2 : 3 for 12", Ref: leafRule},
		{Name: "top of a leaf", Value: "rounded by half its width", Ref: leafRule},
		{Name: "rounded wheel tooth against its point", Value: "0.95", Ref: fineRule},
		{Name: "height of the leaves, where rules differ", Value: fmt.Sprintf("%g to %g modules", pinionHeights.V[0], pinionHeights.V[1]), Ref: pinionHeights.Ref},
		{Name: "clearance at the bottom of a space", Value: fmt.Sprintf("%g modules", clearance), Ref: fineRule},
		{Name: "tooth of a wheel on the pitch circle", Value: "half of the pitch", Ref: usage},
		{Name: "pin of a lantern", Value: "a third of the pitch", Ref: usage},
		{Name: "run-out of a blank", Value: fmt.Sprintf("%g modules, an eighth of the clearance", runOut), Ref: usage},
		{Name: "no gloves, no emery by hand at a lathe", Value: "rule", Ref: latheRule},
	}
	for _, g := range goodrichHeights {
		e := cite.Entry{Name: fmt.Sprintf("height of wheel teeth for %d leaves", g.leaves), Value: fraction(g.over, g.part) + " of the pinion's pitch radius", Ref: heightRule}
		if g.wrong {
			e.Ref.Note = "more than the tooth has at its point; not used"
		}
		out = append(out, e)
	}
	return out
}
