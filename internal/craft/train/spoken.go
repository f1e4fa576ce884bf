package train

import "strings"

// WheelName is the wheel of an arbor as spoken of: "third wheel".
func WheelName(arbor string) string {
	n := lowered(arbor)
	if l := strings.ToLower(n); strings.Contains(l, "wheel") || strings.Contains(l, "arbor") || strings.Contains(l, "barrel") {
		return n
	}
	return n + " wheel"
}

// PinionName is the pinion of an arbor: "centre pinion".
func PinionName(arbor string) string {
	n := lowered(arbor)
	for _, w := range []string{" wheel", " arbor"} {
		if s, ok := strings.CutSuffix(n, w); ok {
			n = s
		}
	}
	return n + " pinion"
}

// lowered writes a name as it stands within a sentence. What is all capitals
// or has capitals inside is somebody's own and kept.
func lowered(name string) string {
	name = strings.TrimSpace(name)
	if name == "" {
		return name
	}
	first := strings.ToLower(name[:1])
	if rest := name[1:]; rest == strings.ToLower(rest) && len(rest) > 1 {
		return first + rest
	}
	return name
}
