package labelsheet_test

import (
	"fmt"
	"strings"
	"testing"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/label"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/labelsheet"
)

// briefs are cautions as labels say them.
func briefs(t *testing.T, keys ...string) (out []clean.Brief) {
	t.Helper()
	for _, k := range keys {
		h, ok := clean.FindHazard(k)
		b, brief := h.Brief()
		if !ok || !brief {
			t.Fatalf("%s has no words for a label", k)
		}
		out = append(out, b)
	}
	return out
}

// What can hurt stands on the label of every profile, however small, by its
// name at least; nothing of it or of the number runs out, and the code is read.
func TestCautionsStandOnEveryLabel(t *testing.T) {
	for _, p := range label.Stock() {
		for _, keys := range [][]string{{clean.RadiumHazard}, {clean.WeightHazard}, {clean.LeadHazard, clean.RadiumHazard}, condition.HazardKeys()} {
			x := labelsheet.Label{Clock: "2026-014", Part: "12.3", Name: "minute hand of the strike dial", Short: label.Short(uid, "12.3"), Cautions: briefs(t, keys...)}
			laid := lay(t, labelsheet.Order{Profile: p, Labels: []labelsheet.Label{x}})
			page := laid.Sheets[0].Picture
			text := strings.Join(words(page), " ")
			for _, b := range x.Cautions {
				if !strings.Contains(text, b.Name) {
					t.Errorf("%s: %q is not on the label: %s", p.Name, b.Name, text)
				}
			}
			if !strings.Contains(strings.ReplaceAll(text, " .", "."), "2026-014.12.3") || !strings.Contains(text, x.Short) {
				t.Errorf("%s: number or short id: %s", p.Name, text)
			}
			inside(t, p, page)
			apartFromEachOther(t, fmt.Sprint(p.Name, keys), page)
			if codes := cells(page); len(codes) > 0 {
				if got := read(t, drawn(codes[0])); got != address+"/p/"+x.Short {
					t.Errorf("%s: the code says %s", p.Name, got)
				}
			}
		}
	}
}

// apartFromEachOther holds lines of words from lying on one another.
func apartFromEachOther(t *testing.T, what string, page pic.Picture) {
	t.Helper()
	last := 0.0
	for _, it := range page.Items {
		x, ok := it.(pic.Text)
		if !ok {
			continue
		}
		if top := x.P.Y - 0.72*x.Size; top < last-0.01 {
			t.Errorf("%s: %q lies on the line above", what, x.S)
		}
		last = x.P.Y
	}
}

// A label says as much as it has room for: the authority on a large one, what
// is to be done on a middling one.
func TestCautionsSayAsMuchAsThereIsRoomFor(t *testing.T) {
	for like, want := range map[string][]string{
		"21 labels":  {"! Radium? Do not open or clean", "L121"},
		"189 labels": {"! Radium?"},
	} {
		x := labels(1)[0]
		x.Cautions = briefs(t, clean.RadiumHazard)
		text := strings.Join(words(lay(t, labelsheet.Order{Profile: stock(t, like), Labels: []labelsheet.Label{x}}).Sheets[0].Picture), " ")
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s: %q is not in %s", like, w, text)
			}
		}
	}
	for _, key := range condition.HazardKeys() {
		if b := briefs(t, key)[0]; b.Authority == "" || !strings.HasPrefix(b.Words, b.Name) {
			t.Errorf("%s: %+v", key, b)
		}
	}
}
