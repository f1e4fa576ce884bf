package synth

import (
	"io"
	"math"
	"math/rand/v2"

	"seatboard/internal/craft/listen/beat"
)

var _ beat.Source16 = (*Recording)(nil)

const blockLen = 4096

// Recording is the sound of a recipe, read once from its beginning.
type Recording struct {
	recipe  Recipe
	voices  [2]voice
	peak    float64
	frames  int64
	at      int64 // next sample of the recording
	pieces  []piece
	sound   *sound
	history []float32 // of the sound, a ring; nil where nothing is heard again
	loop    []float32 // what is repeated
	wide    []float32 // for ReadInt16
}

// New makes the sounds of a recipe; the error is [meas.Faults]. It takes some
// tens of milliseconds, with a long echo and an impact spread up to a second.
func New(r Recipe) (*Recording, error) {
	if f := r.Check(); len(f) > 0 {
		return nil, f
	}
	rec := &Recording{recipe: r.filled()}
	rec.voices = voices(rec.recipe)
	rec.peak = rec.recipe.Peak
	if rec.peak == 0 {
		rec.peak = rec.roomyPeak()
		rec.recipe.Peak = rec.peak
	}
	rec.frames = rec.recipe.frames()
	rec.pieces = piecesOf(rec.recipe)
	rec.sound = newSound(rec)
	if n := remembered(rec.recipe); n > 0 {
		rec.history = make([]float32, n+blockLen)
	}
	if l := rec.recipe.Loop; l > 0 && float64(l) < float64(rec.recipe.Length) {
		rec.loop = make([]float32, 0, rec.pieces[len(rec.pieces)-1].to)
	}
	return rec, nil
}

// roomyPeak is half of full scale, or less where the rest needs the room.
func (rec *Recording) roomyPeak() float64 {
	r, sum, most := rec.recipe, 0.0, 1.0
	for _, level := range []struct {
		db    *float64
		crest float64
	}{{r.SNR, 5}, {r.Pink, 5}, {r.Hum, 3}, {r.Speech, 11}} {
		if level.db == nil {
			continue
		}
		x := power(*level.db)
		if level.db == r.SNR {
			x = 1 / x
		}
		sum += x * rec.voices[0].power * level.crest * level.crest
	}
	if r.ClickRate > 0 {
		most = math.Max(most, amplitude(r.ClickLevel))
	}
	for _, s := range r.Strikes {
		most = math.Max(most, 1.4*amplitude(s.Level))
	}
	return 0.5 / math.Max(1, (most+math.Sqrt(sum))/1.8)
}

// Truth is what is in the recording. It holds every beat: an hour of seconds
// is 200 kB.
func (rec *Recording) Truth() Truth { return newTruth(rec.recipe) }

// Rate is the sampling rate the recorder states, in Hz.
func (rec *Recording) Rate() float64 { return rec.recipe.SampleRate }

// Frames is the number of samples in the whole recording.
func (rec *Recording) Frames() int64 { return rec.frames }

// ReadFloat gives the next samples, full scale 1. They are not clipped at full
// scale: that is the converter's doing, in ReadInt16.
func (rec *Recording) ReadFloat(dst []float32) (int, error) {
	got := 0
	for got < len(dst) && rec.at < rec.frames {
		n := rec.read(dst[got:min(len(dst), got+int(min(rec.frames-rec.at, blockLen)))])
		rec.at += int64(n)
		got += n
	}
	if got == 0 && len(dst) > 0 || rec.at >= rec.frames {
		return got, io.EOF
	}
	return got, nil
}

// ReadInt16 gives the next samples rounded to 16 bits, full scale 32768, and
// clipped.
func (rec *Recording) ReadInt16(dst []int16) (int, error) {
	if rec.wide == nil {
		rec.wide = make([]float32, blockLen)
	}
	got := 0
	for got < len(dst) {
		n, err := rec.ReadFloat(rec.wide[:min(blockLen, len(dst)-got)])
		for i, v := range rec.wide[:n] {
			dst[got+i] = toInt16(v)
		}
		got += n
		if err != nil {
			return got, err
		}
	}
	return got, nil
}

// toInt16 rounds halves up; what is cut off below zero by the conversion is
// kept above it first.
func toInt16(v float32) int16 {
	x := max(0, min(65535, float64(v)*32768+32768.5))
	return int16(int32(x) - 32768)
}

// read fills from the sound, the history or the loop, at most to the end of a
// piece.
func (rec *Recording) read(dst []float32) int {
	last := rec.pieces[len(rec.pieces)-1].to
	if rec.at >= last {
		n := copy(dst, rec.loop[rec.at%last:])
		rec.mute(dst[:n])
		return n
	}
	p := rec.pieces[0]
	for p.to <= rec.at {
		rec.pieces = rec.pieces[1:]
		p = rec.pieces[0]
	}
	dst = dst[:min(int64(len(dst)), p.to-rec.at)]
	n := rec.take(dst, rec.at-p.shift)
	rec.mute(dst[:n])
	if rec.loop != nil {
		rec.loop = append(rec.loop, dst[:n]...)
	}
	return n
}

