package beat

import "math"

// briefEvidence is the evidence that a short recording must have. Sounds that
// come when they will can be laid under a line in some hundred thousand ways:
// 700 periods that can be told apart in 5 s, 40 places of one side and 8 of
// the other. The best of these ways has that much by chance.
const briefEvidence = 6

const (
	usualShare = 0.4  // of the usual strength, that a sound must have to count as one of the beats
	heardShare = 0.95 // of a clock's beats are heard
	fewest     = 0.5  // sounds that are supposed between the beats where none is heard
)

// between are the places, as shares of a beat after it, where a clock is
// quiet and what sounds by chance is not.
var between = [...]float64{0.3, 0.5, 0.7}

// evidence is how many times likelier, as a power of ten, what was found is of
// a clock than of sounds that come when they will. Of these there are as many
// where a beat is expected as between; and those found lie anywhere within the
// reach, not near the line. Three of the places went into the line.
func (b *brief) evidence() float64 {
	usual := [2]float64{b.usual(0), b.usual(1)}
	strong, squares := 0.0, 0.0
	for _, f := range b.found {
		if f.s.amp >= usualShare*usual[f.n&1] {
			strong++
		}
		e := f.s.at - b.onLine(f)
		squares += e * e
	}
	chance := b.chance(usual)
	free := float64(len(b.found) - 3)
	spread := math.Sqrt(squares / max(1, free))
	anywhere := float64(b.reach()) / math.Sqrt(3)
	return strong*math.Log10(heardShare/chance) + (float64(b.expects)-strong)*math.Log10((1-heardShare)/(1-chance)) +
		free*math.Log10(anywhere/max(spread, 1))
}

// usual is the usual strength of a side's beats.
func (b *brief) usual(side int64) float64 {
	var all []float64
	for _, f := range b.found {
		if f.n&1 == side {
			all = append(all, f.s.amp)
		}
	}
	if len(all) == 0 {
		return 0
	}
	return nth(all, len(all)/2)
}

// chance is the share of places between the beats that have a sound as strong
// as a beat.
func (b *brief) chance(usual [2]float64) float64 {
	hits, places := 0, 0
	for n := int64(0); ; n++ {
		at := b.onLine(briefBeat{n: n})
		if at+b.l.beat > float64(b.l.to) {
			break
		}
		if at < float64(b.l.from) {
			continue
		}
		for _, part := range between {
			places++
			for _, s := range b.of(n).findAll(b.h.tools, b.h.tape, at+part*b.l.beat, b.reach(), &b.h.buf) {
				if s.z >= zLeast && s.amp >= usualShare*usual[n&1] {
					hits++
					break
				}
			}
		}
	}
	return (float64(hits) + fewest) / (float64(places) + 2*fewest)
}
