// Package seatboard_test holds the rules of the house as tests.
package seatboard_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"seatboard/internal/kit/cite"
)

// order is the import order of the house, and the inner order of craft. A
// group on the left may not import one on the right; a package may import
// its own group where the group says so. Do not loosen a line to make a build
// pass: move the code.
const order = `kit < craft < book < paper < io < shop < front < cmd`

// inner is the order inside groups: a package may import those named after it.
const inner = `
kit/unit:
kit/cite:
kit/progress:
kit/walltime:
kit/num:
kit/meas: kit/unit kit/cite
kit/sig: kit/num
kit/series: kit/num
kit/trend: kit/num
kit/circular:
kit/periodogram: kit/num
kit/geom:
kit/pic: kit/geom
kit/doc: kit/cite kit/pic
kit/check: kit/cite
craft/train:
craft/train/ratio: craft/train
craft/pendulum: craft/identify
craft/identify:
craft/drive:
craft/tooth: craft/train
craft/train/missing: craft/train
craft/divide:
craft/mesh: craft/tooth craft/train
craft/tooth/saw:
craft/tooth/escapewheel: craft/train craft/tooth/saw
craft/tooth/ratchet: craft/train craft/tooth/saw
craft/strikework: craft/tooth/saw
craft/clean:
craft/regulate:
craft/regulate/simulate: craft/regulate craft/pendulum
craft/regulate/home: craft/pendulum
craft/regulate/tap:
craft/regulate/stops: craft/regulate craft/train craft/drive craft/listen/phrase
craft/listen/phrase:
craft/listen/beat:
craft/listen/synth: craft/listen/beat
craft/listen/sampleclock:
craft/listen/rate: craft/listen/beat
craft/listen/culprit: craft/listen/beat craft/train
craft/listen: craft/listen/phrase craft/listen/beat craft/listen/rate craft/listen/culprit craft/listen/sampleclock craft/train
book/job: book/parts book/picture book/readings
book/readings:
book/ledger:
book/device:
book/equipment: book/ledger
book/parts: book/ledger
book/picture: book/parts
book/estimate: book/ledger
book/bath: book/ledger book/parts
book/work: book/job book/ledger book/parts
book/proposal: book/estimate book/ledger book/work
book/stores: book/ledger
book/condition: book/ledger book/parts
book/label: book/ledger book/parts
book/making: book/job book/ledger book/parts
book/trial: book/ledger
book/trial/notes: book/trial
book/trial/table: book/trial
paper/theme:
paper/svg: paper/theme
paper/jsonout:
paper/csv:
paper/ical:
paper/html: paper/svg
paper/text:
paper/present:
paper/pdf: paper/theme
paper/labelsheet: paper/pdf
paper/drawing: paper/pdf
paper/dxf:
paper/qr:
io/store:
io/store/storetest: io/store
io/blob:
io/audio:
io/photo:
io/mic:
io/hostclock:
io/authority:
shop:
front/form:
front/desk: front/form
front/web: front/form front/desk
front/cli: front/form front/desk front/web
cmd/seatboard:
`

// modules says which group may import which module from outside, and why.
var modules = map[string]string{
	"github.com/google/go-cmp/":                  "kit/check",     // differences in tests
	"golang.org/x/text/":                         "book/job",      // folding of names
	"modernc.org/sqlite":                         "io/store",      // the database
	"github.com/pressly/goose/":                  "io/store",      // migrations
	"golang.org/x/sys/":                          "io",            // locks and file systems
	"github.com/spf13/cobra":                     "front/cli",     // commands, completion
	"github.com/spf13/pflag":                     "front/cli",     // flags of a form
	"golang.org/x/term":                          "cmd/seatboard", // is it a terminal
	"gonum.org/":                                 "kit/num",       // matrices, transforms, distributions
	"github.com/mewkiz/flac":                     "io/audio",      // FLAC
	"github.com/hajimehoshi/go-mp3":              "io/audio",      // MP3
	"github.com/jfreymuth/vorbis":                "io/audio",      // Ogg Vorbis
	"github.com/pion/opus":                       "io/audio",      // Opus
	"github.com/bep/imagemeta":                   "io/photo",      // which way up a photograph is, and when it was taken
	"golang.org/x/image/draw":                    "io/photo",      // scaling
	"golang.org/x/image/webp":                    "io/photo",      // WebP
	"golang.org/x/image/font/sfnt":               "paper/pdf",     // which letters a face has, and how wide they are
	"golang.org/x/image/math/fixed":              "paper/pdf",     // its numbers
	"codeberg.org/go-pdf/fpdf":                   "paper/pdf",     // PDF
	"github.com/piglig/go-qr":                    "paper",         // QR codes
	"github.com/makiuchi-d/gozxing":              "test",          // another reader of QR codes
	"github.com/arran4/golang-ical":              "paper/ical",    // calendars
	"github.com/jfreymuth/pulse":                 "io/mic",        // the computer's own microphone
	"github.com/beevik/ntp":                      "io/hostclock",  // asking a time server
	"github.com/coder/websocket":                 "front/web",     // live sound
	"github.com/chromedp/":                       "test",          // a real browser
	"pgregory.net/rapid":                         "test",          // invariants
	"github.com/rogpeppe/go-internal/testscript": "test",          // command scripts
}

