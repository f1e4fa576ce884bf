package web

import (
	"encoding/binary"
	"errors"
	"math"
	"time"
)

// block is a piece of live sound as a browser sends it: one binary message.
//
//	0   1 byte   1, the format
//	1   3 bytes  0
//	4   uint32   number of the block in its run, from 0
//	8   float64  number of its first sample in the run: a jump is samples lost
//	16  float64  seconds by the device's clock at that sample; NaN where not known
//	24  float64  milliseconds since 1970 by the browser's clock when it came in
//	32  uint32   samples that the browser says it threw away, in all
//	36  4 bytes  0
//	40  float32  samples, full scale 1
//
// All numbers have their lowest byte first.
type block struct {
	Number    uint32
	First     int64
	Device    float64   // s; NaN where not known
	Came      time.Time // by the browser's clock
	Discarded uint32
	Samples   []float32
}

const (
	blockHead = 40
	mostBlock = 1 << 16 // samples
)

var errBlock = errors.New("web: this is not a block of sound")

// readBlock reads a message; samples that are no number are taken as 0.
func readBlock(b []byte) (block, error) {
	n := (len(b) - blockHead) / 4
	if len(b) < blockHead || b[0] != 1 || n > mostBlock || len(b) != blockHead+4*n {
		return block{}, errBlock
	}
	first, came := float(b[8:]), float(b[24:])
	if !(first >= 0 && first < 1<<50) || !(math.Abs(came) < 1e15) {
		return block{}, errBlock
	}
	out := block{Number: binary.LittleEndian.Uint32(b[4:]), First: int64(first), Device: float(b[16:]), Came: time.UnixMicro(int64(came * 1000)),
		Discarded: binary.LittleEndian.Uint32(b[32:]), Samples: make([]float32, n)}
	for i := range out.Samples {
		x := math.Float32frombits(binary.LittleEndian.Uint32(b[blockHead+4*i:]))
		if x-x == 0 { // a number
			out.Samples[i] = x
		}
	}
	return out, nil
}

func float(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
