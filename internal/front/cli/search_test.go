package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"
)

// watcher is a terminal at which somebody presses Ctrl-C as soon as it counts
// what was found.
type watcher struct {
	bytes.Buffer
	press func()
}

func (w *watcher) Write(b []byte) (int, error) {
	if bytes.Contains(b, []byte(" found")) && !bytes.Contains(b, []byte(" 0 found")) {
		w.press()
	}
	return w.Buffer.Write(b)
}

// A search that takes long counts on the terminal; Ctrl-C ends it with the
// best so far, and the answer says that it is not complete.
func TestSearchCountsAndIsStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	errs := &watcher{press: cancel}
	var out bytes.Buffer
	args := []string{"missing", "?/? ?/? ?/? ?", "--pendulum", "994 ± 3 mm", "--hour-arbor", "1", "--module", "0.7 ± 0.02 mm", "--going-sizes", "1 depth 30 ± 2 mm", "--json"}
	if status := Run(ctx, args, Env{In: strings.NewReader(""), Out: &out, Err: errs, Watched: true, Width: 100}); status != 0 {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	if s := errs.String(); !strings.Contains(s, "\rSearching, ") || !strings.Contains(s, "not complete, the best so far") {
		t.Errorf("on the terminal stood %q", s)
	}
	var a struct {
		Complete bool
		Gaps     []struct {
			FoundAll   bool `json:"found_all"`
			Candidates []struct{ Chain string }
		}
	}
	if err := json.Unmarshal(out.Bytes(), &a); err != nil {
		t.Fatalf("the answer is not clean: %v", err)
	}
	if a.Complete || len(a.Gaps) != 1 || a.Gaps[0].FoundAll || len(a.Gaps[0].Candidates) == 0 {
		t.Errorf("%+v", a)
	}
}