// take gives sound from a sample on that is the next, or was heard, or lies
// ahead.
func (rec *Recording) take(dst []float32, from int64) int {
	for rec.sound.at < from {
		var skipped [blockLen]float32
		rec.fresh(skipped[:min(blockLen, from-rec.sound.at)])
	}
	if from == rec.sound.at {
		rec.fresh(dst)
		return len(dst)
	}
	n := min(len(dst), int(rec.sound.at-from))
	for i := range dst[:n] {
		dst[i] = rec.history[(from+int64(i))%int64(len(rec.history))]
	}
	return n
}

func (rec *Recording) fresh(dst []float32) {
	at := rec.sound.at
	rec.sound.read(dst)
	if rec.history == nil {
		return
	}
	for i, v := range dst {
		rec.history[(at+int64(i))%int64(len(rec.history))] = v
	}
}

// mute makes the stretches of zeros.
func (rec *Recording) mute(x []float32) {
	for _, z := range rec.recipe.Zeros {
		from := int64(math.Ceil(float64(z.At)*rec.recipe.SampleRate)) - rec.at
		to := int64(math.Ceil(float64(z.At+z.For)*rec.recipe.SampleRate)) - rec.at
		from, to = max(from, 0), min(to, int64(len(x)))
		if from < to {
			clear(x[from:to])
		}
	}
}

// sound is what reaches the converter, before any slip.
type sound struct {
	recipe   Recipe
	voices   [2]voice
	peak     float32
	clip     float32
	work     *clockwork
	waiting  *stroke
	ended    bool
	lead     float64 // samples a beat may sound before its main impact
	on       []pulse
	others   []adder
	strength *rand.Rand
	impacts  *rand.Rand
	at       int64 // next sample
	block    [blockLen]float32
	used     int // samples of the block already given
}

// pulse is a table that sounds, its impact at a place between samples.
type pulse struct {
	w    *wave
	at   float64
	gain float32
}

func newSound(rec *Recording) *sound {
	r := rec.recipe
	s := &sound{
		recipe: r, voices: rec.voices, peak: float32(rec.peak), clip: float32(rec.peak * r.ClipAt), work: newClockwork(r),
		strength: chance(r.Seed, ofStrength), impacts: chance(r.Seed, ofImpacts), used: blockLen,
	}
	s.lead = rec.voices[0].whole.before() + 8*float64(r.ImpactSpread+r.ScatterPM)*r.SampleRate
	for _, v := range rec.voices {
		for _, t := range append([]wave{v.main}, v.other...) {
			s.lead = math.Max(s.lead, t.before()+8*float64(r.ImpactSpread+r.ScatterPM)*r.SampleRate)
		}
	}
	s.lead += 0.5 * float64(r.Beat) * r.SampleRate // beats may come out of turn by scatter
	rms := rec.peak * math.Sqrt(rec.voices[0].power)
	if r.SNR != nil {
		s.others = append(s.others, newWhite(r.Seed, rms*amplitude(-*r.SNR)))
	}
	if r.Pink != nil {
		s.others = append(s.others, newPink(r.Seed, rms*amplitude(*r.Pink)))
	}
	if r.Hum != nil {
		s.others = append(s.others, newHum(r.HumHz, r.SampleRate, rms*amplitude(*r.Hum)))
	}
	if r.Speech != nil {
		s.others = append(s.others, newSpeech(r.Seed, r.SampleRate, rms*amplitude(*r.Speech)))
	}
	if r.ClickRate > 0 {
		s.others = append(s.others, newClicks(r, rec.peak*amplitude(r.ClickLevel)))
	}
	if len(r.Strikes) > 0 {
		s.others = append(s.others, newStrikes(r, rec.peak))
	}
	return s
}

// read gives the next samples; the work is done in blocks of one length, so
// that the same samples come however they are asked for.
func (s *sound) read(dst []float32) {
	for len(dst) > 0 {
		if s.used == blockLen {
			s.make(s.at)
			s.used = 0
		}
		n := copy(dst, s.block[s.used:])
		s.used += n
		s.at += int64(n)
		dst = dst[n:]
	}
}

func (s *sound) make(from int64) {
	block := s.block[:]
	clear(block)
	for _, o := range s.others {
		o.add(block, from)
	}
	s.begin(float64(from + blockLen))
	keep := s.on[:0]
	for i := range s.on {
		if s.on[i].add(block, from) {
			keep = append(keep, s.on[i])
		}
	}
	s.on = keep
	if s.clip > 0 {
		for i, v := range block {
			block[i] = max(-s.clip, min(s.clip, v))
		}
	}
}
