package stops

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
)

// rackStriker is an eight-day clock that strikes by a rack.
func rackStriker() *train.Query {
	q := countStriker(8, "")
	q.Trains[1].Counts = train.ByRack
	return q
}

// struckAt are stops so many minutes past twelve, as the strike had warned.
func struckAt(minutes ...float64) []Stop {
	var dials []float64
	for _, m := range minutes {
		dials = append(dials, 60*m)
	}
	out := at(dials...)
	for i := range out {
		out[i].Strike, out[i].Set.How = Warned, Left
	}
	return out
}

func ofKind(a Answer, k Kind) *Suspect {
	for i, x := range a.Suspects {
		if x.Kind == k {
			return &a.Suspects[i]
		}
	}
	return nil
}

// TestFullestHour: the chances are those of counting every way.
func TestFullestHour(t *testing.T) {
	for _, n := range []int{1, 2, 3, 4, 5} {
		all := math.Pow(hours, float64(n))
		full, sums := make([]float64, n+1), make([]float64, hours*n+1)
		hour := make([]int, n)
		for way := range int(all) {
			sum := 0
			for i := range hour {
				hour[i] = way%hours + 1
				way /= hours
				sum += hour[i]
			}
			_, held := most(hour)
			for k := range held + 1 {
				full[k] += 1 / all
			}
			for s := range sum + 1 {
				sums[s] += 1 / all
			}
		}
		for k, want := range full {
			check.Near(t, "fullest", fullest(n, k), want, 1e-9)
		}
		for s, got := range blowsAbove(n) {
			check.Near(t, "blows", got, sums[s], 1e-9)
		}
	}
	if p := fullest(MaxStops, MaxStops); !(p > 0 && p < 1e-9) && p != 0 {
		t.Errorf("all of %d: %v", MaxStops, p)
	}
}

// TestHourAt: from ten minutes before an hour on it is the hour that is struck.
func TestHourAt(t *testing.T) {
	for minute, want := range map[float64]int{0: 12, 30: 12, 50: 1, 59: 1, 60: 1, 109: 1, 110: 2, 709: 11, 710: 12, 719: 12, 720 + 55: 1} {
		if got := hourAt(60 * minute); got != want {
			t.Errorf("%v min: %d, want %d", minute, got, want)
		}
	}
}

// TestRackCauses plants what a rack does, one cause after the other.
func TestRackCauses(t *testing.T) {
	for _, c := range []struct {
		name  string
		stops []Stop
		kind  Kind
		words string
		next  string
	}{
		{"one hour", struckAt(535, 539, 536, 538, 537, 175), RackHour, "five of six stops that came at the strike were at nine o’clock", "Turn the hands to nine o’clock"},
		{"many blows", struckAt(716, 658, 597, 717, 659, 656, 718), RackFall, "all seven stops that came at the strike were at seven o’clock or later, with 11 blows", "gathering pallet and hook"},
		{"left on the snail", at(20*60, 31*60, 44*60, 35*60, 27*60), RackStep, "all five stops came after twelve and before one", "is wound"},
		{"the warning", struckAt(56, 238, 417, 599, 120), Warning, "all five stops came from the warning to the strike", "whether the lifting piece binds"},
	} {
		a := must(t, Query{Stops: c.stops, Train: rackStriker()})
		x := ofKind(a, c.kind)
		if x == nil || !x.Found || x.Words != c.words && !strings.HasPrefix(x.Words, c.words) || !strings.Contains(x.Next, c.next) {
			t.Errorf("%s: %+v", c.name, x)
		}
		if a.Query.Strikes != StrikesHours || ofKind(a, Blow) == nil {
			t.Errorf("%s: it strikes %q", c.name, a.Query.Strikes)
		}
	}
}

