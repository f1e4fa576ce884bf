package web

import (
	"html"
	"regexp"
	"strings"
	"testing"
)

// The next step of a clock goes along with what it lacks: from the counts that
// were found to the survey, from there to the part that is cut, and when that is
// written down to what the condition says is missing. Today says the same.
func TestNextStepNamesWhatIsToBeMade(t *testing.T) {
	v := openShop(t, true)
	next := func(words, href string) {
		t.Helper()
		v.get("/clocks/2").want(200, `Next: <a href="`+href+`">`+words)
		v.get("/").want(200, "To find or make", `href="`+href+`">`+words)
	}
	next("Choose for the survey what sheet 2 found for the wheel of arbor 3", "/clocks/2/making/2")
	form := regexp.MustCompile(`(?s)<form method="post" action="/desk/missing/take">.*?</form>`).FindString(v.get("/clocks/2/making/2").page)
	pairs := []string{"take", "0"}
	for _, m := range regexp.MustCompile(`type="hidden" name="([^"]*)" value="([^"]*)"`).FindAllStringSubmatch(form, -1) {
		if m[1] != "token" {
			pairs = append(pairs, m[1], html.UnescapeString(m[2]))
		}
	}
	v.post("/desk/missing/take", pairs...).want(200, "56?/7")
	next("Cut the wheel of arbor 3, 56 teeth, by sheet 3, and write the part down", "/clocks/2/making/3")
	v.get("/clocks/2/making/3/part")
	v.again("/clocks/2/making/3/part", "part-name", "third wheel", "part-count", "1", "part-material", "brass", "made", "brass", "found", "third wheel lost", "done", "new wheel cut, 56 teeth", "who", "tester", "when", "2026-11-24", "undo", "freely", "kept_at", "not found").want(200, "Written down: the part")
	next("Find or make what is missing, mouldings: “front plinth moulding in three pieces, two more wanting”", "/clocks/2/condition")
	v.get("/clocks/2/condition").post("/clocks/2/condition", "area", "mouldings", "day", "2026-11-25", "seen", "all five pieces are there", "read", "99").want(200)
	v.get("/clocks/2").want(200)
	if strings.Contains(v.page, "Find or make") {
		t.Error("it still asks for what was found")
	}
}