// pureForbidden is what kit, craft and book never import: they have no files,
// network, clock, database or log. time itself is allowed for instants that
// are handed in; time.Now is not.
var pureForbidden = []string{"os", "net", "net/http", "log", "log/slog", "database/sql", "io/fs", "os/exec", "syscall"}

type file struct {
	pkg     string // "kit/unit"
	path    string
	test    bool
	syntax  *ast.File
	imports []string
}

func TestImportPolicy(t *testing.T) {
	groups := strings.Split(order, " < ")
	allowed := innerOrder(t)
	for _, f := range parse(t) {
		group, _, _ := strings.Cut(f.pkg, "/")
		if _, known := allowed[f.pkg]; !known && !f.test {
			t.Errorf("%s: the package %s is not in the policy", f.path, f.pkg)
		}
		for _, imp := range f.imports {
			inside, ok := strings.CutPrefix(imp, "seatboard/internal/")
			switch {
			case ok:
				target, _, _ := strings.Cut(inside, "/")
				from, to := slices.Index(groups, group), slices.Index(groups, target)
				if to > from || (to == from && inside != f.pkg && !slices.Contains(allowed[f.pkg], inside) && !f.test) {
					t.Errorf("%s imports %s against %s", f.path, inside, order)
				}
			case strings.Contains(strings.SplitN(imp, "/", 2)[0], "."):
				checkModule(t, f, imp)
			}
			if !f.test && pure(group) && f.pkg != "kit/check" && slices.Contains(pureForbidden, imp) {
				t.Errorf("%s imports %s: %s is pure", f.path, imp, group)
			}
		}
		if !f.test && pure(group) && mentions(f.syntax, "time", "Now") {
			t.Errorf("%s calls time.Now: hand the instant in", f.path)
		}
	}
}

func pure(group string) bool { return group == "kit" || group == "craft" || group == "book" }

func checkModule(t *testing.T, f file, imp string) {
	for prefix, home := range modules {
		if !strings.HasPrefix(imp, prefix) {
			continue
		}
		if f.test && (home == "test" || strings.HasPrefix(prefix, "github.com/google/go-cmp")) {
			return
		}
		if f.pkg == home || strings.HasPrefix(f.pkg, home+"/") {
			return
		}
		t.Errorf("%s imports %s, which belongs to %s", f.path, imp, home)
		return
	}
	t.Errorf("%s imports %s, which no rule allows", f.path, imp)
}

func TestOnePackageComment(t *testing.T) {
	comments := map[string]int{}
	for _, f := range parse(t) {
		if f.test {
			continue
		}
		comments[f.pkg] += 0
		if f.syntax.Doc != nil {
			comments[f.pkg]++
		}
	}
	for pkg, n := range comments {
		if n != 1 {
			t.Errorf("%s has %d package comments, want one that reads as its manual", pkg, n)
		}
	}
}

func TestExportedNamesAreDocumented(t *testing.T) {
	for _, f := range parse(t) {
		if f.test {
			continue
		}
		for _, d := range f.syntax.Decls {
			for _, name := range undocumented(d) {
				t.Errorf("%s: %s has no comment", f.path, name)
			}
		}
	}
}

// undocumented lists the exported names of a declaration without a comment.
// Methods that satisfy a well-known interface explain themselves.
func undocumented(d ast.Decl) []string {
	obvious := []string{"String", "Error", "MarshalJSON", "UnmarshalJSON", "MarshalText", "UnmarshalText", "Kind", "Unwrap", "Write", "WriteHeader", "Set", "Type"}
	var names []string
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv != nil && (hidden(d.Recv.List[0].Type) || slices.Contains(obvious, d.Name.Name)) {
			return nil
		}
		if d.Name.IsExported() && d.Doc == nil {
			names = append(names, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				if s.Name.IsExported() && d.Doc == nil && s.Doc == nil && s.Comment == nil {
					names = append(names, s.Name.Name)
				}
			case *ast.ValueSpec:
				if d.Doc == nil && s.Doc == nil && s.Comment == nil && s.Names[0].IsExported() {
					names = append(names, s.Names[0].Name)
				}
			}
		}
	}
	return names
}

