package audio

import "bytes"

// kind is what a stream holds, told by its first bytes.
type kind string

const (
	kindUnknown kind = ""
	kindWAV     kind = "WAV"
	kindFLAC    kind = "FLAC"
	kindOgg     kind = "Ogg"
	kindMP3     kind = "MP3"
)

// sniffLen bytes are enough to tell the kind.
const sniffLen = 64

func sniff(b []byte) kind {
	has := func(at int, s string) bool { return len(b) >= at+len(s) && string(b[at:at+len(s)]) == s }
	switch {
	case (has(0, "RIFF") || has(0, "RF64") || has(0, "BW64") || has(0, "RIFX")) && has(8, "WAVE"):
		return kindWAV
	case has(0, "fLaC"):
		return kindFLAC
	case has(0, "OggS"):
		return kindOgg
	case has(0, "ID3"):
		return kindMP3 // FLAC too may begin so; the decoder looks behind the tag
	case len(b) >= 4 && mp3HeaderAt(b).sync():
		return kindMP3
	}
	return kindUnknown
}

// foreign are files that people take for recordings, or that hold sound we do
// not read: where a mark stands, the mark, and what it is.
var foreign = []struct {
	at   int
	mark string
	what string
}{
	{0, "\x89PNG", "it is a PNG picture"},
	{0, "\xff\xd8\xff", "it is a JPEG picture"},
	{0, "GIF8", "it is a GIF picture"},
	{8, "WEBP", "it is a WebP picture"},
	{4, "ftypheic", "it is an HEIC picture"},
	{4, "ftypmif1", "it is an HEIF picture"},
	{4, "ftyp", "it is an MP4 or M4A file (AAC), which only the page can read"},
	{0, "\x1aE\xdf\xa3", "it is a WebM or Matroska file"},
	{0, "FORM", "it is an AIFF file"},
	{0, ".snd", "it is an AU file"},
	{0, "caff", "it is a Core Audio file"},
	{0, "PK\x03\x04", "it is a ZIP archive"},
	{0, "\x1f\x8b", "it is a gzip archive"},
	{0, "%PDF", "it is a PDF document"},
	{0, "RIFF", "it is a RIFF file without sound"},
}

// refusal says what a stream is that holds no sound that is read.
func refusal(b []byte) error {
	if len(b) == 0 {
		return &FormatError{"", "there is nothing in it", "Record anew, or look whether the recorder was running"}
	}
	for _, f := range foreign {
		if len(b) >= f.at && bytes.HasPrefix(b[f.at:], []byte(f.mark)) {
			return &FormatError{"", f.what, "Open a recording in WAV, FLAC, Ogg Vorbis, Opus or MP3"}
		}
	}
	return &FormatError{"", "it is not WAV, FLAC, Ogg Vorbis, Opus or MP3", "Save the recording as WAV and open that; for bare samples state their format"}
}
