package present

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"seatboard/internal/paper/text"
)

var rewrite = flag.Bool("rewrite", false, "write the documents under testdata anew")

// The documents of three trains as a terminal shows them.
func TestTrainGolden(t *testing.T) {
	cases := trainCases(t)
	for name, file := range map[string]string{"measured": "train-measured.txt", "missing": "train-missing.txt", "strike": "train-strike.txt"} {
		got := text.Render(Train(cases[name]), text.Options{Width: 132, Working: true})
		path := filepath.Join("testdata", file)
		if *rewrite {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: the document differs from %s (go test -rewrite writes it anew):\n%s", name, path, got)
		}
	}
}
