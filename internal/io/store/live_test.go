package store_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// TestNothingElseOpensTheLiveFile keeps the rule that closing any descriptor
// of the live database would break: no other package knows its name, and in
// this one only the functions listed here open a file.
func TestNothingElseOpensTheLiveFile(t *testing.T) {
	root, err := filepath.Abs("../../..")
	if err != nil {
		t.Fatal(err)
	}
	mayOpen := map[string]string{
		"makeFile":    "makes the file before SQLite sees it; never one that is there",
		"mark":        "the open mark",
		"syncDir":     "a folder",
		"takeLock":    "the lock file",
		"settled":     "a copy that is not given out yet",
		"newFile":     "makes a copy or a backup that is not given out yet; never one that is there",
		"openCopy":    "a copy or a backup",
		"networkName": "the system's list of mounts",
	}
	used, files := map[string]bool{}, 0
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != root || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if d.IsDir() || filepath.Ext(path) != ".go" {
			return nil
		}
		here := filepath.Dir(path) == filepath.Join(root, "internal", "io", "store")
		if here && strings.HasSuffix(path, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return nil // a file being written; the compiler will say so
		}
		files++
		rel, _ := filepath.Rel(root, path)
		if !here {
			for _, s := range texts(f) {
				if strings.Contains(s, `workshop.db"`) || strings.Contains(s, "workshop.db`") {
					t.Errorf("%s names the live database (%s); ask the store instead", rel, s)
				}
			}
			return nil
		}
		for _, decl := range f.Decls {
			fn, ok := decl.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if call := opens(fn); call != "" {
				used[fn.Name.Name] = true
				if mayOpen[fn.Name.Name] == "" {
					t.Errorf("%s: %s calls os.%s; if it can be the live database it must not, else list it here with the reason", rel, fn.Name.Name, call)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 20 || !used["openCopy"] || !used["makeFile"] {
		t.Errorf("%d files read, functions that open: %v: the test does not see the code", files, used)
	}
}

// texts lists the string literals of a file.
func texts(f *ast.File) (out []string) {
	ast.Inspect(f, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
			out = append(out, l.Value)
		}
		return true
	})
	return out
}

// opens is the call of package os by which a function opens a file, if any.
func opens(fn *ast.FuncDecl) (call string) {
	ast.Inspect(fn, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if p, ok := s.X.(*ast.Ident); ok && p.Name == "os" {
			switch s.Sel.Name {
			case "Open", "OpenFile", "OpenInRoot", "OpenRoot", "ReadFile", "Create", "WriteFile", "Truncate", "DirFS", "CopyFS":
				call = s.Sel.Name
			}
		}
		return true
	})
	return call
}

// TestLiteralsAreSeen keeps the walk above from passing by reading nothing.
func TestLiteralsAreSeen(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), "x.go", "package x\nimport \"os\"\nfunc f() { os.Open(\"a/workshop.db\") }", 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := texts(f); len(got) != 2 || !strings.Contains(got[1], `workshop.db"`) {
		t.Error(got)
	}
	if got := opens(f.Decls[1].(*ast.FuncDecl)); got != "Open" {
		t.Errorf("os.%s", got)
	}
}
