package web

import (
	"strings"
	"testing"
)

// A survey with a lost count leads to the search for it, filled in; the search
// leads on.
func TestMissingFromTheSurvey(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	v.get(path+"/survey/train").post(path+"/survey/train", "going", "96/8 60/8 ?/7 30", "hour-arbor", "2", "going-arbors.3.wheel-diameter", "41 mm")
	v.want(200, "Find what is missing", `href="/desk/missing?for=1"`)
	v.get(path+"/survey/pendulum").post(path+"/survey/pendulum", "length", "994 mm")
	v.get("/desk/missing?for=1").want(200, "Filled in from the survey of 1", "96/8 60/8 ?/7 30", "994 mm", "3 wheel 41 mm")
	v.post("/desk/missing", "for", "1", "going", "96/8 60/8 ?/7 30", "hour-arbor", "2", "pendulum", "994 mm").want(200, "56 teeth", "halves its odds")
	v.get(path+"/survey/train").post(path+"/survey/train", "going", "96/8 60/8 56/7 30")
	v.get(path + "/survey/train").want(200)
	if strings.Contains(v.page, "Find what is missing") {
		t.Error("nothing is missing any more")
	}
}
