package pendulum

import (
	"slices"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is what is known of a pendulum. Every field may be left out.
type Query struct {
	Length meas.Reading[unit.Length]   `json:"length"`         // to the centre of swing
	Beats  meas.Reading[unit.Ratio]    `json:"beats_per_hour"` // beats an hour
	Beat   meas.Reading[unit.Duration] `json:"beat"`           // seconds to a beat

	// The place.
	Gravity         meas.Reading[unit.Acceleration] `json:"gravity"` // measured; wins
	SecondsPendulum meas.Reading[unit.Length]       `json:"seconds_pendulum"`
	Latitude        meas.Reading[unit.Angle]        `json:"latitude"` // north positive
	Height          meas.Reading[unit.Length]       `json:"height"`   // above the sea
	Ellipsoid       string                          `json:"ellipsoid,omitempty"`
	ToGravity       meas.Reading[unit.Acceleration] `json:"to_gravity"`
	ToLatitude      meas.Reading[unit.Angle]        `json:"to_latitude"`
	ToHeight        meas.Reading[unit.Length]       `json:"to_height"`

	Arc   meas.Reading[unit.Angle] `json:"arc"`    // half arc, from the vertical
	ToArc meas.Reading[unit.Angle] `json:"to_arc"` // another half arc

	// The rod, from the bending point of the suspension down.
	Rod          string                    `json:"rod,omitempty"` // a name of Materials
	RodLength    meas.Reading[unit.Length] `json:"rod_length"`
	RodDiameter  meas.Reading[unit.Length] `json:"rod_diameter"`
	RodWidth     meas.Reading[unit.Length] `json:"rod_width"` // across, in the plane of the swing
	RodThickness meas.Reading[unit.Length] `json:"rod_thickness"`
	RodMass      meas.Reading[unit.Mass]   `json:"rod_mass"` // weighed; wins

	// The bob.
	Bob         string                     `json:"bob,omitempty"` // cylinder, lens, disc, sphere
	BobDiameter meas.Reading[unit.Length]  `json:"bob_diameter"`
	BobHeight   meas.Reading[unit.Length]  `json:"bob_height"` // of a cylinder; thickness of a lens or disc
	BobMaterial string                     `json:"bob_material,omitempty"`
	BobMass     meas.Reading[unit.Mass]    `json:"bob_mass"`    // weighed; wins
	BobDensity  meas.Reading[unit.Density] `json:"bob_density"` // wins over the material
	BobCentre   meas.Reading[unit.Length]  `json:"bob_centre"`  // from the suspension; found where not stated

	NutMass      meas.Reading[unit.Mass]   `json:"nut_mass"`
	NutAt        meas.Reading[unit.Length] `json:"nut_at"` // from the suspension; under the bob where not stated
	NutPitch     meas.Reading[unit.Pitch]  `json:"nut_pitch"`
	NutDivisions int                       `json:"nut_divisions,omitempty"`
	Regulate     meas.Reading[unit.Rate]   `json:"regulate"` // wanted change, gaining positive

	Warmer      meas.Reading[unit.TempDiff]    `json:"warmer"`
	Temperature meas.Reading[unit.Temperature] `json:"temperature"`
	Pressure    meas.Reading[unit.Pressure]    `json:"pressure"`
	Humidity    meas.Reading[unit.Ratio]       `json:"humidity"` // relative, 0 to 1

	TrayAt meas.Reading[unit.Length] `json:"tray_at"` // from the suspension
	Mass   meas.Reading[unit.Mass]   `json:"mass"`    // of the whole pendulum, for the tray
}

// The shapes of a bob.
const (
	Cylinder = "cylinder" // its axis upright
	Lens     = "lens"     // two equal caps, edge to the side
	Disc     = "disc"     // flat face to the front
	Sphere   = "sphere"
)

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	positive(&f, "length", "The length", q.Length)
	positive(&f, "beat", "The time of a beat", q.Beat)
	if q.Beat.Set && q.Beats.Set {
		f = append(f, meas.Fault{Field: "beat", Text: "Beats an hour and the time of a beat say the same thing; enter one of them"})
	}
	f = append(f, oneOf("ellipsoid", "The figure of the earth", q.Ellipsoid, wgs84.name, grs80.name)...)
	within(&f, "beats", "Beats an hour", q.Beats, 1, 200000, "1", "200 000")
	within(&f, "gravity", "Gravity", q.Gravity, 9.7, 9.9, "9.70", "9.90 m/s²")
	within(&f, "to-gravity", "Gravity at the other place", q.ToGravity, 9.7, 9.9, "9.70", "9.90 m/s²")
	within(&f, "seconds-pendulum", "The seconds pendulum", q.SecondsPendulum, 0.98, 1.005, "980 mm", "1005 mm")
	for _, l := range []struct {
		field string
		r     meas.Reading[unit.Angle]
	}{{"latitude", q.Latitude}, {"to-latitude", q.ToLatitude}} {
		within(&f, l.field, "Latitude", l.r, -90*degree, 90*degree, "90° S", "90° N")
	}
	within(&f, "height", "Height above the sea", q.Height, -500, 9000, "−500 m", "9000 m")
	within(&f, "to-height", "Height of the other place", q.ToHeight, -500, 9000, "−500 m", "9000 m")
	within(&f, "arc", "The half arc", q.Arc, 0, 90*degree, "0°", "90°")
	within(&f, "to-arc", "The other half arc", q.ToArc, 0, 90*degree, "0°", "90°")
	q.checkParts(&f)
	q.checkAir(&f)
	for _, x := range []struct {
		height, latitude, typed bool
		field                   string
	}{{q.Height.Set, q.Latitude.Set, q.Gravity.Set || q.SecondsPendulum.Set, "latitude"}, {q.ToHeight.Set, q.ToLatitude.Set, q.ToGravity.Set, "to-latitude"}} {
		if x.height && !x.latitude && !x.typed {
			f = append(f, meas.Fault{Field: x.field, Text: "Enter the latitude too; a height alone does not give gravity"})
		}
	}
	return f
}

