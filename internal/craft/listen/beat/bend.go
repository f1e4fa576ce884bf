package beat

// bends measures how sharply the fit is bent at the beats of a side since its
// filter was made, over what the filter says. That is too much where the shape
// it was made of is mostly noise; these beats had no part in it.
type bends struct{ sum, count float64 }

// bendsSupposed is of how many beats what the filter says has the weight.
const bendsSupposed = 4

// take takes in a beat, and corrects its doubt by those so far.
func (b *bends) take(s *sound, m *matched) {
	if s.bend <= 0 || s.mended {
		return
	}
	b.sum += s.bend
	b.count++
	bend := s.amp * m.info
	s.u *= m.doubt(bend*(bendsSupposed+b.sum)/(bendsSupposed+b.count)) / m.doubt(bend)
}
