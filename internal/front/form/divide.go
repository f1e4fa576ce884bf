package form

import "seatboard/internal/craft/divide"

// Divide declares the inputs of dividing.
func Divide(q *divide.Query) Form {
	return Form{Name: "divide", Groups: []Group{
		{Legend: "What is divided", Fields: []Field{
			Whole("count", "Divisions", &q.Count, divide.Fewest, divide.Most).AsArg().Hinted("Left empty: which counts the plates reach"),
			Quantity("diameter", "Diameter of the rim", "mm", &q.Diameter).Hinted("For what is off, on the rim").Sized(8),
		}},
		{Legend: "With what", Fields: []Field{
			plates(&q.Plates),
			yesNo("two-circles", "Two circles of one plate, one after the other?", &q.Compound),
		}},
	}}
}

// Plates declares the plates that a shop keeps.
func Plates(p *divide.Plates) Form {
	return Form{Name: "plates", Groups: []Group{{Legend: "Plates and heads", Fields: []Field{plates(p)}}}}
}

func plates(p *divide.Plates) Field {
	return ParsedArea("plates", "Plates and heads of the shop", p).Hinted("A line for each: plate A: 60 72 96, or head 40:1 with 15 16 17 / 21 23 27")
}
