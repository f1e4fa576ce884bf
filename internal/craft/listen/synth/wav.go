package synth

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"seatboard/internal/craft/listen/beat"
)

// ErrTooLong is the error of a sound that a plain WAV cannot hold: 4 GiB, or
// 12 hours at 48 kHz.
var ErrTooLong = errors.New("synth: too long for a WAV; make it shorter or at a lower sampling rate")

// WriteWAV writes so many samples of a source as a WAV of one channel and 16
// bits. A source that ends before is [io.ErrUnexpectedEOF], its samples
// written but the header too long.
func WriteWAV(w io.Writer, src beat.Source16, frames int64) error {
	if frames < 0 || frames > (math.MaxUint32-36)/2 {
		return ErrTooLong
	}
	out := bufio.NewWriterSize(w, 1<<16)
	if _, err := out.Write(wavHeader(uint32(math.Round(src.Rate())), uint32(2*frames))); err != nil {
		return fmt.Errorf("synth: write the header: %w", err)
	}
	samples := make([]int16, blockLen)
	raw := make([]byte, 0, 2*blockLen)
	for frames > 0 {
		n, err := src.ReadInt16(samples[:min(frames, blockLen)])
		raw = raw[:0]
		for _, v := range samples[:n] {
			raw = binary.LittleEndian.AppendUint16(raw, uint16(v))
		}
		if _, err := out.Write(raw); err != nil {
			return fmt.Errorf("synth: write the samples: %w", err)
		}
		frames -= int64(n)
		if err != nil && frames > 0 {
			if errors.Is(err, io.EOF) {
				err = io.ErrUnexpectedEOF
			}
			return errors.Join(fmt.Errorf("synth: read the samples: %w", err), out.Flush())
		}
	}
	return out.Flush()
}

// wavHeader is RIFF, a format of PCM, and the head of the data.
func wavHeader(rate, bytes uint32) []byte {
	le := binary.LittleEndian
	h := le.AppendUint32([]byte("RIFF"), 36+bytes)
	h = le.AppendUint32(append(h, "WAVEfmt "...), 16)
	h = le.AppendUint16(le.AppendUint16(h, 1), 1) // PCM, one channel
	h = le.AppendUint32(le.AppendUint32(h, rate), 2*rate)
	h = le.AppendUint16(le.AppendUint16(h, 2), 16)
	return le.AppendUint32(append(h, "data"...), bytes)
}
