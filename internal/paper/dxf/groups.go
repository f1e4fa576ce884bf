package dxf

import (
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
)

// groups are the pairs of lines that a DXF file is: a code and a value.
type groups struct{ b []byte }

func (g *groups) code(c int) {
	g.b = strconv.AppendInt(g.b, int64(c), 10)
	g.b = append(g.b, '\n')
}

func (g *groups) str(code int, s string) {
	g.code(code)
	g.b = append(g.b, s...)
	g.b = append(g.b, '\n')
}

// num is a number with six decimals at most.
func (g *groups) num(code int, x float64) { g.trimmed(code, x, 6) }

// fine is a number with ten.
func (g *groups) fine(code int, x float64) { g.trimmed(code, x, 10) }

// trimmed writes a number with one decimal at least, so that it is a real
// number to every reader, and no −0.
func (g *groups) trimmed(code int, x float64, digits int) {
	s := strings.TrimRight(strconv.FormatFloat(x, 'f', digits, 64), "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		s = "0.0"
	}
	g.str(code, s)
}

// pt is the first, second … point of an entity.
func (g *groups) pt(n int, p geom.Pt) {
	g.num(10+n, p.X)
	g.num(20+n, p.Y)
}

func (g *groups) header(box geom.Box) {
	if box.Empty() {
		box = geom.Box{}
	}
	g.str(0, "SECTION")
	g.str(2, "HEADER")
	g.str(9, "$ACADVER")
	g.str(1, "AC1009")
	for _, v := range []struct {
		name string
		p    geom.Pt
	}{{"$EXTMIN", box.Min}, {"$EXTMAX", box.Max}} {
		g.str(9, v.name)
		g.pt(0, v.p)
		g.num(30, 0)
	}
	for _, v := range []struct {
		name  string
		value int
	}{{"$LUNITS", 2}, {"$LUPREC", 4}, {"$MEASUREMENT", 1}, {"$INSUNITS", 4}} {
		g.str(9, v.name)
		g.str(70, strconv.Itoa(v.value))
	}
	g.str(0, "ENDSEC")
}

// lineType is a kind of line after ISO 128 with its lengths in millimetres, a
// gap negative.
type lineType struct {
	name, says string
	parts      []float64
}

func lineTypes() []lineType {
	return []lineType{
		{"CONTINUOUS", "Solid line", nil},
		{"HIDDEN", "Dashed __ __ __", []float64{3, -0.75}},
		{"CENTRE", "Long dash and dot ____ . ____ .", []float64{6, -0.75, 0.25, -0.75}},
	}
}

// tables are the line types and the layers.
func (g *groups) tables(layers map[string]pic.Pen) {
	g.str(0, "SECTION")
	g.str(2, "TABLES")
	g.table("LTYPE", len(lineTypes()))
	for _, t := range lineTypes() {
		g.lineType(t)
	}
	g.str(0, "ENDTAB")
	names := inOrder(layers)
	g.table("LAYER", len(names)+1)
	g.layer("0", 7, "CONTINUOUS")
	for _, n := range names {
		colour, line := look(layers[n])
		g.layer(n, colour, line)
	}
	g.str(0, "ENDTAB")
	g.table("STYLE", 1)
	g.style()
	g.str(0, "ENDTAB")
	g.str(0, "ENDSEC")
}

func (g *groups) table(name string, entries int) {
	g.str(0, "TABLE")
	g.str(2, name)
	g.str(70, strconv.Itoa(entries))
}

func (g *groups) lineType(t lineType) {
	g.str(0, "LTYPE")
	g.str(2, t.name)
	g.str(70, "0")
	g.str(3, t.says)
	g.str(72, "65")
	g.str(73, strconv.Itoa(len(t.parts)))
	sum := 0.0
	for _, x := range t.parts {
		sum += max(x, -x)
	}
	g.num(40, sum)
	for _, x := range t.parts {
		g.num(49, x)
	}
}

func (g *groups) layer(name string, colour int, line string) {
	g.str(0, "LAYER")
	g.str(2, name)
	g.str(70, "0")
	g.str(62, strconv.Itoa(colour))
	g.str(6, line)
}

func (g *groups) style() {
	g.str(0, "STYLE")
	g.str(2, "STANDARD")
	g.str(70, "0")
	g.num(40, 0)
	g.num(41, 1)
	g.num(50, 0)
	g.str(71, "0")
	g.num(42, 2.5)
	g.str(3, "txt")
	g.str(4, "")
}

// look is the colour number and the line type of a layer.
func look(pen pic.Pen) (colour int, line string) {
	switch pen {
	case pic.Hair:
		return 8, "CONTINUOUS"
	case pic.Dashed:
		return 3, "HIDDEN"
	case pic.Chain:
		return 1, "CENTRE"
	case pic.Steel:
		return 5, "CONTINUOUS"
	}
	return 7, "CONTINUOUS"
}

// longestText is that of a string in release 12, in bytes.
const longestText = 255

// plain is a text as release 12 can write it: ASCII, with its own codes for
// the degree, the diameter and plus or minus, and \U+ and four hexadecimal digits for the rest.
func plain(s string) string {
	var b strings.Builder
	for _, r := range s {
		one := string(r)
		switch {
		case r == '°':
			one = "%%d"
		case r == '±':
			one = "%%p"
		case r == 'Ø' || r == '⌀' || r == 'ø':
			one = "%%c"
		case r == '−' || r == '–' || r == '\u2011':
			one = "-"
		case r == '\u00a0' || r == '\u2009' || r == '\u202f' || r == '\n' || r == '\t':
			one = " "
		case r < 0x20 || r == 0x7f || r > 0xffff:
			one = "?"
		case r > 0x7e:
			one = fmt.Sprintf(`\U+%04X`, r)
		}
		if b.Len()+len(one) > longestText {
			break
		}
		b.WriteString(one)
	}
	return strings.TrimSpace(b.String())
}
