package present

import (
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// trainSizes is the pitch diameters and heights of a train in mm, as they are
// drawn.
type trainSizes struct {
	wheel    []float64 // pitch diameters; of an escape wheel over the tips
	pinion   []float64
	height   []float64 // of the arbors above the first
	fly      float64   // radius of a fly
	measured bool      // every mesh has a measured size
	some     bool      // some mesh has
}

// What is supposed where nothing was measured: the module of the first mesh
// in mm, how much finer each next one is, and the counts of lost parts.
const (
	supposedModule = 1.0
	supposedFiner  = 0.87
	supposedWheel  = 60
	supposedPinion = 8
)

// sizeTrain finds a module for every mesh: from the depth, the wheel or the
// pinion where one was measured, else from the nearest mesh that was.
func sizeTrain(t train.Turned) trainSizes {
	n := len(t.Arbors)
	s := trainSizes{wheel: make([]float64, n), pinion: make([]float64, n), height: make([]float64, n), measured: len(t.Meshes) > 0}
	modules := make([]float64, len(t.Meshes))
	for i, m := range t.Meshes {
		for _, b := range []*train.Bracket{m.ModuleDepth, m.ModuleWheel, m.ModulePinion} {
			if b != nil {
				modules[i] = (b.Low + b.High) / 2
				s.some = true
				break
			}
		}
		s.measured = s.measured && modules[i] > 0
	}
	suppose(modules)
	for i := range t.Meshes {
		s.wheel[i] = modules[i] * drawnTeeth(t.Arbors[i].Wheel, supposedWheel)
		s.pinion[i+1] = modules[i] * drawnTeeth(t.Arbors[i+1].Pinion, supposedPinion)
		s.height[i+1] = s.height[i] + (s.wheel[i]+s.pinion[i+1])/2
	}
	s.last(t)
	return s
}

// suppose fills the modules that were not measured.
func suppose(modules []float64) {
	from := -1
	for i, m := range modules {
		if m > 0 {
			from = i
			break
		}
	}
	if from < 0 {
		if len(modules) == 0 {
			return
		}
		from, modules[0] = 0, supposedModule
	}
	for i := from - 1; i >= 0; i-- {
		modules[i] = modules[i+1] / supposedFiner
	}
	for i := from + 1; i < len(modules); i++ {
		if modules[i] <= 0 {
			modules[i] = modules[i-1] * supposedFiner
		}
	}
}

// last sizes what does not mesh: an escape wheel or a fly.
func (s *trainSizes) last(t train.Turned) {
	n := len(t.Arbors) - 1
	if n < 0 {
		return
	}
	before := 40.0
	if n > 0 {
		before = s.wheel[n-1]
	}
	s.fly = 0.3 * before
	if t.Arbors[n].Wheel.Status == train.None {
		return
	}
	if d := t.Arbors[n].WheelDiameter; d.Set {
		s.wheel[n] = d.Value.MM()
		return
	}
	s.wheel[n] = 0.85 * before
	if n > 0 { // clear of the arbor before
		s.wheel[n] = math.Min(s.wheel[n], 1.7*(s.height[n]-s.height[n-1]))
	}
	s.measured = false
}

// extent is the lowest and highest point of the train, from the first arbor.
func (s trainSizes) extent() (low, high float64) {
	for i, h := range s.height {
		r := math.Max(s.wheel[i], s.pinion[i]) / 2
		low, high = math.Min(low, h-r), math.Max(high, h+r)
	}
	if n := len(s.height) - 1; n >= 0 && s.wheel[n] == 0 {
		high = math.Max(high, s.height[n]+s.fly)
	}
	if high-low < 1e-6 {
		high = low + 1
	}
	return low, high
}

func drawnTeeth(c train.Count, supposed int) float64 {
	if c.Known() {
		return float64(c.Teeth)
	}
	return float64(supposed)
}

// platesCaption says how far the drawing is to scale.
func platesCaption(t train.Turned) string {
	s := sizeTrain(t)
	lost, thought := false, false
	for _, a := range t.Arbors {
		lost = lost || a.Wheel.Status == train.Missing || a.Pinion.Status == train.Missing
		thought = thought || a.Wheel.Status == train.Inferred || a.Pinion.Status == train.Inferred
	}
	text := "Not to scale: the sizes are supposed; only the counts are this clock's."
	switch {
	case s.measured:
		text = "Drawn to the sizes measured, all arbors set one above the other; distances along the arbors are supposed."
	case s.some:
		text = "Drawn to the sizes measured where there are any, supposed elsewhere; all arbors set one above the other."
	}
	if lost {
		text += " What is lost is dashed, in a usual size."
	}
	if thought {
		text += " What is inferred is in a fine line."
	}
	return text
}

// lengthWords is a measured length as entered with the millimetres beside it.
func lengthWords(r meas.Reading[unit.Length]) string {
	if !r.Set {
		return ""
	}
	return unit.Number(r.Value.MM(), 2)
}
