package web

import (
	"html"
	"regexp"
	"slices"
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

// A part is written down as made with its line in the originality ledger, all
// mistakes at once and nothing lost, and is taken back as one.
func TestPartMadeOnThePage(t *testing.T) {
	v := openShop(t, true)
	path := "/clocks/2/making/1"
	v.get(path).want(200, "The part is made: write it down")
	v.get(path+"/part").want(200, `name="part-name" value="third wheel of 60: what it would come to"`, "A part made new", "third wheel", `value="not found"`, "made new, by sheet 1")
	v.again(path+"/part", "part-name", "third wheel", "part-count", "none", "part-parent", "3.x", "found", "lost", "done", "", "who", "tester", "when", "yesterday", "hours", "long")
	v.want(422, "whole number from 1", "not the number of a part", "Write what was done", "Write the day like", `value="long"`, `href="#f-part-parent"`, `value="yesterday"`)
	v.again(path+"/part", "part-name", "third wheel", "part-count", "1", "part-parent", "3.7", "found", "lost", "done", "cut", "who", "tester", "when", "2026-11-24")
	v.want(422, "3.7")
	v.post(path+"/part", "read", "7", "part-name", "third wheel", "part-count", "1", "done", "cut", "who", "tester", "when", "2026-11-24", "why", "kept on the page")
	v.want(409, "worked this out anew meanwhile", "kept on the page")
	v.again(path+"/part", "part-name", "third wheel", "part-count", "1", "part-material", "brass", "made", "brass", "found", "third wheel lost", "done", "new wheel cut, 60 teeth", "who", "tester", "when", "2026-11-24", "undo", "freely", "kept_at", "not found")
	v.want(200, "Written down: the part", "third wheel", "mended or made new", `href="`+path+`"`)
	part := v.at
	v.get("/clocks/2/interventions").want(200, "new wheel cut, 60 teeth", "part "+part[strings.LastIndexByte(part, '/')+1:])
	v.get("/clocks/2/making").want(200, "made")
	v.get(path).want(200, "Part made by it", "No drawing was kept")
	v.post(path+"/note", "part", "99").want(422, "no part", `value="99"`)
	v.get(path).post(path+"/note", "part", "3").want(200, "Saved.", "Beats an hour")
	v.get(path).post("/clocks/2/making/unmake", "n", "4").want(200, "Taken back")
	v.get(part).want(404)
	v.get("/clocks/2/interventions")
	if strings.Contains(v.page, "new wheel cut") {
		t.Error("the line of a part that was taken back stands")
	}
}

var keptHref = regexp.MustCompile(`href="(/clocks/\d+/making/\d+/kept/[0-9a-f]{64})">([^<]*)<`)

// The drawings that a part was made by stay as they were when its sheet is
// worked out anew, and come from the page of the part.
func TestDrawingsOfAPartStay(t *testing.T) {
	v := openShop(t, false)
	clock := v.addOne("2026-030", "Longcase clock")
	values := []string{"count", "30", "diameter", "40 mm", "spaces", "7.5", "drop", "1°", "lift", "2°"}
	v.get("/desk/escape-wheel?for=2026-030").post("/desk/escape-wheel/keep", append(values, "keep-title", "Escape wheel", "keep-clock", "2026-030")...)
	v.want(200, "Kept in the clock’s file", "/drawing/")
	sheet := v.at
	first := regexp.MustCompile(`/drawing/([a-z-]+)\.dxf`).FindStringSubmatch(v.page)
	if first == nil {
		t.Fatal("the sheet offers no drawing")
	}
	dxf := v.get(sheet + "/drawing/" + first[1] + ".dxf").page
	v.get(clock+"/drawings.pdf").want(200, "%PDF-")
	v.get(sheet+"/part").want(200, `name="drawing" value="`+first[1]+`"`)
	v.again(sheet+"/part", "part-name", "escape wheel", "part-count", "1", "drawing", first[1], "found", "lost", "done", "cut", "who", "tester", "when", "2026-11-24")
	v.want(200, "Made by")
	part := v.at
	kept := keptHref.FindAllStringSubmatch(v.page, -1)
	if len(kept) != 3 {
		t.Fatalf("%d files are kept with the part, want PDF, DXF and SVG", len(kept))
	}
	v.get(sheet).again(sheet, append(slices.Clone(values), "title", "Escape wheel", "diameter", "44 mm")...).want(200, "Saved.")
	if v.get(sheet+"/drawing/"+first[1]+".dxf").page == dxf {
		t.Error("the drawing of another wheel is the same")
	}
	v.get(part)
	for _, k := range kept {
		v.get(k[1])
		v.want(200)
		if strings.HasSuffix(k[2], ".dxf") && v.page != dxf {
			t.Error("the drawing that the part was made by has changed")
		}
		if !strings.Contains(v.head.Get("Content-Disposition"), k[2]) || v.head.Get("Content-Type") == "" {
			t.Errorf("%s: %v", k[2], v.head)
		}
	}
	v.get(sheet + "/kept/" + strings.Repeat("0", 64)).want(404)
}

// The whole way of a lost wheel: the survey lacks it, the search finds its
// count, which goes into the survey as inferred, its teeth are worked out, and
// the part is written down with its drawings.
func TestTheWayOfALostWheel(t *testing.T) {
	v := openShop(t, false)
	clock := v.addOne("2026-031", "Longcase clock")
	train := clock + "/survey/train"
	v.get(train).post(train, "going", "96/8 60/8 ?/7 30", "hour-arbor", "2", "going-arbors.3.depth", "25.8 mm ± 0.05 mm")
	v.get(clock+"/survey/pendulum").post(clock+"/survey/pendulum", "length", "994 mm ± 2 mm")
	v.get(train).want(200, "Find what is missing", "/desk/missing?for=2026-031")
	v.get("/desk/missing?for=2026-031").want(200, "Filled in from the survey")
	values := formValues(v.page)
	v.post("/desk/missing", values...)
	v.want(200, "Choose for the survey of 2026-031", "96/8 60/8 56?/7 30")
	take := regexp.MustCompile(`name="take" value="(\d+)">96/8 60/8 56\?/7 30<`).FindStringSubmatch(v.page)
	if take == nil {
		t.Fatal("56 teeth cannot be chosen")
	}
	page := v.page
	v.post("/desk/missing/take", append(slices.Clone(values), "take", take[1])...)
	v.want(200, "marked as inferred", `value="56?"`, `value="25.8 mm ± 0.05 mm"`)
	v.get(clock+"/making").want(200, "Missing wheels", "56")
	v.page = page
	v.post("/desk/missing/take", append(slices.Clone(values), "take", take[1])...).want(409, "says something else")

	v.get(clock+"/making/1").want(200, "Go on with")
	cut := regexp.MustCompile(`href="(/desk/tooth\?[^"]*)"`).FindStringSubmatch(v.page)
	if cut == nil {
		t.Fatal("the sheet does not lead to the teeth")
	}
	v.get(html.UnescapeString(cut[1])).want(200, `value="56"`, `value="7"`, "Put it into a clock’s file")
	v.post("/desk/tooth/keep", append(formValues(v.page), "keep-title", "Third wheel", "keep-clock", "2026-031")...).want(200, "Third wheel", "/drawing/wheel.dxf")
	sheet := v.at
	v.get(sheet+"/part").want(200, "Wheel, 56 teeth", `name="part-name" value="third wheel"`)
	v.again(sheet+"/part", "part-name", "third wheel", "part-count", "1", "drawing", "wheel", "found", "third wheel lost", "done", "new wheel cut, 56 teeth", "who", "tester", "when", "2026-11-24", "undo", "freely").want(200, "wheel.dxf", "Made by")
	v.get(clock+"/interventions").want(200, "new wheel cut, 56 teeth")
}

var filled = regexp.MustCompile(`name="([^"]+)" value="([^"]+)"`)

// formValues are the values that stand in the fields of a page.
func formValues(page string) []string {
	var out []string
	for _, m := range filled.FindAllStringSubmatch(page, -1) {
		if m[1] != "token" && m[1] != "find" && m[1] != "take" {
			out = append(out, m[1], html.UnescapeString(m[2]))
		}
	}
	return out
}
