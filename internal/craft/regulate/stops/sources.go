package stops

import (
	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/cite"
)

var (
	arcRef      = cite.Ref{Source: "hodges", Grade: cite.Exact, Place: "the half turn; other widths by the same ballot, held against simulation"}
	rayleighRef = cite.Ref{Source: "fisher93", Place: "section 4.3"}
	familyRef   = cite.Ref{Source: "westfall", Place: "the least chance of many tests, drawn anew"}
	mardiaRef   = cite.Ref{Source: "mardia", Place: "example 1.1, roulette"}
)

// Sources lists what this chapter leans on.
func Sources() []cite.Entry {
	practice := cite.Ref{Grade: cite.CommonPractice}
	return []cite.Entry{
		{Name: "chance that an arc holds k of n stops", Value: "closed form", Ref: arcRef},
		{Name: "chance of a mean vector as long (Rayleigh), with its terms in 1/n and 1/n²", Value: "series", Ref: rayleighRef},
		{Name: "chance of the most telling of many", Value: "by simulation, seed fixed", Ref: familyRef},
		{Name: "doubt of the minute hand read by eye", Value: "± 30 s", Ref: practice},
		{Name: "the strike loads the train", Value: "from 10 min before the blow to 1 min after", Ref: practice},
		{Name: "a rack is let fall", Value: "at most 5 min before the blow", Ref: practice},
		{Name: "a tail left on the snail stops the clock", Value: "from twelve to one", Ref: practice},
		{Name: "blows in twelve hours", Value: "78, or 90 with one at each half", Ref: cite.Ref{Grade: cite.Exact}},
		{Name: "how well the place of the weight is known", Value: "2 % of the run", Ref: practice},
		{Name: "a stop may be laid to a touch", Value: "within a day", Ref: practice},
	}
}

// Checks sets printed figures beside ours.
func Checks() []cite.Check {
	roulette := degrees(43, 45, 52, 61, 75, 88, 88, 279, 357)
	direction, length := circular.Mean(roulette)
	four := degrees(130, 90, 0, 145)
	_, fourth := circular.Mean(four)
	return []cite.Check{
		{What: "mean direction of nine stops of a roulette wheel, in degrees", Ref: mardiaRef, Printed: "51", Got: direction * 360},
		{What: "length of their mean vector", Ref: mardiaRef, Printed: "0.711", Got: length},
		{What: "the arc that holds all of them, in degrees", Ref: mardiaRef, Printed: "169", Got: circular.Shortest(circular.Sorted(roulette), len(roulette)).Width * 360},
		{What: "Rayleigh’s chance of 130°, 90°, 0°, 145°", Ref: cite.Ref{Source: "astropy", Place: "stats: circular statistics, example"}, Printed: "0.2563487733797317", Tol: 1e-12, Got: circular.Rayleigh(len(four), fourth)},
	}
}

func degrees(d ...float64) []float64 {
	for i := range d {
		d[i] /= 360
	}
	return d
}
