package web

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"seatboard/internal/book/label"
)

// takeOff records a part by the page's form.
func (v *visit) takeOff(path string, pairs ...string) *visit {
	v.t.Helper()
	v.get(path + "/parts/new")
	n := strings.Split(strings.SplitN(v.page, `name="number" value="`, 2)[1], `"`)[0]
	return v.post(path+"/parts", append([]string{"number", n, "to", "off", "count", "1"}, pairs...)...)
}

func TestTakeDownOnThePage(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-014", "Longcase clock")
	v.get(path+"/parts").want(200, "Nothing has been taken off yet", "Next part: 1")
	v.takeOff(path, "name", "third wheel", "place", "tray 3").want(200, "Saved ", "2026-014.1 third wheel", "2026-014.2", `value="tray 3"`)
	v.takeOff(path, "name", "click screws", "count", "3", "parent", "1").want(200, "2026-014.1.1 click screws", "2026-014.1.2")
	v.takeOff(path, "name", "", "count", "three", "replaces", "x", "to", "mended").want(422, "There is a problem", "whole number", "Write why", "digits and dots", `value="three"`)
	v.get(path+"/parts").want(200, "3 pieces", "third wheel", "4 in pieces")
	v.get(path+"/parts?state=on-bench").want(200, "0 shown")
	v.get(path+"/parts/1").want(200, "third wheel", "on the bench", "Into a bath", path+"/baths/new?part=1", "back on")
	if strings.Contains(v.page, `value="dry"`) {
		t.Error("a move that is not allowed is offered")
	}
	v.post(path+"/parts/1", "do", "move", "from", "off", "to", "used-up").want(422, "Write why")
	v.get(path+"/parts/1").post(path+"/parts/1", "do", "move", "from", "off", "to", "on-bench").want(200, "Moved.", "off → on the bench")
	v.get(path+"/parts/1").post(path+"/parts/1", "do", "move", "from", "off", "to", "back-on").want(422, "1 is on the bench, not off")
	v.get(path+"/parts/1").post(path+"/parts/undo", "n", "3", "from", "1").want(200, "Taken back.", "third wheel: off")
	v.get(path+"/parts/1").post(path+"/parts/undo", "n", "1", "from", "1").want(422, "later entries lean on it", "1.1 recorded")
	v.get(path+"/parts/1.1").post(path+"/parts/1.1", "do", "split", "count", "1").want(200, "Saved.")
	v.get(path+"/parts/1.2").want(200, "click screws", "split off as 1.2")
	v.get(path+"/parts/7").want(404, "no such part")
}

func TestNumberTakenMeanwhile(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	v.get(path + "/parts/new")
	old := v.page
	v.post(path+"/parts", "number", "1", "to", "off", "count", "1", "name", "dial")
	v.page = old
	v.post(path+"/parts", "number", "1", "to", "off", "count", "1", "name", "bell").want(409, "given out meanwhile", "dial", "bell", `name="number" value="2"`)
	v.post(path+"/parts", "number", "2", "to", "off", "count", "1", "name", "bell").want(200, "1.2 bell")
}

func TestTwoDescribeOnePart(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	v.takeOff(path, "name", "click")
	before := `{"name":"click","place":"","way":"","mark":"","repair":"","looked":"","material":"","made":null,"note":""}`
	v.get(path+"/parts/1").post(path+"/parts/1", "do", "describe", "before", before, "name", "click", "mark", "two dots").want(200, "Saved.")
	v.get(path+"/parts/1").post(path+"/parts/1", "do", "describe", "before", before, "name", "click", "mark", "one dot").want(409, "saved meanwhile", "two dots", "one dot")
}