func (q Query) checkParts(f *meas.Faults) {
	for _, l := range []struct {
		field, what string
		r           meas.Reading[unit.Length]
	}{
		{"rod-length", "The length of the rod", q.RodLength}, {"rod-diameter", "The diameter of the rod", q.RodDiameter},
		{"rod-width", "The width of the rod", q.RodWidth}, {"rod-thickness", "The thickness of the rod", q.RodThickness},
		{"bob-diameter", "The diameter of the bob", q.BobDiameter}, {"bob-height", "The height or thickness of the bob", q.BobHeight},
		{"bob-centre", "The centre of the bob", q.BobCentre}, {"nut-at", "The place of the nut", q.NutAt}, {"tray-at", "The place of the tray", q.TrayAt},
	} {
		positive(f, l.field, l.what, l.r)
	}
	positive(f, "nut-pitch", "The pitch of the nut", q.NutPitch)
	for _, m := range []struct {
		field, what string
		r           meas.Reading[unit.Mass]
	}{{"rod-mass", "The weight of the rod", q.RodMass}, {"bob-mass", "The weight of the bob", q.BobMass}, {"nut-mass", "The weight of the nut", q.NutMass}, {"mass", "The weight of the pendulum", q.Mass}} {
		positive(f, m.field, m.what, m.r)
	}
	*f = append(*f, oneOf("bob", "The shape of the bob", q.Bob, Lens, Cylinder, Disc, Sphere)...)
	within(f, "bob-density", "The density of the bob", q.BobDensity, 300, 23000, "300", "23 000 kg/m³")
	if m, ok := FindMaterial(q.Rod); ok && m.Expansion == 0 {
		*f = append(*f, meas.Fault{Field: "rod", Text: "Nothing is known of a rod of " + m.Name + "; choose another material"})
	}
	if q.Bob == Lens && q.BobDiameter.Set && q.BobHeight.Set && q.BobHeight.Value > q.BobDiameter.Value {
		*f = append(*f, meas.Fault{Field: "bob-height", Text: "A lens cannot be thicker than it is wide; enter its thickness through the middle"})
	}
	for _, m := range []struct{ field, name string }{{"rod", q.Rod}, {"bob-material", q.BobMaterial}} {
		if _, ok := FindMaterial(m.name); m.name != "" && !ok {
			*f = append(*f, meas.Fault{Field: m.field, Text: "The material “" + meas.Clip(m.name) + "” is not in the table; choose one of the list"})
		}
	}
	if q.NutDivisions < 0 || q.NutDivisions > 1000 {
		*f = append(*f, meas.Fault{Field: "nut-divisions", Text: "A nut has up to 1000 divisions"})
	}
}

func (q Query) checkAir(f *meas.Faults) {
	within(f, "pressure", "Pressure", q.Pressure, 60000, 110000, "600 hPa", "1100 hPa")
	within(f, "temperature", "Temperature", q.Temperature, 273.15-30, 273.15+60, "−30 °C", "60 °C")
	within(f, "humidity", "Humidity", q.Humidity, 0, 1, "0 %", "100 %")
	within(f, "warmer", "The change of temperature", q.Warmer, -100, 100, "−100 °C", "100 °C")
	within(f, "regulate", "The wanted change", q.Regulate, -0.05, 0.05, "−4320 s/d", "+4320 s/d")
}

// oneOf refuses a word that is not one of those known; "" is none.
func oneOf(field, what, got string, words ...string) meas.Faults {
	if got == "" || slices.Contains(words, got) {
		return nil
	}
	return meas.Faults{{Field: field, Text: what + " must be one of " + strings.Join(words, ", ") + "; “" + meas.Clip(got) + "” was entered"}}
}

// positive refuses a quantity that is not above nought.
func positive[Q unit.Quantity](f *meas.Faults, field, what string, r meas.Reading[Q]) {
	if r.Set && !(r.Value > 0) {
		*f = append(*f, meas.Fault{Field: field, Text: what + " must be more than nought; “" + r.String() + "” was entered"})
	}
}

// within refuses a quantity outside a range, named in words.
func within[Q unit.Quantity](f *meas.Faults, field, what string, r meas.Reading[Q], low, high float64, lowWords, highWords string) {
	if r.Set && !(float64(r.Value) >= low && float64(r.Value) <= high) {
		*f = append(*f, meas.Fault{Field: field, Text: what + " must be between " + lowWords + " and " + highWords + "; “" + r.String() + "” was entered"})
	}
}
