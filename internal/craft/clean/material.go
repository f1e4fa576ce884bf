package clean

// Material is something a part is made of or carries that matters to a bath.
type Material string

// The materials. A part has as many of them as it has.
const (
	Brass     Material = "brass"           // bare, sound, at rest
	Worked    Material = "brass-worked"    // hammered, drawn, riveted, bushed, cracked
	Lacquered Material = "brass-lacquered" // under lacquer
	Silvered  Material = "silvered"
	Gilt      Material = "gilt"
	Steel     Material = "steel" // bright
	Blued     Material = "steel-blued"
	Spring    Material = "steel-spring"
	Lead      Material = "lead"
	Zinc      Material = "zinc" // and aluminium
	Ivory     Material = "ivory"
	Shellac   Material = "shellac"
	Leather   Material = "leather" // and felt and gut
	Painted   Material = "painted" // painted, enamelled or paper dial
	Wood      Material = "wood"
	Radium    Material = "radium"  // luminous paint where radium is not ruled out
	Unknown   Material = "unknown" // looked at and not known
)

// Materials lists them as they are offered.
func Materials() []Material {
	return []Material{Brass, Worked, Lacquered, Silvered, Gilt, Steel, Blued, Spring, Lead, Zinc, Ivory, Shellac, Leather, Painted, Wood, Radium, Unknown}
}

// Words is the material as shown.
func (m Material) Words() string {
	switch m {
	case Brass:
		return "brass, bare and sound"
	case Worked:
		return "brass, hammered, drawn, riveted, bushed or cracked"
	case Lacquered:
		return "lacquered"
	case Silvered:
		return "silvered"
	case Gilt:
		return "gilt"
	case Steel:
		return "steel or iron, bright"
	case Blued:
		return "steel, blued"
	case Spring:
		return "spring steel"
	case Lead:
		return "lead"
	case Zinc:
		return "zinc or aluminium"
	case Ivory:
		return "ivory or bone"
	case Shellac:
		return "set in shellac"
	case Leather:
		return "leather, felt or gut"
	case Painted:
		return "paint, enamel or paper"
	case Wood:
		return "wood"
	case Radium:
		return "luminous paint, radium not ruled out"
	case Unknown:
		return "not known"
	}
	return ""
}

// Known tells whether the material is one of [Materials].
func (m Material) Known() bool { return m.Words() != "" }

// Hazardous tells whether it can hurt a person, so that its caution goes
// wherever the part goes.
func (m Material) Hazardous() bool { return m == Radium || m == Lead || m == Gilt }

// metal is the group in which metals are alike in a water bath, "" for what
// is no metal or does not show one.
func (m Material) metal() string {
	switch m {
	case Brass, Worked, Silvered, Gilt:
		return "brass"
	case Steel, Blued, Spring:
		return "steel"
	case Lead:
		return "lead"
	case Zinc:
		return "zinc or aluminium"
	}
	return ""
}

// Liquid is a kind of liquid; a product is one of a kind.
type Liquid struct {
	Key        string   `json:"key"`
	Name       string   `json:"name"`
	Water      bool     `json:"water"`   // water-based: metals in it can work on each other, steel rusts
	Ammonia    bool     `json:"ammonia"` // gives off ammonia
	Substances []string `json:"-"`       // what it is taken to be where its contents are not named
	NeedsSheet bool     `json:"-"`       // its flash point is not known without the sheet
}

// The kinds of liquid.
const (
	BrassLiquid = "brass-liquid"
	SteelLiquid = "steel-liquid"
	WaterBath   = "water"
	Alcohol     = "alcohol"
	WhiteSpirit = "white-spirit"
)

// Liquids lists the kinds.
func Liquids() []Liquid {
	return []Liquid{
		{BrassLiquid, "brass liquid, ammoniated", true, true, []string{"ammonia"}, true},
		{SteelLiquid, "steel liquid, a rust remover", true, false, nil, true},
		{WaterBath, "water with a neutral soap", true, false, nil, false},
		{Alcohol, "alcohol", false, false, []string{"ethanol", "2-propanol"}, false},
		{WhiteSpirit, "white spirit", false, false, []string{"white spirit"}, false},
	}
}

// FindLiquid looks a kind up by its key.
func FindLiquid(key string) (Liquid, bool) {
	for _, l := range Liquids() {
		if l.Key == key {
			return l, true
		}
	}
	return Liquid{}, false
}