func TestCloseOutHoldsTheTrialUp(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	for i := range 3 {
		v.takeOff(path, "name", fmt.Sprintf("wheel %d", i))
	}
	v.get(path+"/parts").post(path+"/parts/move", "part", "1", "to", "back-on").want(200, "Moved.")
	v.get(path+"/parts").post(path+"/parts/move", "to", "back-on").want(422, "Tick the parts")
	v.get(path+"/close-out").want(200, "2 parts are not accounted for", "wheel 1")
	v.get(path).post(path+"/stage", "stage", "trial").want(422, "cannot go on trial", "wheel 2")
	v.post(path+"/close-out", "why-2", "at the platers", "why-3", "goes on after the trial").want(200, "Saved.", "the clock may go on trial", "at the platers")
	v.post(path+"/stage", "stage", "trial").want(200, "moved on its way")
}

// TestPartByItsNumber: the whole number of a part, typed into the box, leads
// to the part.
func TestPartByItsNumber(t *testing.T) {
	v := openBathShop(t)
	v.get("/clocks?find=2026-014.2").want(200, "click spring", "<title>")
	if v.at != "/clocks/1/parts/2" {
		t.Errorf("it led to %s", v.at)
	}
	v.get("/clocks?find=2026-014.77").want(200, "Nothing in the book has all of")
}

// The box finds parts by what they are called, by where they lie and by
// number, with their clock and place, as one types and without script.
func TestTheBoxFindsParts(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-014", "Longcase clock")
	v.takeOff(path, "name", "third wheel", "place", "tray 3")
	v.takeOff(path, "name", "click spring", "place", "bag 12")
	link := `href="` + path + `/parts/1"`
	for _, at := range []string{"/clocks?find=", "/clocks/found?find="} {
		v.get(at+"third+wheel").want(200, link, "2026-014.1", "tray 3", "Longcase clock")
		v.get(at+"tray+3").want(200, link)
		v.get(at+"014.1").want(200, link)
		v.get(at+"longcase+third").want(200, link)
		v.get(at+"bag+3").want(200, "Nothing in the book")
	}
	v.get("/clocks/found?find=2026-014.2").want(200, path+"/parts/2", "bag 12")
	for i := range 9 {
		v.takeOff(path, "name", fmt.Sprintf("pillar pin %d", i))
	}
	v.get("/clocks?find=pillar").want(200, "Further parts", "find=pillar", "all=parts")
	v.get("/clocks?all=parts&find=pillar").want(200, "pillar pin 0", "pillar pin 8")
}

// A box that is carried elsewhere takes along what lies in it; ticked parts go
// together; both are taken back at once, and what stood there is told.
func TestPutIntoAnotherPlace(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-014", "Longcase clock")
	for _, p := range [][2]string{{"dial", "box 1"}, {"hands", "box 1"}, {"click", "tray 2"}} {
		v.takeOff(path, "name", p[0], "place", p[1])
	}
	v.get(path+"/parts").want(200, "all in box 1", "all in tray 2")
	v.post(path+"/parts/move", "do", "place", "from", "box 1", "into", "shelf 4").want(200, "Moved.", "2 parts put into shelf 4")
	v.get(path+"/parts/1").want(200, "place: box 1 → shelf 4")
	v.get(path+"/parts").postForm(path+"/parts/undo", url.Values{"n": {"4", "5"}}).want(200, "all in box 1")
	v.postForm(path+"/parts/move", url.Values{"do": {"place"}, "part": {"1", "3"}, "into": {"box 9"}}).want(200, "2 parts put into box 9", "all in box 1")
	v.get("/clocks/found?find=box+9").want(200, "2026-014.1", "2026-014.3")
	v.get(path+"/parts").post(path+"/parts/move", "do", "place", "part", "1", "into", "box 9").want(422, "They lie in “box 9” already")
	v.post(path+"/parts/move", "do", "place", "part", "1").want(422, "Write where they go")
	v.post(path+"/parts/move", "do", "place", "into", "box 7").want(422, "Tick the parts that go there", `value="box 7"`)
	v.post(path+"/parts/move", "part", "2", "to", "on-bench", "into", "box 7").want(422, "Press “Put them there”")
	v.get(path+"/parts/2").want(200, "box 1")
}

