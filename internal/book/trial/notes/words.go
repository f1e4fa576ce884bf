package notes

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var (
	airOf  = regexp.MustCompile(`(?i)(?:^|[ ,;])((?:arc |half arc )?[+\-−]?\d+(?:[.,]\d+)?(?: ?(?:±|\+/-|\+-) ?\d+(?:[.,]\d+)?)? ?(°c|ºc|c|°f|ºf|f|hpa|mbar|kpa|mmhg|inhg|%|°))(?:$|[ ,;])`)
	byWhat = regexp.MustCompile(`(?i)(?:^|[ ,;])by (hand|eye|tap|taps|tapping|ear|listening|strike|the strike)$`)
)

// readHow takes "by tap" off the end.
func readHow(s string) (regulate.How, string) {
	if !strings.Contains(strings.ToLower(s), "by ") {
		return regulate.ByHand, s
	}
	m := byWhat.FindStringSubmatchIndex(s)
	if m == nil {
		return regulate.ByHand, s
	}
	how := regulate.ByHand
	switch word := strings.TrimPrefix(strings.ToLower(s[m[2]:m[3]]), "the "); word {
	case "tap", "taps", "tapping":
		how = regulate.ByTap
	case "ear", "listening":
		how = regulate.ByEar
	case "strike":
		how = regulate.ByStrike
	}
	return how, strings.TrimSpace(s[:m[0]])
}

// readAir takes temperature, pressure, humidity and arc out of a line.
func readAir(s string) (air regulate.Air, rest, why string) {
	for range 8 {
		m := airOf.FindStringSubmatchIndex(s)
		if m == nil {
			break
		}
		item, symbol := s[m[2]:m[3]], strings.ToLower(s[m[4]:m[5]])
		switch {
		case symbol == "°":
			item = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(strings.ToLower(item), "half "), "arc"))
			why = into(&air.Arc, item, 0, 90*math.Pi/180, "a half arc of 0° to 90°")
		case symbol == "%":
			why = into(&air.Humidity, item, 0, 1, "a humidity of 0 % to 100 %")
		case strings.HasSuffix(symbol, "c") || strings.HasSuffix(symbol, "f"):
			why = into(&air.Temperature, item, 233, 343, "a room’s temperature, −40 °C to 70 °C")
		default:
			why = into(&air.Pressure, item, 50000, 115000, "a pressure of the air, 500 hPa to 1150 hPa")
		}
		if why != "" {
			return air, s, why
		}
		s = strings.TrimSpace(s[:m[2]] + " " + s[m[3]:])
	}
	return air, s, ""
}

func hasAir(a regulate.Air) bool {
	return a.Temperature.Set || a.Pressure.Set || a.Humidity.Set || a.Arc.Set
}

// into reads one of them, once.
func into[Q unit.Quantity](to *meas.Result[Q], s string, low, high float64, what string) string {
	if to.Set {
		return fmt.Sprintf("“%s” is said a second time in one line", meas.Clip(s))
	}
	x, err := meas.Parse[Q](s, "")
	if err != nil {
		return err.Error()
	}
	if v := float64(x.Value); v < low || v > high {
		return fmt.Sprintf("“%s” is not %s", meas.Clip(s), what)
	}
	*to = meas.Result[Q]{Value: x.Value, U: x.U, HasU: x.HasU, Set: true}
	return ""
}
