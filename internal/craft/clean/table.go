package clean

import (
	_ "embed" // the tables
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// The tables; the comment at the head of each says what stands in it.
var (
	//go:embed data/compat.csv
	compatCSV string
	//go:embed data/substances.csv
	substancesCSV string
	//go:embed data/luminous.csv
	luminousCSV string
)

// records reads an embedded table: a map of column to cell for each row.
func records(s string) []map[string]string {
	r := csv.NewReader(strings.NewReader(s))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) == 0 {
		panic(fmt.Sprintf("clean: an embedded table is damaged: %v", err)) // the program's own file
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

// Effect is what a liquid does to a material.
type Effect string

// The effects, mildest first.
const (
	OK   Effect = "ok"
	Care Effect = "care"
	Test Effect = "test" // try one first
	No   Effect = "no"
)

// Cell is what one liquid does to one material.
type Cell struct {
	Material Material `json:"material"`
	Liquid   string   `json:"-"`
	Effect   Effect   `json:"verdict"`
	Short    bool     `json:"short,omitempty"` // well under the limit
	Reason   string   `json:"reason,omitempty"`
	Ref      cite.Ref `json:"source"`
}

// Cells is the whole table of materials and liquids, each cell with its
// source or as common practice.
func Cells() []Cell {
	var out []Cell
	for _, r := range records(compatCSV) {
		c := Cell{Material: Material(r["material"]), Liquid: r["liquid"], Effect: Effect(r["verdict"]), Short: r["short"] == "yes", Reason: r["reason"]}
		c.Ref = cite.Ref{Source: r["source"], Place: r["place"], Grade: grade(r["grade"])}
		out = append(out, c)
	}
	return out
}

func grade(word string) cite.Grade {
	switch word {
	case "printed":
		return cite.Printed
	case "memory":
		return cite.Memory
	}
	return cite.CommonPractice
}

// cellTable is the table to look cells up in.
type cellTable map[Material]map[string]Cell

func newCellTable() cellTable {
	t := cellTable{}
	for _, c := range Cells() {
		if t[c.Material] == nil {
			t[c.Material] = map[string]Cell{}
		}
		t[c.Material][c.Liquid] = c
	}
	return t
}

// Substance is a substance in a liquid, with what is printed of its danger.
// Limits are in the words of the source.
type Substance struct {
	Name, CAS string
	Flash     unit.Temperature // the lowest printed, meaningful if Burns
	Burns     bool             // it has a flash point
	Spread    unit.TempDiff    // how far the sources are apart
	LFL, UFL  string           // limits of burning in air, per cent by volume
	OSHA      string
	NIOSH     string
	Other     string
	Ref       cite.Ref
}

// Substances lists what is in the table.
func Substances() []Substance {
	var out []Substance
	for _, r := range records(substancesCSV) {
		s := Substance{Name: r["name"], CAS: r["cas"], LFL: r["lfl"], UFL: r["ufl"], OSHA: r["osha"], NIOSH: r["niosh"], Other: r["other"]}
		s.Ref = cite.Ref{Source: r["source"], Grade: grade(r["grade"]), Note: r["note"]}
		for _, printed := range []string{r["flash_iec"], r["flash_nfpa"]} {
			c, err := strconv.ParseFloat(printed, 64)
			if err != nil {
				continue
			}
			t := unit.From[unit.Temperature](c, "°C")
			if s.Burns {
				s.Spread = unit.TempDiff(max(s.Flash, t) - min(s.Flash, t))
				t = min(s.Flash, t)
			}
			s.Burns, s.Flash = true, t
		}
		out = append(out, s)
	}
	return out
}

// FindSubstance looks a substance up by name or CAS number.
func FindSubstance(name string) (Substance, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	switch name {
	case "isopropanol", "isopropyl alcohol", "propan-2-ol":
		name = "2-propanol"
	case "ethyl alcohol", "methylated spirit":
		name = "ethanol"
	case "stoddard solvent":
		name = "white spirit"
	}
	for _, s := range Substances() {
		if s.Name == name || s.CAS == name {
			return s, true
		}
	}
	return Substance{}, false
}

// Activity is a printed limit of a luminous timepiece, in both units.
type Activity struct {
	Where, What string
	Curies      string // "25 mCi"
	Becquerels  string // "925 MBq"
	Ref         cite.Ref
}

// Luminous lists the printed limits for luminous timepieces.
func Luminous() []Activity {
	var out []Activity
	for _, r := range records(luminousCSV) {
		out = append(out, Activity{r["where"], r["what"], r["curies"] + " " + r["unit"], r["becquerels"], cite.Ref{Source: r["source"], Place: r["place"]}})
	}
	return out
}
