package making

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"seatboard/internal/book/job"
)

// alike is how far two numbers may be from each other, of their size, and
// still be the same: processors round the last figures in their own ways.
const alike = 1e-9

// Differing lists what an answer that was kept said otherwise than one that
// is told now, by its place in the JSON ("wheel.pitch.value"). What is told
// now and was not told then is no difference.
func Differing(kept, now json.RawMessage) []job.Change {
	var out []job.Change
	a, okA := parsed(kept)
	b, okB := parsed(now)
	switch {
	case okA && okB:
		differ("", a, b, &out)
	case !bytes.Equal(kept, now):
		out = append(out, job.Change{Before: string(kept), After: string(now)})
	}
	return out
}

func parsed(text json.RawMessage) (v any, ok bool) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	return v, d.Decode(&v) == nil
}

func differ(at string, a, b any, out *[]job.Change) {
	switch a := a.(type) {
	case map[string]any:
		b, ok := b.(map[string]any)
		if !ok {
			break
		}
		for _, name := range slices.Sorted(maps.Keys(a)) {
			place := name
			if at != "" {
				place = at + "." + name
			}
			differ(place, a[name], b[name], out)
		}
		return
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			break
		}
		for i := range a {
			differ(at+"["+strconv.Itoa(i)+"]", a[i], b[i], out)
		}
		return
	case json.Number:
		if same(a, b) {
			return
		}
	default:
		if a == b {
			return
		}
	}
	*out = append(*out, job.Change{Field: at, Before: said(a), After: said(b)})
}

// same tells whether two numbers agree as far as numbers do.
func same(a json.Number, b any) bool {
	n, ok := b.(json.Number)
	if !ok || a == n {
		return ok
	}
	x, errX := a.Float64()
	y, errY := n.Float64()
	return errX == nil && errY == nil && math.Abs(x-y) <= alike*math.Max(math.Abs(x), math.Abs(y))
}

// said is a value in a line.
func said(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case map[string]any:
		return fmt.Sprintf("%d values", len(v))
	case []any:
		return fmt.Sprintf("a list of %d", len(v))
	}
	return fmt.Sprint(v)
}
