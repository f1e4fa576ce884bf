// Package picture is the record of a photograph: what its file is, where it
// belongs, what is written under it, and the marks that are kept beside it.
//
// The file itself is kept byte for byte under its SHA-256 and is never
// written over; a mark lies in a layer of its own, in the pixels of the
// photograph as it is seen upright. A photograph that belongs to no clock yet
// lies in the tray.
package picture

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"seatboard/internal/book/parts"
	"seatboard/internal/kit/meas"
)

// Kind is what a file is by its content, never by its name.
type Kind string

// The kinds that are taken in.
const (
	JPEG Kind = "JPEG"
	PNG  Kind = "PNG"
	WebP Kind = "WebP"
	HEIC Kind = "HEIC" // kept; it is not decoded here
)

// Known tells whether a photograph of this kind is taken in.
func (k Kind) Known() bool { return k == JPEG || k == PNG || k == WebP || k == HEIC }

// Type is the media type.
func (k Kind) Type() string { return "image/" + strings.ToLower(string(k)) }

// Stage is when in the work a photograph was taken; "" is not said.
type Stage string

// The stages.
const (
	Before Stage = "before" // as it was found
	During Stage = "during" // while it is worked on
	After  Stage = "after"  // finished
)

// Stages lists the stages in the order of the work.
func Stages() []Stage { return []Stage{Before, During, After} }

// Small says whether the small pictures of a photograph are made.
type Small string

// The states of the small pictures.
const (
	Waiting Small = "waiting" // they are being made
	Made    Small = "made"
	None    Small = "none" // they cannot be made; Why says it
)

// Limits of a photograph.
const (
	MaxBytes   = 60 << 20 // of its file
	MaxPixels  = 64_000_000
	MaxSide    = 30_000 // pixels
	MaxCaption = 2000   // letters
	MaxArea    = 100    // letters
	MaxParts   = 50
	MaxName    = 120 // letters
)

// Photo is the record of a photograph.
type Photo struct {
	ID      int64  `json:"-"`
	UID     string `json:"uid"`     // sixteen hexadecimal digits
	Version int    `json:"version"` // counts its changes from 1

	SHA256 string `json:"sha256"`     // of the file as it came, by which it is kept
	Size   int64  `json:"size_bytes"` // bytes
	Kind   Kind   `json:"kind"`
	Name   string `json:"name"` // the file's name, cleaned; for people only

	// What was found in the file, when it was looked into; 0 and "" before.
	Width       int    `json:"width_px"` // pixels, upright
	Height      int    `json:"height_px"`
	Orientation int    `json:"orientation"` // as the camera wrote it, 1 to 8; 0 where it wrote none
	Taken       string `json:"taken"`       // by the camera's own clock, a hint: "2026-11-25 10:31:00"
	Small       Small  `json:"-"`
	Why         string `json:"-"` // there are no small pictures

	Received time.Time `json:"received"` // the time of record
	By       string    `json:"by"`       // who brought it

	ClockID  int64          `json:"-"`     // in whose file it is; 0 is the tray
	Parts    []parts.Number `json:"parts"` // that it shows
	Area     string         `json:"area"`  // of the clock, such as dial or movement
	Stage    Stage          `json:"stage"`
	Caption  string         `json:"caption"`
	SameView string         `json:"same_view"` // UID of a photograph that shows the same from the same side
	Marks    []Mark         `json:"marks"`

	Removed time.Time `json:"removed,omitzero"` // in the bin since; zero where it is not
}

// StayedElsewhere is why there are no small pictures of a photograph whose
// record came with a clock's JSON file, which has no photographs in it.
const StayedElsewhere = "the photograph itself stayed in the shop that wrote the file of the clock; a backup of that shop has it"

// Elsewhere tells whether only the record is here, and not the file.
func (p Photo) Elsewhere() bool { return p.Small == None && p.Why == StayedElsewhere }

