package clean

import (
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/kit/cite"
)

// Hazard is one sentence that stands wherever the work is done, and whose
// word it is. The last word is always [LastWord].
type Hazard struct {
	Key       string   `json:"key"`
	Text      string   `json:"text"`
	Authority string   `json:"authority"`
	Ref       cite.Ref `json:"source"`
}

// LastWord ends every caution.
const LastWord = "Local law and licensed practice decide."

// The keys of the hazards.
const (
	RadiumHazard  = "radium"
	FireHazard    = "fire"
	AmmoniaHazard = "ammonia"
	LeadHazard    = "lead"
	MercuryHazard = "mercury"
	VapourHazard  = "vapour"
	SpringHazard  = "spring"

	QuicksilverHazard = "quicksilver"
	IvoryHazard       = "ivory"
	GlassHazard       = "glass"
	WeightHazard      = "weight"
)

// Hazards lists every caution of the chapter.
func Hazards() []Hazard {
	return []Hazard{
		{RadiumHazard, "Luminous paint of unknown kind: never clean, scrape, brush, blow or wet it; bag it, label it, wash your hands, and refer it. A loose hand or dial and an opened piece fall under other rules than a whole clock.",
			"Ionising Radiations Regulations 2017 with HSE L121 (Great Britain); 10 CFR 30.15 and 31.12 (United States); the radiation protection adviser", cite.Ref{Source: "irr17", Place: "L121"}},
		{FireHazard, "What has a flash point is never heated and never stands in an ultrasonic tank: the mist over the bath burns below the flash point.",
			"the safety data sheet; IEC 60079-20-1; the fire authority", cite.Ref{Source: "ctg2012", Place: "on mist over the bath"}},
		{AmmoniaHazard, "Ammonia burns eyes and lungs: open air or extraction, goggles, gloves; 50 ppm over a shift in law, 25 ppm by advice, 300 ppm is a danger to life.",
			"OSHA; NIOSH", cite.Ref{Source: "oshacsi", Place: "ammonia"}},
		{VapourHazard, "The vapour is breathed in and burns: air, no flame, no spark, a closed lid; rags outside in a closed metal tin.",
			"OSHA and NIOSH limits of the substance; the safety data sheet", cite.Ref{Source: "oshacsi", Place: "of each substance"}},
		{LeadHazard, "Lead: nitrile gloves, nothing dry, no dust, wash before eating; what it was washed in is waste of its own kind.",
			"CCI Notes 1/8; OSHA 29 CFR 1910.1025 (50 µg/m³)", cite.Ref{Source: "cci18"}},
		{MercuryHazard, "Gilding of this age was done with mercury, and some may still be there: do not heat it.",
			"CCI Notes 1/7", cite.Ref{Source: "cci17"}},
		{SpringHazard, "A mainspring in its barrel is let down and taken out before it is wetted; it can break loose with force.",
			"common practice of the trade", practice},
		{QuicksilverHazard, "Mercury, in a jar, a tube, a mirror or old gilding: keep it closed, upright and cool. What was spilled is never swept and never taken up with a vacuum cleaner; air the room, keep others out, and call who is licensed for it.",
			"CCI Notes 1/7, whose text was not seen; the rest common practice", practice},
		{IvoryHazard, "Ivory may not be sold, moved over a border or put in anew before the question of law is answered; keep every piece, and keep it dry and cool.",
			"Ivory Act 2018 (United Kingdom); CITES", cite.Ref{Source: "ivoryact"}},
		{GlassHazard, "Broken or loose glass: gloves and goggles, lay the part flat, take splinters up with tape, and wrap and label what is kept.",
			"common practice of the trade", practice},
		{WeightHazard, "A weight that can fall: take it off its line and set it on the floor before anything else is done, and keep feet and children away from under it.",
			"common practice of the trade", practice},
	}
}

// Brief is a caution in so few words that a label has room for them.
type Brief struct {
	Name      string // what it is
	Words     string // and what is done, or not
	Authority string
}

// Brief is the caution in few words; the whole sentence stands where the code
// of the label leads. False for what belongs to a bath and to no part.
func (h Hazard) Brief() (Brief, bool) {
	b, ok := map[string]Brief{
		RadiumHazard:      {"Radium?", "Radium? Do not open or clean", "IRR 2017, L121; 10 CFR 30.15"},
		LeadHazard:        {"Lead", "Lead: gloves, no dust", "CCI Notes 1/8; 29 CFR 1910.1025"},
		MercuryHazard:     {"Mercury", "Mercury gilding: no heat", "CCI Notes 1/7"},
		QuicksilverHazard: {"Mercury", "Mercury: closed, upright, cool", "CCI Notes 1/7"},
		IvoryHazard:       {"Ivory", "Ivory: keep every piece", "Ivory Act 2018; CITES"},
		GlassHazard:       {"Broken glass", "Broken glass: gloves", "common practice"},
		WeightHazard:      {"Falling weight", "Falling weight: take it off first", "common practice"},
		SpringHazard:      {"Mainspring", "Mainspring: let down first", "common practice"},
	}[h.Key]
	return b, ok
}

// FindHazard looks a caution up by its key; false where there is none.
func FindHazard(key string) (Hazard, bool) {
	for _, h := range Hazards() {
		if h.Key == key {
			return h, true
		}
	}
	return Hazard{}, false
}

// findHazard looks a caution up; an unknown key is a mistake of the program.
func findHazard(key string) Hazard {
	h, ok := FindHazard(key)
	if !ok {
		panic("clean: no hazard " + key)
	}
	return h
}

// HazardsOf lists the cautions that go with a part made of these.
func HazardsOf(materials []Material) []Hazard {
	var out []Hazard
	for _, pair := range []struct {
		m   Material
		key string
	}{{Radium, RadiumHazard}, {Lead, LeadHazard}, {Gilt, MercuryHazard}, {Spring, SpringHazard}} {
		if slices.Contains(materials, pair.m) {
			out = append(out, findHazard(pair.key))
		}
	}
	return out
}

// hazards gathers the cautions of the batch: of the parts, then of the liquid.
func (w *work) hazards() []Hazard {
	var all []Material
	for _, p := range w.q.Pieces {
		all = append(all, p.Materials...)
	}
	out := HazardsOf(all)
	if w.liquid.Ammonia || w.names("ammonia") {
		out = append(out, findHazard(AmmoniaHazard))
	}
	if w.burns() {
		out = append(out, findHazard(FireHazard), w.vapour())
	}
	return out
}

func (w *work) names(substance string) bool {
	return slices.ContainsFunc(w.substances, func(s Substance) bool { return s.Name == substance })
}

// vapour is the caution with the limits of the substances at hand.
func (w *work) vapour() Hazard {
	h := findHazard(VapourHazard)
	var limits []string
	for _, s := range w.substances {
		if s.OSHA != "" && s.Burns {
			limits = append(limits, fmt.Sprintf("%s %s (OSHA), %s (NIOSH)", s.Name, s.OSHA, s.NIOSH))
		}
	}
	if len(limits) > 0 {
		h.Text += " Limits at work: " + strings.Join(limits, "; ") + "."
	}
	return h
}
