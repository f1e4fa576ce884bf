package mesh

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Sources lists every figure that the chapter leans on.
func Sources() []cite.Entry {
	out := []cite.Entry{
		{Name: "contact of tooth and leaf", Value: "flanks turned against each other", Ref: method},
		{Name: "torque through a touch with friction", Value: "closed form", Ref: statics},
		{Name: "what the best depth is to tolerate", Value: "10 in 100 of the torque", Ref: cite.Ref{Grade: cite.Computed, Note: "a rule of this program"}},
	}
	for _, f := range faceTable() {
		out = append(out, cite.Entry{Name: "friction, " + f.On, Value: unit.Number(f.Coefficient.V, 2), Ref: f.Coefficient.Ref})
	}
	return out
}
