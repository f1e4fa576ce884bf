package form

import (
	"seatboard/internal/craft/mesh"
	"seatboard/internal/craft/tooth"
)

// Mesh declares the inputs of a depthing.
func Mesh(q *mesh.Query) Form {
	return Form{Name: "mesh", Groups: []Group{
		{Legend: "Wheel and pinion", Fields: []Field{
			Whole("wheel", "Teeth of the wheel", &q.Wheel, 1, 1200),
			Whole("leaves", "Leaves of the pinion", &q.Leaves, 1, 1200),
			Choice("form", "Form of the teeth", &q.Form, Option{string(tooth.Rounded), "Cycloidal, rounded at the tip"}, Option{string(tooth.Exact), "Cycloidal to the point, exact"},
				Option{string(tooth.Arcs), "Two arcs, as commonly cut"}, Option{string(tooth.LanternOf), "Lantern pinion"}),
			Quantity("module", "Module", "mm", &q.Module).Sized(8).Hinted("Or one of the sizes below"),
		}},
		{Legend: "As measured", Fields: []Field{
			Quantity("distance", "Distance of the centres", "mm", &q.Distance).Hinted("Left empty, where the pitch circles touch"),
			Quantity("wheel-outside", "Wheel, across the tips", "mm", &q.WheelOutside).Sized(10),
			Quantity("pinion-outside", "Pinion, across the tips", "mm", &q.PinionOutside).Sized(10),
			Quantity("tooth-width", "Width of a tooth of the wheel", "mm", &q.ToothWidth).Sized(8).Hinted("Straight across, on the pitch circle; worn or cut again it is thinner"),
			Quantity("tooth-space", "Or the space between two teeth", "mm", &q.ToothSpace).Sized(8).Hinted("The same way"),
			Quantity("leaf-width", "Width of a leaf", "mm", &q.LeafWidth).Sized(8).Hinted("Straight across, on the pitch circle"),
			Quantity("leaf-space", "Or the space between two leaves", "mm", &q.LeafSpace).Sized(8).Hinted("The same way"),
			Quantity("pin", "Diameter of the pins of a lantern", "mm", &q.Pin).Sized(8),
			Quantity("height", "Height of the wheel's teeth over the pitch circle", "", &q.Height).Sized(6).Hinted("In modules; by the rule of the form where empty"),
			Choice("bottom", "Bottom of the spaces", &q.Bottom, Option{string(tooth.SquareBottom), "Square"}, Option{string(tooth.RoundBottom), "One round from side to side"}),
			Quantity("root-radius", "Radius in the corners at the bottom", "mm", &q.RootRadius).Sized(8).Hinted("Of a square bottom; sharp where empty"),
		}},
		{Legend: "Friction", Fields: []Field{
			Choice("faces", "How the flanks are", &q.Faces, Option{string(mesh.Dry), "Dry"}, Option{string(mesh.Greasy), "Greasy"}, Option{string(mesh.Oiled), "Oiled"}, Option{string(mesh.Sticking), "Dry and sticking"}),
			Quantity("friction", "Coefficient, if known better", "", &q.Friction).Sized(6),
			Quantity("torque", "Torque on the wheel", "N mm", &q.Torque).Sized(8),
		}},
		{Legend: "Worn, bent, broken", Folded: true, Fields: []Field{
			Quantity("pit", "Pits in the leaves, how deep", "mm", &q.Pit).Sized(8).Hinted("At their deepest, where the teeth run"),
			Quantity("worn", "Wear of the wheel's teeth, how deep", "mm", &q.Worn).Sized(8),
			Quantity("bent", "One tooth bent at its tip by", "mm", &q.Bent).Sized(8).Hinted("0.1 forwards, −0.1 back"),
			Quantity("short", "One tooth short by", "mm", &q.Short).Sized(8),
		}},
		{Legend: "Distances to try", Folded: true, Fields: []Field{
			Quantity("deepest", "Least", "mm", &q.Deepest).Sized(8),
			Quantity("shallowest", "Greatest", "mm", &q.Shallowest).Sized(8),
		}},
	}}
}
