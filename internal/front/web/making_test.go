package web

import (
	"regexp"
	"strings"
	"testing"
)

var readField = regexp.MustCompile(`name="read" value="([^"]*)"`)

// again sends the form of a sheet as the page would, with the entry it shows.
func (v *visit) again(path string, pairs ...string) *visit {
	v.t.Helper()
	m := readField.FindStringSubmatch(v.page)
	if m == nil {
		v.t.Fatalf("%s has no form of a sheet", v.at)
	}
	return v.post(path, append([]string{"read", m[1]}, pairs...)...)
}

// An answer of the desk goes into a clock's file, is opened again, worked out
// anew and struck out; what stood before stays in the log.
func TestSheetsOfAClock(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-012", "Longcase clock")
	v.get(path+"/survey/pendulum").post(path+"/survey/pendulum", "length", "994 mm", "latitude", "52.6° N")
	v.get(path+"/making").want(200, "Nothing is kept", `href="/desk/pendulum?for=2026-012"`, "filled in from the survey")
	v.get("/desk/pendulum?for=2026-012").want(200, "Filled in from the survey of 2026-012", `value="994 mm"`, `name="for" value="2026-012"`)
	v.post("/desk/pendulum", "for", "2026-012", "length", "994 mm", "nut-pitch", "40 tpi")
	v.want(200, `value="2026-012"`, "Put it into a clock’s file")

	keep := []string{"length", "994 mm", "nut-pitch", "40 tpi", "keep-note", "for the new nut"}
	v.post("/desk/pendulum/keep", append(keep, "keep-title", "", "keep-clock", "2026-999")...)
	v.want(422, "No clock has the number 2026-999", "Give it a name", "for the new nut", `href="#f-keep-clock"`, `href="#f-keep-title"`, `value="40 tpi"`)
	v.post("/desk/pendulum/keep", append(keep, "keep-title", "Nut of the pendulum", "keep-clock", "2026-012")...)
	v.want(200, "Kept in the clock’s file", "Nut of the pendulum", "for the new nut", `value="40 tpi"`, "sheet 1")
	at := v.at
	v.get(path+"/making").want(200, "Nut of the pendulum", at)
	v.get(at+"/answer.json").want(200, `"length"`)
	v.get(at+"/sheet.pdf").want(200, "%PDF-")

	old := v.get(at).page
	v.again(at, "title", "Nut", "length", "so long", "nut-pitch", "x").want(422, "so long", "There is a problem", `value="x"`)
	v.get(at).again(at, "title", "Nut", "length", "995 mm", "why", "measured again").want(200, "Saved.", "995 mm", "worked out anew", "measured again", "worked out 2 times")
	v.page = old
	v.again(at, "title", "Mine", "length", "996 mm").want(409, "saved meanwhile", "995 mm", "996 mm")
	v.get(at).again(at, "title", "Nut", "length", "995 mm").want(422, "Nothing was changed")
	v.get(at).post(path+"/making/undo", "n", "2").want(200, "Taken back")
	v.get(at).want(200, `value="994 mm"`, "taken back")
	v.again(at, "do", "strike").want(200, "Marked removed", "Struck out: 1")
	v.get(at).want(200, "does not count")
	if strings.Contains(v.page, "Work it out anew and keep it") {
		t.Error("what was struck out can be changed")
	}
	v.get(path+"/making/9").want(404, "no such sheet")
}
