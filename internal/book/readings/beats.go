package readings

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/unit"
)

// MaxBeats is the most beats of one record: twelve days at four a second.
const MaxBeats = 1 << 22

const (
	format    = 1
	nano      = 1_000_000_000
	mostNanos = nano << 22 // 48 days: beyond, a float64 of seconds does not tell nanoseconds apart
	leastSize = 2          // bytes of a beat
)

// ErrBeats is wrapped by every error of [Decode].
var ErrBeats = errors.New("readings: these are not kept beats")

// guess foretells the next time from those before it.
type guess struct{ last, d1, d2 int64 }

func (g *guess) next() int64 { return g.last + g.d2 }

func (g *guess) take(t int64) { g.last, g.d1, g.d2 = t, t-g.last, g.d1 }

// Encode packs beats as the package comment says; those beyond [MaxBeats]
// are left out.
func Encode(beats []beat.Beat) []byte {
	kept := make([]beat.Beat, 0, min(len(beats), MaxBeats))
	for _, b := range beats {
		if _, ok := nanos(b.At); ok && len(kept) < MaxBeats {
			kept = append(kept, b)
		}
	}
	out := make([]byte, 0, 16+5*len(kept))
	out = append(out, format)
	out = binary.AppendUvarint(out, uint64(len(kept)))
	var g guess
	before := beat.Beat{N: -1}
	var u0 int64
	for _, b := range kept {
		t, _ := nanos(b.At)
		u, ok := nanos(b.U)
		if !ok || u < 0 {
			u = 0
		}
		head := zigzag(t-g.next()) << 1
		if follows := b.N == before.N+1 && b.Run == before.Run; follows {
			out = binary.AppendUvarint(out, head)
		} else {
			out = binary.AppendUvarint(out, head|1)
			out = binary.AppendUvarint(out, zigzag(b.N-before.N-1))
			out = binary.AppendUvarint(out, zigzag(int64(b.Run)-int64(before.Run)))
		}
		out = binary.AppendUvarint(out, zigzag(u-u0))
		g.take(t)
		before, u0 = b, u
	}
	return out
}

// Decode unpacks what Encode packed. Its error wraps [ErrBeats]; it takes no
// more memory than 24 times the bytes given.
func Decode(b []byte) ([]beat.Beat, error) {
	if len(b) == 0 || b[0] != format {
		return nil, fmt.Errorf("%w: the format is not 1", ErrBeats)
	}
	r := reader{b: b[1:]}
	n := r.uvarint()
	if r.failed || n > MaxBeats || n > uint64(len(r.b))/leastSize {
		return nil, fmt.Errorf("%w: %d beats cannot be in %d bytes", ErrBeats, n, len(b))
	}
	out := make([]beat.Beat, n)
	var g guess
	before := beat.Beat{N: -1}
	var u int64
	for i := range out {
		head := r.uvarint()
		x := beat.Beat{N: before.N + 1, Run: before.Run}
		if head&1 == 1 {
			x.N += r.zigzag()
			x.Run = int(int64(x.Run) + r.zigzag())
		}
		t := g.next() + unzigzag(head>>1)
		u += r.zigzag()
		if r.failed || !within(t) || !within(u) || u < 0 {
			return nil, fmt.Errorf("%w: beat %d is cut short or out of range", ErrBeats, i)
		}
		x.At, x.U = seconds(t), seconds(u)
		g.take(t)
		out[i], before = x, x
	}
	if len(r.b) > 0 {
		return nil, fmt.Errorf("%w: %d bytes too many", ErrBeats, len(r.b))
	}
	return out, nil
}

// nanos is a time in whole nanoseconds; ok is false for one that cannot be
// kept.
func nanos(d unit.Duration) (n int64, ok bool) {
	x := math.Round(float64(d) * nano)
	if !(math.Abs(x) <= mostNanos) { // NaN is not
		return 0, false
	}
	return int64(x), true
}

func seconds(n int64) unit.Duration { return unit.Duration(float64(n) / nano) }

func within(n int64) bool { return -mostNanos <= n && n <= mostNanos }

func zigzag(x int64) uint64 { return uint64(x)<<1 ^ uint64(x>>63) }

func unzigzag(x uint64) int64 { return int64(x>>1) ^ -int64(x&1) }

// reader reads varints and remembers when one was not there.
type reader struct {
	b      []byte
	failed bool
}

func (r *reader) uvarint() uint64 {
	x, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.failed, r.b = true, nil
		return 0
	}
	r.b = r.b[n:]
	return x
}

func (r *reader) zigzag() int64 { return unzigzag(r.uvarint()) }
