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
		{Name: "what a fair depth may lose of the evenness of torque", Value: "a tenth", Ref: cite.Ref{Grade: cite.Computed, Note: "a rule of this program"}},
	}
	for _, f := range faceTable() {
		out = append(out, cite.Entry{Name: "friction, " + f.On, Value: unit.Number(f.Coefficient.V, 2), Ref: f.Coefficient.Ref})
	}
	return out
}