// hidden tells whether a receiver's type is not exported.
func hidden(t ast.Expr) bool {
	switch t := t.(type) {
	case *ast.StarExpr:
		return hidden(t.X)
	case *ast.IndexExpr:
		return hidden(t.X)
	case *ast.Ident:
		return !t.IsExported()
	}
	return false
}

func TestShortFilesAndFunctions(t *testing.T) {
	for _, f := range parse(t) {
		if f.test {
			continue
		}
		src, err := os.ReadFile(f.path)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(src), "\n")
		if len(lines) > 400 {
			t.Errorf("%s has %d lines, more than 400", f.path, len(lines))
		}
		checkFunctions(t, f)
	}
}

func checkFunctions(t *testing.T, f file) {
	fset := token.NewFileSet()
	syntax, err := parser.ParseFile(fset, f.path, nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range syntax.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Body == nil {
			continue
		}
		n := fset.Position(fn.Body.End()).Line - fset.Position(fn.Body.Pos()).Line
		if n > 80 {
			t.Errorf("%s: %s has %d lines, more than 80", f.path, fn.Name.Name, n)
		}
	}
}

// innerOrder reads the policy text.
func innerOrder(t *testing.T) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(inner), "\n") {
		pkg, list, ok := strings.Cut(line, ":")
		if !ok {
			t.Fatalf("policy line %q has no colon", line)
		}
		out[pkg] = strings.Fields(list)
	}
	for pkg := range out {
		if _, err := os.Stat(dirOf(pkg)); err != nil {
			t.Errorf("the policy names %s, which is not there", pkg)
		}
	}
	return out
}

func dirOf(pkg string) string {
	if strings.HasPrefix(pkg, "cmd/") {
		return pkg
	}
	return filepath.Join("internal", pkg)
}

// parse reads every Go file of the module.
func parse(t *testing.T) []file {
	t.Helper()
	var files []file
	for _, root := range []string{"internal", "cmd"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
				return err
			}
			files = append(files, parseFile(t, path))
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return files
}

func parseFile(t *testing.T, path string) file {
	t.Helper()
	syntax, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	f := file{path: path, syntax: syntax, test: strings.HasSuffix(path, "_test.go")}
	f.pkg = strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "internal/")
	for _, i := range syntax.Imports {
		p, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		f.imports = append(f.imports, p)
	}
	return f
}

// mentions tells whether a file uses pkg.name.
func mentions(f *ast.File, pkg, name string) bool {
	found := false
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok && s.Sel.Name == name {
			if id, ok := s.X.(*ast.Ident); ok && id.Name == pkg {
				found = true
			}
		}
		return true
	})
	return found
}

// TestEverySourceIsUsed keeps the bibliography to works that something leans
// on: a reference in the code or a row of a table.
func TestEverySourceIsUsed(t *testing.T) {
	used := map[string]bool{}
	for _, f := range parse(t) {
		ast.Inspect(f.syntax, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING && !f.test && f.pkg != "kit/cite" {
				if s, err := strconv.Unquote(l.Value); err == nil {
					used[s] = true
				}
			}
			return true
		})
	}
	tables, err := filepath.Glob("internal/craft/*/data/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range tables {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range strings.FieldsFunc(string(b), func(r rune) bool { return r == ',' || r == '\n' || r == '\r' || r == '"' }) {
			used[cell] = true
		}
	}
	for _, s := range cite.Bibliography() {
		if !used[s.Key] {
			t.Errorf("%s, %s is in the bibliography and nothing leans on it", s.Key, s.Title)
		}
	}
}

// TestAnswersAreDocumented holds docs/data-format.md to what the package
// comments of craft say of their JSON.
func TestAnswersAreDocumented(t *testing.T) {
	page, err := os.ReadFile("docs/data-format.md")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, f := range parse(t) {
		if f.test || f.syntax.Doc == nil || !strings.HasPrefix(f.pkg, "craft/") {
			continue
		}
		_, section, ok := strings.Cut(f.syntax.Doc.Text(), "# JSON\n")
		if !ok {
			continue
		}
		found++
		if !strings.Contains(string(page), strings.TrimSpace(strings.ReplaceAll(section, "\t", "    "))) {
			t.Errorf("docs/data-format.md does not have what %s says of its JSON", f.pkg)
		}
	}
	if found < 3 {
		t.Errorf("only %d chapters document their JSON", found)
	}
}
