package identify

import (
	_ "embed" // the tables
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Thread is one size of a standard thread.
type Thread struct {
	Series string      `json:"series"`
	Size   string      `json:"size"` // as it is called: "2", "1/4 in", "M3", "No. 6"
	Major  unit.Length `json:"major"`
	Pitch  unit.Pitch  `json:"pitch"`
	Inch   bool        `json:"inch"` // spoken of in inches and threads to the inch
	Ref    cite.Ref    `json:"source"`

	// As printed, 0 where the table does not have them.
	Effective unit.Length `json:"-"`
	Minor     unit.Length `json:"-"`
}

// Name is "2 BA", "1/4 in BSW", "M3".
func (t Thread) Name() string {
	if strings.HasPrefix(t.Series, "ISO") {
		return t.Size
	}
	return t.Size + " " + t.Series
}

// form is the shape of a thread: its angle, and its depth on one side in
// pitches.
type form struct {
	name  string
	angle float64 // degrees, between the flanks
	depth float64 // of the screw's thread
	hole  float64 // of the nut's thread, from the major diameter to its bore
	round float64 // radius at crest and root; 0 where flat
	ref   cite.Ref
}

// series is a family of threads.
type series struct {
	name  string
	form  form
	since int // the year from which it was common
	words string
	ref   cite.Ref
}

func remembered(note string) cite.Ref { return cite.Ref{Grade: cite.Memory, Note: note} }

// The forms. The depth of a Whitworth thread is two thirds of its height of
// 0.960491 p; that of an ISO one 5/8 of 0.866025 p in the nut.
func whitworthForm() form {
	return form{"Whitworth, 55°", 55, .640327, .640327, .137329, cite.Ref{Source: "bs84"}}
}
func baForm() form { return form{"BA, 47½°", 47.5, .6, .6, .1808, cite.Ref{Source: "bs93"}} }
func isoForm() form {
	return form{"ISO, 60°", 60, 17.0 / 24 * math.Sqrt(3) / 2, 5.0 / 8 * math.Sqrt(3) / 2, 0, cite.Ref{Source: "iso68"}}
}
func woodForm() form {
	return form{"wood screw", 60, .6, .6, 0, remembered("angle and depth vary with the maker")}
}

// families lists the series in the order of their age. The years are from
// memory: when a standard or its forerunner was in common use.
var families = sync.OnceValue(func() []series {
	return []series{
		{"BSW", whitworthForm(), 1841, "Whitworth proposed it in 1841", remembered("Whitworth's paper of 1841")},
		{"Brass 26", whitworthForm(), 1880, "26 to the inch on brass tube and fittings, from the later 19th century", remembered("trade custom, never a standard of its own")},
		{"Wood screw", woodForm(), 1850, "pointed wood screws were made by machine from about 1850", remembered("date of pointed machine-made screws")},
		{"BA", baForm(), 1884, "the British Association proposed it in 1884; a standard since 1903", remembered("report of 1884, standard of 1903")},
		{"ISO metric", isoForm(), 1898, "metric threads of 60° were agreed in Zürich in 1898", remembered("the SI thread of 1898; smaller sizes came later")},
		{"ISO metric fine", isoForm(), 1920, "fine metric threads came after the First War", remembered("")},
		{"BSF", whitworthForm(), 1908, "British Standard Fine dates from 1908", remembered("")},
		{"Unified coarse", isoForm(), 1864, "Sellers proposed the 60° thread in 1864; small sizes were agreed in 1907, Unified is of 1949", remembered("forerunners of the same pitch")},
		{"Unified fine", isoForm(), 1907, "the small sizes were agreed in 1907, the name Unified is of 1949", remembered("")},
	}
})

func familyOf(name string) series {
	for _, f := range families() {
		if f.name == name {
			return f
		}
	}
	return series{}
}

//go:embed data/threads.csv
var threadsCSV string

// threads is the table, read once.
var threads = sync.OnceValue(func() []Thread {
	var out []Thread
	for _, r := range records(threadsCSV) {
		t := Thread{Series: r["series"], Size: r["size"], Inch: r["unit"] == "in", Ref: tableRef(r["source"], r["note"])}
		scale := unit.Millimetres
		t.Pitch = unit.Pitch(number(r["pitch"]) / 1000)
		if t.Inch {
			scale = unit.Inches
			t.Pitch = unit.From[unit.Pitch](number(r["pitch"]), "tpi")
		}
		t.Major, t.Effective, t.Minor = scale(number(r["major"])), scale(number(r["effective"])), scale(number(r["minor"]))
		out = append(out, t)
	}
	return out
})

// Threads lists the threads of all series: BA, Whitworth coarse and fine,
// brass 26, ISO metric, Unified and wood screws.
func Threads() []Thread { return append([]Thread(nil), threads()...) }

// tableRef is where a row is from; rows from memory say so.
func tableRef(source, note string) cite.Ref {
	if source == "memory" {
		return cite.Ref{Grade: cite.Memory, Note: note}
	}
	return cite.Ref{Source: source, Note: note}
}

// number reads a number of a table; an empty cell is 0.
func number(s string) float64 {
	if s == "" {
		return 0
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err) // the program's own file
	}
	return x
}

// records reads an embedded table: a map of column to cell for each row.
func records(s string) []map[string]string {
	all, err := csv.NewReader(strings.NewReader(s)).ReadAll()
	if err != nil || len(all) == 0 {
		panic(fmt.Sprintf("identify: an embedded table is damaged: %v", err)) // the program's own file
	}
	out := make([]map[string]string, len(all)-1)
	for i, row := range all[1:] {
		out[i] = make(map[string]string, len(row))
		for k, cell := range row {
			out[i][all[0][k]] = cell
		}
	}
	return out
}

// Shape is what is to be known of a thread to make it.
type Shape struct {
	Form      string      `json:"form"`
	Angle     unit.Angle  `json:"angle"`
	Depth     unit.Length `json:"depth"`     // on one side
	Core      unit.Length `json:"core"`      // of the screw, at the root
	Effective unit.Length `json:"effective"` // at half the flank
	Bore      unit.Length `json:"bore"`      // of the nut
	Round     unit.Length `json:"round"`     // radius at crest and root, 0 where flat
	Ref       cite.Ref    `json:"source"`
}

// ShapeOf works out the shape of a thread from pitch and major diameter; the
// effective diameter and the core that the table prints are used where it has
// them, for BA is printed in rounded steps.
func ShapeOf(t Thread) Shape {
	f := familyOf(t.Series).form
	p := float64(t.Pitch)
	s := Shape{Form: f.name, Angle: unit.Deg(f.angle), Depth: unit.Length(f.depth * p), Round: unit.Length(f.round * p), Ref: f.ref}
	s.Core, s.Bore = t.Major-2*s.Depth, t.Major-unit.Length(2*f.hole*p)
	s.Effective = t.Major - s.Depth
	if f.angle == 60 && f.hole < f.depth { // flat crests: the pitch line is 3/8 of the height below
		s.Effective = t.Major - unit.Length(.75*math.Sqrt(3)/2*p)
	}
	if t.Series == "BA" && t.Minor > 0 {
		s.Core, s.Bore, s.Effective = t.Minor, t.Minor, t.Effective
		s.Depth = (t.Major - t.Minor) / 2
	}
	return s
}
