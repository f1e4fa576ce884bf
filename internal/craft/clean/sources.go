package clean

import (
	"fmt"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Sources lists every figure and table that the chapter leans on.
func Sources() []cite.Entry {
	out := []cite.Entry{
		{Name: "longest in a bath", Value: unit.Text(usualLimit.V, "min", 0), Ref: usualLimit.Ref},
		{Name: "longest for what is to be short", Value: unit.Text(shortLimit.V, "min", 0), Ref: shortLimit.Ref},
		{Name: "warmest water bath", Value: unit.Text(warmest.V, "°C", 0), Ref: warmest.Ref},
		{Name: "a bath warmed by something", Value: "above " + unit.Text(roomWarm.V, "°C", 0), Ref: roomWarm.Ref},
		{Name: "copper in a used ammonia bath", Value: "cracks strained brass, fastest near neutral", Ref: cite.Ref{Source: "corrosion22", Place: "p. 178, abstract"}},
	}
	for _, s := range Substances() {
		if s.Burns {
			out = append(out, cite.Entry{Name: "flash point of " + s.Name, Value: unit.Text(s.Flash, "°C", 0), Ref: s.Ref})
		}
		out = append(out, cite.Entry{Name: "limits at work, " + s.Name, Value: fmt.Sprintf("OSHA %s; NIOSH %s; %s", orNone(s.OSHA), orNone(s.NIOSH), orNone(s.Other)), Ref: limitRef(s)})
	}
	for _, h := range Hazards() {
		out = append(out, cite.Entry{Name: "caution, " + h.Key, Value: h.Authority, Ref: h.Ref})
	}
	for _, a := range Luminous() {
		out = append(out, cite.Entry{Name: a.What + ", " + a.Where, Value: a.Curies + ", " + a.Becquerels, Ref: a.Ref})
	}
	for _, c := range Cells() {
		v := string(c.Effect)
		if c.Short {
			v += ", short"
		}
		liquid, _ := FindLiquid(c.Liquid)
		out = append(out, cite.Entry{Name: c.Material.Words() + " in " + liquid.Name, Value: v, Ref: c.Ref})
	}
	return out
}

func orNone(s string) string {
	if s == "" {
		return "none read"
	}
	return s
}

// limitRef is where the limits of a substance are from: another page of the
// same grade, except that those of white spirit were read.
func limitRef(s Substance) cite.Ref {
	return cite.Ref{Source: "oshacsi", Place: "with the NIOSH Pocket Guide and Ontario's list", Note: "what was not read says so"}
}