// The list is narrowed to parts of which something is not written down.
func TestPartsWithout(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-014", "Longcase clock")
	v.takeOff(path, "name", "dial", "place", "box 1", "repair", "soldered foot")
	v.takeOff(path, "name", "hands", "place", "")
	v.takeOff(path, "name", "", "place", "tray 1")
	v.get(path+"/parts").want(200, "without a place 1", "without a photograph 3", "without a name 1", "not said of what 3", "to look at again 1")
	for lack, want := range map[string]string{"place": "2 hands", "name": "3 not named", "look": "1 dial"} {
		v.get(path+"/parts?lack="+lack).want(200, "1 shown", want)
	}
	v.get(path+"/parts?lack=photo&state=off").want(200, "3 shown")
	v.post(path+"/parts/move", "part", "2", "to", "back-on", "lack", "place").want(200, "Moved.")
	v.get(path+"/parts?lack=place").want(200, "without a place 0", "0 shown")
	v.get(path+"/parts?lack=place").post(path+"/parts/move", "part", "2", "to", "kept", "lack", "place").want(422, "without a place 0")
}

// A page that was open from before does not move a clock back that was moved
// elsewhere meanwhile.
func TestStageMovedMeanwhile(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-014", "Longcase clock")
	v.get(path).want(200, `name="was" value="taking-in"`)
	v.post(path+"/stage", "was", "taking-in", "stage", "work").want(200, "moved on its way")
	v.post(path+"/stage", "was", "taking-in", "stage", "survey").want(409, "moved meanwhile", "“Work”", "“Taking in”")
	v.get(path).want(200, `name="was" value="work"`)
}

// A caution with its authority stands over the list of parts, and its name
// beside every part that it goes with.
func TestCautionsInTheListOfParts(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-014", "Longcase clock")
	v.takeOff(path, "name", "dial")
	v.takeOff(path, "name", "dial feet pins", "parent", "1")
	v.takeOff(path, "name", "click")
	v.get(path+"/condition").post(path+"/condition", "read", "0", "area", "dial", "day", "2026-03-04", "seen", "white bloom", "hazard", "lead").want(200)
	v.get(path+"/parts").want(200, "Caution, 1, 1.1.", "CCI Notes 1/8", "Local law and licensed practice decide", "caution: lead")
	if n := strings.Count(v.page, "caution: lead"); n != 2 {
		t.Errorf("the caution stands beside %d parts, want the dial and its pins", n)
	}
	v.get(path+"/parts?lack=look").want(200, "0 shown")
	if strings.Contains(v.page, "CCI Notes") {
		t.Error("a caution of parts that are not shown")
	}
}

// Parts of several clocks are put into a place one after the other, by whole
// number, short id or the address that a scanner types.
func TestScannedIntoAPlace(t *testing.T) {
	v := openShop(t, false)
	one, two := v.addOne("2026-014", "Longcase clock"), v.addOne("7", "Bracket clock")
	v.takeOff(one, "name", "third wheel", "place", "tray 1")
	v.takeOff(two, "name", "click", "place", "tray 1")
	v.get(two + "/clock.json")
	short := label.Short(regexp.MustCompile(`"uid": "([0-9a-f]+)"`).FindStringSubmatch(v.page)[1], "1")
	v.get("/places").want(200, "Into a place")
	v.post("/places", "place", "box 9", "part", "2026-014.1").want(200, "Moved.", "Into box 9", "third wheel", "Longcase clock")
	v.post("/places", "place", "box 9", "part", "http://192.168.1.7:7870/p/"+strings.ToLower(short)).want(200, "Moved.", "click", "third wheel")
	v.post("/places", "place", "box 9", "part", "7.1").want(422, "They lie in “box 9” already", `value="7.1"`)
	v.post("/places", "place", "box 9", "part", "7.2").want(422, "no part of a clock in the book")
	v.post("/places", "place", "box 9", "part", short[:7]+"8").want(422, "no such part is in its ledger")
	v.post("/places", "place", "", "part", "7.1").want(422, "Write where they go", `value="7.1"`)
	v.get("/places?place=tray+1").want(200, "Nothing lies there yet")
	v.get(one+"/parts").want(200, `href="/places"`)
}
