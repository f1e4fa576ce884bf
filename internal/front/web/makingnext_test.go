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

// How the plates of the shop divide a wheel stands beside its sheet, in the
// clock's file and on the desk; the caution of the lathe is said once.
func TestPlatesDivideTheWheelOfASheet(t *testing.T) {
	v := openShop(t, true)
	const (
		desk  = "/desk/tooth?wheel=56&leaves=7&distance=21.4+mm"
		wheel = "Dividing the wheel of 56 by the plates of the shop"
	)
	v.get("/plates").post("/plates", "plates", "plate A: 60 72 96 112 120\nhead 40:1 with 15 16 17 18 19 20 21 23 27").want(200, "Saved.")
	v.get(desk).want(200, wheel, "Dividing the pinion of 7 by the plates of the shop", "Where each tooth is cut", `href="/desk/divide?count=56&amp;plates=plate`)
	if n := strings.Count(v.page, "Before you touch it"); n != 1 {
		t.Errorf("the caution is said %d times", n)
	}
	v.get("/clocks/2/making/3").want(200, wheel, "Where each tooth is cut")
	v.get("/desk/escape-wheel?count=30&diameter=40+mm&spaces=7.5&drop=1°&lift=2°").want(200, "Dividing the escape wheel of 30")
	v.get("/desk/ratchet?count=24&diameter=32+mm&click=18+mm").want(200, "Dividing the ratchet of 24", "Before you touch it")
	v.get(desk+"&part=wheel").want(200, wheel)
	if strings.Contains(v.page, "Dividing the pinion") {
		t.Error("a pinion that is not made is divided")
	}
	v.get("/desk/missing?going=96/8+60/8+?/7+30&hour-arbor=2&pendulum=994+mm").want(200, "56 teeth")
	if strings.Contains(v.page, "by the plates of the shop") {
		t.Error("nothing is cut by a search")
	}
	v = openShop(t, false)
	v.get(desk).want(200)
	if strings.Contains(v.page, "by the plates of the shop") {
		t.Error("no plates are kept")
	}
}