// InTray tells whether it is still to be filed.
func (p Photo) InTray() bool { return p.ClockID == 0 }

var (
	uidForm = regexp.MustCompile(`^[0-9a-f]{16}$`)
	sumForm = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// Check lists what is wrong with a record.
func (p Photo) Check() meas.Faults {
	var f meas.Faults
	add := func(bad bool, field, text string, args ...any) {
		if bad {
			f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(text, args...)})
		}
	}
	add(!uidForm.MatchString(p.UID), "uid", "The identifier has sixteen digits 0 to 9 and a to f")
	add(!sumForm.MatchString(p.SHA256), "sha256", "The SHA-256 has 64 digits 0 to 9 and a to f")
	add(p.Size < 1 || p.Size > MaxBytes, "size", "A photograph has 1 byte to %d MB", MaxBytes>>20)
	add(!p.Kind.Known(), "kind", "A photograph is JPEG, PNG, WebP or HEIC")
	add(p.Orientation < 0 || p.Orientation > 8, "orientation", "The orientation is 1 to 8, or 0 where the camera wrote none")
	add(p.Width < 0 || p.Height < 0 || p.Width > MaxSide || p.Height > MaxSide, "width", "A photograph has at most %d pixels on a side", MaxSide)
	add(p.Small != Waiting && p.Small != Made && p.Small != None, "small", "The small pictures are waited for, made, or there are none")
	add(p.Stage != "" && !slices.Contains(Stages(), p.Stage), "stage", "Choose before, during or after, or nothing")
	add(!plain(p.Caption, MaxCaption), "caption", "Write at most %d letters under a photograph", MaxCaption)
	add(!plain(p.Area, MaxArea), "area", "Name the area in at most %d letters", MaxArea)
	add(p.SameView != "" && !uidForm.MatchString(p.SameView), "same_view", "Name the other photograph by its identifier")
	add(p.SameView != "" && p.SameView == p.UID, "same_view", "A photograph is not compared with itself")
	add(p.ClockID == 0 && len(p.Parts) > 0, "parts", "Name the clock before its parts")
	add(len(p.Parts) > MaxParts, "parts", "A photograph shows at most %d parts; take another one", MaxParts)
	for _, n := range p.Parts {
		add(!n.Valid(), "parts", "A part's number is digits and dots, like 2 or 2.1, not %q", string(n))
	}
	for i, m := range p.Marks {
		f = append(f, m.check(i, p.Width, p.Height)...)
	}
	add(len(p.Marks) > MaxMarks, "marks", "A photograph takes at most %d marks", MaxMarks)
	return f
}

// plain tells whether a text is UTF-8, not longer than so many letters, and
// without control characters but line ends and tabs.
func plain(s string, most int) bool {
	return utf8.ValidString(s) && utf8.RuneCountInString(s) <= most &&
		!strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' })
}

// ReadParts reads numbers of parts of a clock as typed, separated by commas
// or spaces, each once and in their order. What is no number stays as it is,
// for Check to find.
func ReadParts(clock, text string) []parts.Number {
	var out []parts.Number
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || unicode.IsSpace(r) }) {
		n, err := parts.ParseNumber(clock, word)
		if err != nil {
			n = parts.Number(word)
		}
		out = append(out, n)
	}
	slices.SortFunc(out, parts.Compare)
	return slices.Compact(out)
}

// CleanName makes of the name that a browser sent one that may be shown: its
// last piece, without control characters, and never longer than MaxName.
func CleanName(name string) string {
	name = path.Base(strings.ReplaceAll(strings.ToValidUTF8(name, "�"), `\`, "/"))
	name = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return -1
		}
		return r
	}, name)
	if name = strings.TrimSpace(name); name == "." || name == ".." || name == "/" || name == "" {
		return "photograph"
	}
	if r := []rune(name); len(r) > MaxName {
		name = string(r[:MaxName])
	}
	return name
}
