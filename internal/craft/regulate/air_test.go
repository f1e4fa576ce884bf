package regulate

import (
	"math"
	"testing"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TestAirOfNowIsDoubted: the rate in the air of now is the less sure the
// longer ago the thermometer was read, where the rate hangs on it.
func TestAirOfNowIsDoubted(t *testing.T) {
	zero := time.Date(2025, 3, 3, 0, 0, 0, 0, time.UTC)
	trial := func(ago time.Duration, perKelvin float64) Answer {
		q := Query{Known: Known{PerKelvin: meas.Result[unit.Rate]{Value: unit.RatePerDay(perKelvin), U: 1e-9, HasU: true, Set: true}}}
		for h := 0; h <= 240; h += 6 {
			at := zero.Add(time.Duration(h) * time.Hour)
			turn := 2 * math.Pi * float64(h-15) / 24
			wave, sum := math.Cos(turn), math.Sin(turn)/(2*math.Pi) // of a day
			q.Readings = append(q.Readings, Reading{ID: h + 1, At: at, How: ByTap, Error: unit.Duration(float64(h)/24 + 2*perKelvin*sum), U: 0.05})
			q.Air = append(q.Air, Air{At: at.Add(-ago), Temperature: meas.Result[unit.Temperature]{Value: unit.Temperature(291 + 2*wave), Set: true}})
		}
		q.Now = zero.Add(240 * time.Hour)
		return solved(t, q)
	}
	soon, late := trial(0, -0.5).Rate.Now.Half().PerDay(), trial(6*time.Hour, -0.5).Rate.Now.Half().PerDay()
	if late < 1.5*soon || late < 1 { // a wave of 2 K differs by 2 K rms in six hours
		t.Errorf("read now ±%.2f s/d, six hours ago ±%.2f", soon, late)
	}
	if invar := trial(6*time.Hour, 0).Rate.Now.Half().PerDay(); invar > soon {
		t.Errorf("a rod that does not mind: ±%.2f s/d", invar)
	}
}

// TestSetBeforeTheFirstReading: hands that were set by a known time count
// like a reading, also where only rates were read afterwards.
func TestSetBeforeTheFirstReading(t *testing.T) {
	zero := time.Date(2025, 3, 3, 0, 0, 0, 0, time.UTC)
	q := Query{Touches: []Touch{{ID: 1, At: zero, Kind: HandsSet, HasError: true, Error: 5, U: 0.5}}}
	for d := 1; d <= 10; d++ {
		at := zero.AddDate(0, 0, d)
		q.Readings = append(q.Readings, Reading{ID: d, From: at.Add(-time.Hour), At: at, How: ByEar, Rate: unit.RatePerDay(3), U: float64(unit.RatePerDay(0.1)), Clock: unit.RatePerDay(0.2)})
	}
	a := solved(t, q)
	if e := a.Now.Error; !e.Has(35) || e.Half() > 60 {
		t.Errorf("5 s and ten days at 3 s/d: %v", e)
	}
}

// TestNightsAreDoubted: whoever listens by day alone does not know how the
// clock goes by night, unless the thermometer was read then too.
func TestNightsAreDoubted(t *testing.T) {
	zero := time.Date(2025, 3, 3, 12, 0, 0, 0, time.UTC)
	trial := func(every time.Duration) float64 {
		q := Query{
			Touches: []Touch{{ID: 1, At: zero, Kind: HandsSet, HasError: true, U: 0.5}},
			Known:   Known{PerKelvin: meas.Result[unit.Rate]{Value: unit.RatePerDay(-0.5), U: 1e-9, HasU: true, Set: true}},
		}
		for d := 1; d <= 20; d++ {
			at := zero.AddDate(0, 0, d)
			q.Readings = append(q.Readings, Reading{ID: d, From: at.Add(-time.Hour), At: at, How: ByEar, Rate: unit.RatePerDay(1), U: float64(unit.RatePerDay(0.05)), Clock: unit.RatePerDay(0.02)})
			q.Now = at
		}
		for at := zero; !at.After(q.Now); at = at.Add(every) {
			warm := 0.01 * float64(at.YearDay()%2)
			q.Air = append(q.Air, Air{At: at, Temperature: meas.Result[unit.Temperature]{Value: unit.Temperature(291 + warm), Set: true}})
		}
		return float64(solved(t, q).Now.Error.Half())
	}
	if day, hour := trial(24*time.Hour), trial(time.Hour); day < 2*hour {
		t.Errorf("the error after twenty days: ±%.1f s with one temperature a day, ±%.1f s with one an hour", day, hour)
	}
}
