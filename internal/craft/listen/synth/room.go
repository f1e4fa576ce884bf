package synth

import "math"

// room is an echo: the points of a table at which the sound comes again.
type room struct {
	delay []int
	gain  []float32
}

const (
	firstEcho = 0.002  // s
	sparse    = 150.0  // echoes a second at first
	dense     = 2500.0 // and at most
)

// newRoom draws echoes that grow denser and fall by 60 dB in RT60; their
// energy against the direct sound's is as stated.
func newRoom(r Recipe) room {
	var e room
	if r.RT60 == 0 {
		return e
	}
	rng := chance(r.Shape, ofRoom)
	t, energy := firstEcho, 0.0
	for t < float64(r.RT60) {
		x := t / 0.05
		density := math.Min(dense, sparse*(1+x*x)) // the fewer, the stronger
		g := rng.NormFloat64() * math.Exp(-math.Log(1000)*t/float64(r.RT60)) / math.Sqrt(density)
		e.delay = append(e.delay, int(math.Round(t*r.SampleRate*over)))
		e.gain = append(e.gain, float32(g))
		energy += g * g
		t += rng.ExpFloat64() / density
	}
	scale := float32(math.Sqrt(power(-r.Direct) / energy))
	for i := range e.gain {
		e.gain[i] *= scale
	}
	return e
}

// in is the table with its echo, so many times as strong.
func (e room) in(t table, strength float32) table {
	longest := 0
	if n := len(e.delay); n > 0 {
		longest = e.delay[n-1]
	}
	wet := make([]float32, len(t.y)+longest)
	for i, y := range t.y {
		wet[i] = strength * y
	}
	for i, d := range e.delay {
		g := strength * e.gain[i]
		to := wet[d : d+len(t.y)]
		for j, y := range t.y {
			to[j] += g * y
		}
	}
	return table{y: wet, origin: t.origin}
}