// TestRackIsSaid: what counts the blows is taken from the question, or from the
// train; without a rack none is judged.
func TestRackIsSaid(t *testing.T) {
	stops := struckAt(56, 238, 417, 599, 120)
	for name, q := range map[string]Query{
		"not said":      {Stops: stops, Strikes: StrikesHours},
		"a count wheel": {Stops: stops, Train: countStriker(8, "78/8")},
		"said here":     {Stops: stops, Counts: train.ByCountWheel, Train: rackStriker()},
	} {
		if x := ofKind(must(t, q), Warning); x != nil {
			t.Errorf("%s: %+v", name, x)
		}
	}
	if a := must(t, Query{Stops: stops, Counts: train.ByRack}); ofKind(a, Warning) == nil || ofKind(a, RackHour) == nil || a.Query.Strikes != StrikesHours {
		t.Errorf("without a train: %+v", a.Suspects)
	}
	a := must(t, Query{Stops: stops, Train: rackStriker()})
	if len(a.Untold) == 0 || !strings.Contains(a.Untold[len(a.Untold)-1].Why, "With a rack it strikes what the hands show") {
		t.Errorf("its wheels: %+v", a.Untold)
	}
	for field, q := range map[string]Query{
		"counts":        {Stops: stops, Counts: train.ByRack, Strikes: StrikesNothing},
		"strike-report": {Stops: stops, Train: countStriker(8, "78/8")},
	} {
		if field == "strike-report" {
			q.Train.Trains[1].Counts = train.ByRack
		}
		_, err := Solve(q)
		var faults meas.Faults
		if !errors.As(err, &faults) || faults[0].Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	halves := struckAt(56, 238, 417)
	halves = append(halves, struckAt(27, 268)...)
	for i := range halves {
		halves[i].ID = i + 1
	}
	if x := ofKind(must(t, Query{Stops: halves, Counts: train.ByRack, Strikes: StrikesHalves}), RackHour); x == nil || x.Stops != 3 {
		t.Errorf("at the half it does not fall: %+v", x)
	}
}

// rackDials draws n stops, k of them by a cause.
func rackDials(r *rand.Rand, n, k int, cause Kind) []Stop {
	dials := make([]float64, n)
	hour := r.IntN(hours)
	for i := range dials {
		dials[i] = r.Float64() * 43200
		if i >= k {
			continue
		}
		before := 43200 + warns*(r.Float64()-1)
		switch cause {
		case Warning:
			dials[i] = float64(r.IntN(hours))*3600 + before
		case RackHour:
			dials[i] = float64(hour)*3600 + before
		case RackFall:
			dials[i] = float64(8+r.IntN(5))*3600 + before
		case RackStep:
			dials[i] = strikes + r.Float64()*(3600-strikes)
		}
		dials[i] = math.Mod(dials[i], 43200)
	}
	out := at(dials...)
	for i := range out {
		out[i].Set.How, out[i].Strike = Left, NotKnown
	}
	return out
}

// TestRackFalseAlarms: stops at any time accuse something in at most one of
// twenty clocks with a rack, and stops at the strike of any hour its hours in
// no more.
func TestRackFalseAlarms(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	trials, draws := studied(8), 499
	if trials > 8 {
		draws = 1999 // the sets drawn are the same for all clocks, and their own chance is in the share
	}
	for _, n := range []int{3, 4, 6, 8} {
		for _, cause := range []Kind{"", Warning} {
			alarms := 0
			for range trials {
				a, err := solve(Query{Stops: rackDials(r, n, n, cause), Train: rackStriker()}, draws)
				if err != nil {
					t.Fatal(err)
				}
				for _, x := range a.Suspects {
					if x.Found && (cause == "" || x.Kind == RackHour || x.Kind == RackFall || x.Kind == RackStep) {
						alarms++
						break
					}
				}
			}
			t.Logf("%d stops, at the strike %v: %d of %d", n, cause != "", alarms, trials)
			if limit := 0.05*float64(trials) + 4*math.Sqrt(0.05*0.95*float64(trials)); float64(alarms) > limit {
				t.Errorf("%d stops: %d of %d", n, alarms, trials)
			}
		}
	}
}

// TestPowerOfRack: so many of n stops by the rack. It is part of the study
// alone.
func TestPowerOfRack(t *testing.T) {
	trials := studied(0)
	if trials == 0 {
		t.Skip("part of the study: SEATBOARD_STUDY=1")
	}
	r := rand.New(rand.NewPCG(15, 16))
	for _, cause := range []Kind{Warning, RackHour, RackFall, RackStep} {
		for _, c := range []struct{ k, n int }{{4, 4}, {5, 6}, {6, 8}, {8, 10}} {
			found, named := 0, 0
			for range trials {
				a, err := solve(Query{Stops: rackDials(r, c.n, c.k, cause), Train: rackStriker()}, 999)
				if err != nil {
					t.Fatal(err)
				}
				if a.Suspects[0].Found {
					found++
				}
				if x := ofKind(a, cause); x.found() {
					named++
				}
			}
			t.Logf("%s, %d of %d stops: something found in %d of %d, by that name %d", cause, c.k, c.n, found, trials, named)
			if p := 0.97; float64(found) < p*float64(trials)-4*math.Sqrt(p*(1-p)*float64(trials)) {
				t.Errorf("%s, %d of %d: %d of %d", cause, c.k, c.n, found, trials)
			}
		}
	}
}

func (x *Suspect) found() bool { return x != nil && x.Found }
