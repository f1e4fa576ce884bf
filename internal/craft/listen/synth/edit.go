package synth

import "math"

// piece is a stretch of the recording that is one piece of time: sample i of
// the recording is sample i−shift of the sound.
type piece struct {
	from, to int64 // in the recording
	shift    int64
}

// piecesOf lays out a filled recipe's recording, loop apart.
func piecesOf(r Recipe) []piece {
	end := r.frames()
	if r.Loop > 0 {
		end = min(end, int64(math.Round(float64(r.Loop)*r.SampleRate)))
	}
	list := []piece{{from: 0, to: end}}
	for _, s := range r.Slips {
		last := &list[len(list)-1]
		at := int64(math.Round(float64(s.At) * r.SampleRate))
		if at >= end {
			break
		}
		last.to = at
		list = append(list, piece{from: at, to: end, shift: last.shift + s.Samples})
	}
	return list
}

// sourceEnd is the sample of the sound after the last that is wanted.
func sourceEnd(r Recipe) float64 {
	end := int64(0)
	for _, p := range piecesOf(r) {
		end = max(end, p.to-p.shift)
	}
	return float64(end)
}

// places is where in the recording a place of the sound is heard.
func places(pieces []piece, src float64) []float64 {
	var at []float64
	for _, p := range pieces {
		if src >= float64(p.from-p.shift) && src < float64(p.to-p.shift) {
			at = append(at, src+float64(p.shift))
		}
	}
	return at
}

// wouldBe is the place at which something lost would have been heard: where
// its samples are missing. False when it is not within the recording.
func wouldBe(pieces []piece, src float64) (float64, bool) {
	for i := 1; i < len(pieces); i++ {
		p, q := pieces[i-1], pieces[i]
		if src >= float64(p.to-p.shift) && src < float64(q.from-q.shift) {
			return float64(q.from), true
		}
	}
	return 0, false
}

// remembered is how many samples of the sound must be kept to be heard again.
func remembered(r Recipe) int64 {
	n := int64(0)
	for _, s := range r.Slips {
		n += max(0, s.Samples)
	}
	return n
}
