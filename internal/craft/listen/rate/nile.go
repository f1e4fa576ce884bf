package rate

import (
	"math"

	"seatboard/internal/kit/cite"
)

// flow is the yearly flow of the Nile at Aswan, 1871 to 1970, 10⁸ m³: the
// worked example of the filter, a level that walks and is seen in noise.
// (G. W. Cobb, Biometrika 65, 1978.)
var flow = [100]float64{
	1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140,
	1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969,
	831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759,
	781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
	744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
}

// nile runs this chapter's filter over the example.
func nile() []cite.Check {
	page := cite.Ref{Source: "durbin", Place: "p. 37"}
	s := stretch{y: flow[:]}
	for i := range flow {
		s.n, s.side, s.v, s.odd = append(s.n, float64(i)), append(s.side, 0), append(s.v, 1), append(s.odd, false)
	}
	table := cite.Ref{Source: "durbin", Place: "Table 2.1", Grade: cite.Memory}
	likelihood := func(ratio float64) float64 { // at the likeliest scatter, constants left out
		x := s.pass(ratio)
		return -(99*math.Log(x.yy/99) + x.logF) / 2
	}
	best := 0.0973
	scatter := s.pass(best).yy / 99
	return []cite.Check{
		{What: "Nile: likelihood at ratio 1", Ref: table, Printed: "-495.68", Got: likelihood(1), Tol: 0.02}, // the parameters there are printed rounded
		{What: "Nile: likelihood at ratio 0.0360", Ref: table, Printed: "-492.53", Got: likelihood(0.0360), Tol: 0.01},
		{What: "Nile: likelihood at ratio 0.0745", Ref: table, Printed: "-492.10", Got: likelihood(0.0745), Tol: 0.01},
		{What: "Nile: likelihood at ratio 0.0973", Ref: table, Printed: "-492.07", Got: likelihood(best), Tol: 0.01},
		{What: "Nile: variance of the scatter", Ref: page, Printed: "15099", Got: scatter, Tol: 2},
		{What: "Nile: variance of the walk", Ref: page, Printed: "1469.1", Got: scatter * best, Tol: 0.6},
	}
}
