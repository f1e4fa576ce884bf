package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"

	"seatboard/internal/book/picture"
)

// ErrExport is returned for a file of which no copy without what lies beside
// the picture can be made: HEIC, or one that is damaged.
var ErrExport = errors.New("photo: no copy can be made without encoding it anew")

// Export gives a copy of a file with nothing in it but the picture, its
// colour profile and which way up it is (1 to 8; 0 writes none). The picture
// itself is the same to the byte.
func Export(file []byte, orientation int) ([]byte, error) {
	if orientation < 0 || orientation > 8 {
		orientation = 0
	}
	var out []byte
	var err error
	switch Sniff(file) {
	case picture.JPEG:
		out, err = exportJPEG(file, orientation)
	case picture.PNG:
		out, err = exportPNG(file, orientation)
	case picture.WebP:
		out, err = exportWebP(file, orientation)
	default:
		err = ErrExport
	}
	if err != nil {
		return nil, ErrExport
	}
	return out, nil
}

// turned tells whether an orientation must be said.
func turned(orientation int) bool { return orientation > 1 }

// exifOf is the smallest EXIF that says an orientation (TIFF 6.0, section 2:
// one directory with the tag 274).
func exifOf(orientation int) []byte {
	b := []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01")
	b = binary.BigEndian.AppendUint16(b, uint16(orientation))
	return append(b, 0, 0, 0, 0, 0, 0)
}

// The markers of JPEG (ISO/IEC 10918-1, table B.1).
const (
	jpegRST0, jpegRST7 = 0xd0, 0xd7
	jpegEOI, jpegSOS   = 0xd9, 0xda
	jpegAPP0           = 0xe0
	jpegAPP2           = 0xe2
	jpegAPP14          = 0xee
	jpegAPP15, jpegCOM = 0xef, 0xfe
)

// exportJPEG copies the segments that make the picture up to its end.
func exportJPEG(file []byte, orientation int) ([]byte, error) {
	out := append(make([]byte, 0, len(file)+40), file[:2]...)
	said := !turned(orientation)
	for at := 2; ; {
		for at < len(file) && file[at] == 0xff && at+1 < len(file) && file[at+1] == 0xff {
			at++ // fill bytes
		}
		if at+4 > len(file) || file[at] != 0xff {
			if at+2 <= len(file) && file[at] == 0xff && file[at+1] == jpegEOI {
				return append(out, 0xff, jpegEOI), nil
			}
			return nil, ErrExport
		}
		marker, size := file[at+1], int(binary.BigEndian.Uint16(file[at+2:]))
		if marker == jpegEOI {
			return append(out, 0xff, jpegEOI), nil
		}
		if size < 2 || at+2+size > len(file) || marker == 0 || marker >= jpegRST0 && marker <= jpegRST7 {
			return nil, ErrExport
		}
		segment := file[at : at+2+size]
		at += len(segment)
		keep := keptSegment(marker, segment[4:])
		if !said && marker != jpegAPP0 { // behind JFIF, before all else
			out, said = append(out, orientationSegment(orientation)...), true
		}
		if keep {
			out = append(out, segment...)
		}
		if marker == jpegSOS {
			end := scanEnd(file, at)
			out = append(out, file[at:end]...)
			at = end
		}
	}
}

// keptSegment tells whether a segment belongs to the picture: JFIF without
// its thumbnail, the colour profile, how the colours are coded, and all that
// is no application's.
func keptSegment(marker byte, content []byte) bool {
	switch {
	case marker == jpegAPP0:
		const short = 14 // JFIF without a thumbnail
		return bytes.HasPrefix(content, []byte("JFIF\x00")) && len(content) == short
	case marker == jpegAPP2:
		return bytes.HasPrefix(content, []byte("ICC_PROFILE\x00"))
	case marker == jpegAPP14:
		return bytes.HasPrefix(content, []byte("Adobe")) && len(content) == 12
	}
	return marker != jpegCOM && (marker < jpegAPP0 || marker > jpegAPP15) && marker < 0xf0
}

func orientationSegment(orientation int) []byte {
	content := append([]byte("Exif\x00\x00"), exifOf(orientation)...)
	b := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(content)+2))
	return append(b, content...)
}

// scanEnd is where the coded picture ends: at a marker that is no restart and
// no stuffed byte.
func scanEnd(file []byte, at int) int {
	for ; at+1 < len(file); at++ {
		if m := file[at+1]; file[at] == 0xff && m != 0 && m != 0xff && (m < jpegRST0 || m > jpegRST7) {
			return at
		}
	}
	return len(file)
}

// pngKept are the chunks that make the picture and its colours (PNG, third
// edition, 2025, table 6).
var pngKept = map[string]bool{
	"IHDR": true, "PLTE": true, "IDAT": true, "tRNS": true, "gAMA": true, "cHRM": true, "sRGB": true, "iCCP": true, "cICP": true, "sBIT": true, "bKGD": true, "pHYs": true,
}

func exportPNG(file []byte, orientation int) ([]byte, error) {
	const signature, around = 8, 12
	out := append(make([]byte, 0, len(file)+40), file[:signature]...)
	said := !turned(orientation)
	for at := signature; at+around <= len(file); {
		size := int64(binary.BigEndian.Uint32(file[at:]))
		if size > int64(len(file)-at-around) {
			return nil, ErrExport
		}
		name, chunk := string(file[at+4:at+8]), file[at:at+around+int(size)]
		at += len(chunk)
		switch {
		case name == "IEND":
			return append(out, pngChunk("IEND", nil)...), nil
		case name == "IDAT" && !said:
			out, said = append(out, pngChunk("eXIf", exifOf(orientation))...), true
		}
		if pngKept[name] {
			out = append(out, chunk...)
		}
	}
	return nil, ErrExport
}

func pngChunk(name string, content []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	b = append(append(b, name...), content...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// webpKept are the chunks that make the picture (RFC 9649, section 2.7).
var webpKept = map[string]bool{"VP8 ": true, "VP8L": true, "ALPH": true, "ICCP": true}

// The bits of the first byte of VP8X.
const webpEXIF, webpXMP = 1 << 3, 1 << 2

func exportWebP(file []byte, orientation int) ([]byte, error) {
	const head = 12
	out := append(make([]byte, 0, len(file)+60), file[:head]...)
	found, extended := false, false
	end := int64(binary.LittleEndian.Uint32(file[4:])) + 8
	if end > int64(len(file)) {
		return nil, ErrExport
	}
	for at := head; at+8 <= int(end); {
		size := int64(binary.LittleEndian.Uint32(file[at+4:]))
		padded := size + size&1
		if padded > end-int64(at)-8 {
			return nil, ErrExport
		}
		name, chunk := string(file[at:at+4]), file[at:at+8+int(padded)]
		at += len(chunk)
		switch {
		case name == "VP8X" && size == 10 && !extended:
			extended = true
			chunk = bytes.Clone(chunk)
			if chunk[8] &^= webpEXIF | webpXMP; turned(orientation) {
				chunk[8] |= webpEXIF
			}
			out = append(out, chunk...)
		case name == "ANIM" || name == "ANMF":
			return nil, ErrExport // a film
		case webpKept[name]:
			found = found || name[0] == 'V'
			out = append(out, chunk...)
		}
	}
	if !found {
		return nil, ErrExport
	}
	if turned(orientation) && extended { // without VP8X there was no EXIF to turn it
		exif := exifOf(orientation)
		out = append(binary.LittleEndian.AppendUint32(append(out, "EXIF"...), uint32(len(exif))), exif...)
	}
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	return out, nil
}
