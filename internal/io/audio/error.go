package audio

// FormatError says why a recording or a list of times cannot be used. Its
// text is two sentences for the user.
type FormatError struct {
	Format string // "WAV", "MP3", …; "" where not even that is known
	Why    string // end of the sentence "This WAV recording cannot be read: …"
	Do     string // what to do, a whole sentence without its stop
}

func (e *FormatError) Error() string {
	what := "This recording"
	if e.Format != "" {
		what = "This " + e.Format + " recording"
	}
	s := what + " cannot be read: " + e.Why + "."
	if e.Do != "" {
		s += " " + e.Do + "."
	}
	return s
}

// saveAsWAV is what helps nearly always.
const saveAsWAV = "Save it as WAV (PCM, 16 or 24 bits) or FLAC and open that"

func wrong(format, why string) error { return &FormatError{format, why, saveAsWAV} }
