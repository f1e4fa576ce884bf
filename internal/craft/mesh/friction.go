package mesh

import "seatboard/internal/kit/cite"

// Faces is how the flanks of a pair are to one another.
type Faces string

// The faces.
const (
	Dry      Faces = "dry"
	Greasy   Faces = "greasy"
	Oiled    Faces = "oiled"
	Sticking Faces = "sticking"
)

// faces is a coefficient of friction with what it was measured on.
type faces struct {
	Name        Faces
	On          string
	Coefficient cite.Value[float64]
}

// chart and table are where the coefficients are printed.
func chart(note string) cite.Ref {
	return cite.Ref{Place: "a supplier's chart of coefficients of friction", Note: note}
}

// faceTable lists what is known. Nothing was found that was measured on the
// teeth of clocks.
func faceTable() []faces {
	return []faces{
		{Dry, "brass on cast iron, dry, sliding", cite.Value[float64]{V: 0.30, Ref: cite.Ref{Place: "an engineers' handbook table of friction", Note: "brass on cast iron, dry, sliding"}}},
		{Greasy, "brass on steel, greasy", cite.Value[float64]{V: 0.19, Ref: chart("brass on steel, greasy")}},
		{Oiled, "brass on steel, castor oil", cite.Value[float64]{V: 0.11, Ref: chart("brass on steel, castor oil")}},
		{Sticking, "brass on steel, dry, at rest", cite.Value[float64]{V: 0.51, Ref: chart("brass on steel, dry, at rest")}},
	}
}

func findFaces(name Faces) (faces, bool) {
	for _, f := range faceTable() {
		if f.Name == name {
			return f, true
		}
	}
	return faces{}, false
}
