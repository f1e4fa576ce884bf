package web

import (
	"strings"
	"testing"
)

func TestInterventionsAreWrittenAndCorrected(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("7", "Clock")
	at := path + "/interventions"
	v.get(at).want(200, "Nothing is written down that was done")
	v.post(at, "found", "kept though wrong", "done", "", "who", "", "when", "soon", "hours", "five", "part", "x", "undo", "perhaps", "added", "new ivory").want(422,
		"kept though wrong", "Say who did it", "like 2026-03-04", "Write what was done", "is not the number of a part", "Choose whether it can be undone", "what the law allows here", `value="five"`)
	v.get(at).post(at, "found", "worn", "done", "bushed", "who", "Ada", "when", "2026-03-04", "hours", "1:30", "added", "brass").want(200, "Saved.", "bushed", "not told yet", "1:30 h")
	v.get(at+"/1").want(200, "Whether it can be undone is not said", `name="read" value="1"`)
	v.post(at+"/1", "read", "1", "found", "worn", "done", "bushed", "who", "Ada", "when", "2026-03-04", "hours", "1:30", "added", "bronze", "undo", "partly", "correction", "read the bar").want(200, "Saved.", "bronze", "partly")
	v.post(at+"/1", "read", "1", "found", "worn", "done", "bushed", "who", "Ada", "when", "2026-03-04", "hours", "1:30", "added", "steel").want(409, "bronze", "steel", "Where the two differ")
	v.get(at+"/1").want(200, "read the bar", "<del>brass</del> bronze")
	v.post(path+"/interventions/undo", "n", "2").want(200, "Taken back.")
	if v.get(at); strings.Contains(v.page, "bronze") {
		t.Error("the correction still stands")
	}
	v.get(at + "/9").want(404)
	v.get(at + ".pdf").want(200)
}

func TestStoresOnThePage(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("7", "Clock")
	v.get("/stores").want(200, "No material is named yet")
	v.post("/stores", "do", "name", "name", "", "unit", "", "low", "few", "note", "kept").want(422, "few", "is not an amount", `value="kept"`)
	v.get("/stores").post("/stores", "do", "name", "name", "gut line", "unit", "m", "low", "2").want(200, "Saved.", "gut line")
	v.post("/stores", "do", "came-in", "material", "1", "amount", "10,5", "source", "batch 12").want(200, "10.5 m gut line came in (batch 12)")
	v.get(path+"/materials").post(path+"/materials", "do", "used", "material", "", "amount", "x").want(422, "Choose the material", "is not an amount")
	v.get(path+"/materials").post(path+"/materials", "do", "used", "material", "1", "amount", "8.5").want(200, "From the stores, for this clock")
	v.get("/stores").want(200, "gut line is low: 2 m left", "used for 7")
	v.post("/stores", "read", "1", "do", "counted", "material", "1", "amount", "10").want(409, "has written of this material meanwhile", "2 m", "10 m")
	v.get("/stores").post("/stores", "do", "back", "n", "3").want(200, "taken back")
	if v.get("/stores"); strings.Contains(v.page, "is low") {
		t.Error("what was taken back still counts")
	}
	v.post("/stores", "do", "used", "material", "1", "amount", "1", "job", "99").want(422, "no clock")
}
