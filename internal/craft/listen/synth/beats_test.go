package synth

import (
	"math"
	"reflect"
	"testing"

	"seatboard/internal/kit/unit"
)

func TestBeatsFollowTheRecipe(t *testing.T) {
	r := Recipe{
		Length: 4000,
		Clock: Clock{
			Beat: 0.8, Start: 0.3, Rate: 12.5 / 86400, BeatError: 0.010, Teeth: 15,
			ToothErrors: []ToothError{{7, 1e-4}, {22, -2e-4}},
			Arbors:      []Arbor{{Amplitude: 3e-5, Beats: 97.3, Phase: 1}, {Amplitude: 1e-5, Beats: 450}},
		},
		Recorder: Recorder{ClockError: -30e-6},
	}
	beats := Beats(r)
	end := 4000 / (1 - 30e-6)
	if want := int((end-0.3)/0.8*(1+12.5/86400)) + 1; len(beats) != want {
		t.Fatalf("%d beats, want %d", len(beats), want)
	}
	for k, b := range beats {
		at := 0.3 + 0.8*float64(k)/(1+12.5/86400)
		if k%2 == 1 {
			at += 0.005
		}
		at += map[int]float64{7: 1e-4, 22: -2e-4}[k%30]
		at += 3e-5*math.Sin(2*math.Pi*float64(k)/97.3+1) + 1e-5*math.Sin(2*math.Pi*float64(k)/450)
		at *= 1 - 30e-6
		if math.Abs(float64(b.At)-at) > 2e-12 || b.N != int64(k) {
			t.Fatalf("beat %d at %.13f, want %.13f", k, float64(b.At), at)
		}
	}
}

func TestScatterIsAsStated(t *testing.T) {
	const n = 100000
	pm := Beats(Recipe{Seed: 5, Length: n, Clock: Clock{ScatterPM: 2e-3}})
	fm := Beats(Recipe{Seed: 5, Length: n, Clock: Clock{ScatterFM: 2e-4}})
	var sp, sf, corr float64
	for k := 1; k < len(pm); k++ {
		x := float64(pm[k].At) - 0.37 - float64(k)
		before := float64(pm[k-1].At) - 0.37 - float64(k-1)
		sp, corr = sp+x*x, corr+x*before
	}
	for k := 1; k < min(len(fm), n-10); k++ {
		d := float64(fm[k].At-fm[k-1].At) - 1
		sf += d * d
	}
	if sd := math.Sqrt(sp / n); math.Abs(sd/2e-3-1) > 0.01 {
		t.Errorf("the scatter of a beat is %v, want 2e-3", sd)
	}
	if math.Abs(corr/sp) > 0.015 {
		t.Errorf("beats lean on each other: %v", corr/sp)
	}
	if sd := math.Sqrt(sf / n); math.Abs(sd/2e-4-1) > 0.01 {
		t.Errorf("the scatter of an interval is %v, want 2e-4", sd)
	}
}

func TestToothSpreadRepeatsEveryTurn(t *testing.T) {
	beats := Beats(Recipe{Seed: 5, Length: 2000, Clock: Clock{Teeth: 400, ToothSpread: 1e-3}})
	sum := 0.0
	for k, b := range beats {
		x := float64(b.At) - 0.37 - float64(k)
		if k >= 800 && math.Abs(x-(float64(beats[k-800].At)-0.37-float64(k-800))) > 1e-12 {
			t.Fatalf("beat %d is not late as the one a turn before", k)
		}
		if k < 800 {
			sum += x * x
		}
	}
	if sd := math.Sqrt(sum / 800); math.Abs(sd/1e-3-1) > 0.1 {
		t.Errorf("the spread is %v, want 1e-3", sd)
	}
}

// What is silent, extra, loud or noisy must not move a beat.
func TestOneChanceLeavesTheOthers(t *testing.T) {
	r := T2(Plain, 11)
	r.Length = 30
	want := made(t, r).Truth().Beats
	r.Silent, r.Extra, r.AmplitudeSpread, r.ImpactSpread, r.SNR = 0.2, 0.2, 0.3, 1e-4, nil
	for i, b := range made(t, r).Truth().Beats {
		if b.At != want[i].At {
			t.Fatalf("beat %d moved", i)
		}
	}
}

func TestBeatsAreTheTruth(t *testing.T) {
	for _, s := range Scenarios() {
		r := T2(s, 12)
		r.Length, r.Silent, r.Stops = 60, 0.1, []Stop{{20, 5}}
		var want []unit.Duration
		for _, b := range newTruth(r.filled()).Beats {
			if !b.Silent {
				want = append(want, b.At)
			}
		}
		var got []unit.Duration
		for _, b := range Beats(r) {
			got = append(got, b.At)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%v: Beats and Truth do not agree", s)
		}
	}
}
