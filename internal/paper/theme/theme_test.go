package theme

import (
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// pairs are what meets on a page: words on a ground at 4.5, marks at 3.
var pairs = []struct {
	over, under string
	least       float64
}{
	{"ink", "ground", 4.5}, {"ink", "sheet", 4.5}, {"soft", "ground", 4.5}, {"soft", "sheet", 4.5},
	{"steel", "ground", 4.5}, {"steel", "sheet", 4.5}, {"sheet", "steel", 4.5},
	{"brass", "ground", 4.5}, {"verd", "ground", 4.5}, {"verd", "sheet", 4.5},
	{"oxide", "ground", 4.5}, {"oxide", "sheet", 4.5}, {"sheet", "oxide", 4.5},
	{"mark", "ground", 3}, {"mark", "sheet", 3}, {"rule", "ground", 3},
}

func TestContrast(t *testing.T) {
	css := read(t, "seatboard.css")
	light := tokens(t, css, `:root{`)
	for name, theme := range map[string]map[string]string{
		"light": light, "dark": tokens(t, css, `:root[data-theme=dark]{`),
		"dark by preference": tokens(t, css, `:root:not([data-theme=light]){`),
	} {
		for _, p := range pairs {
			got := contrast(luminance(t, theme[p.over]), luminance(t, theme[p.under]))
			if got < p.least {
				t.Errorf("%s: %s on %s has contrast %.2f, least %.1f", name, p.over, p.under, got, p.least)
			}
		}
	}
}

// TestDarkIsOneTheme holds the two places where the dark tokens stand equal,
// and every token of the light theme in them.
func TestDarkIsOneTheme(t *testing.T) {
	css := read(t, "seatboard.css")
	light, chosen, preferred := tokens(t, css, `:root{`), tokens(t, css, `:root[data-theme=dark]{`), tokens(t, css, `:root:not([data-theme=light]){`)
	if len(light) != 11 || len(chosen) != len(light) {
		t.Errorf("%d light tokens, %d dark", len(light), len(chosen))
	}
	for name := range light {
		if chosen[name] == "" || chosen[name] != preferred[name] {
			t.Errorf("%s is %q by choice and %q by preference", name, chosen[name], preferred[name])
		}
	}
}

// TestWeight keeps the look light: a first visit brings all of it, packed to a
// quarter.
func TestWeight(t *testing.T) {
	if n := len(read(t, "seatboard.css")); n > 36_000 {
		t.Errorf("the style sheet has %d bytes", n)
	}
	total := 0
	err := fs.WalkDir(Files(), "fonts", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if strings.HasSuffix(path, ".woff2") {
			total += int(info.Size())
		}
		return err
	})
	if err != nil || total == 0 || total > 120_000 {
		t.Errorf("the faces have %d bytes, %v", total, err)
	}
	for _, name := range []string{"fonts/OFL-sans.txt", "fonts/OFL-serif.txt"} {
		if !strings.Contains(read(t, name), "SIL OPEN FONT LICENSE") {
			t.Errorf("%s is not the licence", name)
		}
	}
}

// TestEveryPenHasAColour looks for the class names that paper/svg writes.
func TestEveryPenHasAColour(t *testing.T) {
	css := read(t, "seatboard.css")
	for _, class := range strings.Fields("p-ink p-hair p-dash p-chain p-heavy p-brass p-zone p-steel p-good p-bad p-none f-none f-ground f-band f-solid f-bad t-name t-mark t-alarm t-fine t-plain") {
		if !strings.Contains(css, "."+class+"{") {
			t.Errorf("there is no rule for .%s", class)
		}
	}
}

func TestEveryFaceIsThere(t *testing.T) {
	for _, m := range regexp.MustCompile(`url\(([^)]+)\)`).FindAllStringSubmatch(read(t, "seatboard.css"), -1) {
		if _, err := fs.Stat(Files(), m[1]); err != nil {
			t.Errorf("the style sheet names %s: %v", m[1], err)
		}
	}
}

func TestNothingFromOutside(t *testing.T) {
	css := read(t, "seatboard.css")
	for _, bad := range []string{"http:", "https:", "@import", "//"} {
		if strings.Contains(css, bad) {
			t.Errorf("the style sheet has %q", bad)
		}
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := fs.ReadFile(Files(), name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// tokens reads the colours of a rule.
func tokens(t *testing.T, css, rule string) map[string]string {
	t.Helper()
	_, rest, ok := strings.Cut(css, rule)
	if !ok {
		t.Fatalf("there is no rule %s", rule)
	}
	body, _, _ := strings.Cut(rest, "}")
	out := map[string]string{}
	for _, m := range regexp.MustCompile(`--(\w+):(#[0-9a-f]{6})`).FindAllStringSubmatch(body, -1) {
		out[m[1]] = m[2]
	}
	return out
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil {
		t.Fatalf("%q is not a colour", hex)
	}
	channel := func(c uint64) float64 {
		x := float64(c&255) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(v>>16) + 0.7152*channel(v>>8) + 0.0722*channel(v)
}

func contrast(a, b float64) float64 { return (max(a, b) + 0.05) / (min(a, b) + 0.05) }
