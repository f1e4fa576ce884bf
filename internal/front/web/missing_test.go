package web

import (
	"bufio"
	"encoding/json"
	"net/url"
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

// A train of which nothing is left but a module and a distance of centres: it
// is searched for a minute and more.
var allLost = url.Values{"going": {"?/? ?/? ?/? ?"}, "hour-arbor": {"1"}, "pendulum": {"994 ± 3 mm"}, "module": {"0.7 ± 0.02 mm"}, "going-arbors.1.depth": {"30 ± 2 mm"}}

// followed reads what a page is told of a search until want says that it is
// enough, and then closes the page.
func (v *visit) followed(query url.Values, want func(sought) bool) (last sought) {
	v.t.Helper()
	r, err := v.client.Get(v.base + "/desk/missing/progress?" + query.Encode())
	if err != nil {
		v.t.Fatal(err)
	}
	defer r.Body.Close()
	if k := r.Header.Get("Content-Type"); k != "text/event-stream" {
		v.t.Fatalf("sent as %s", k)
	}
	lines := bufio.NewScanner(r.Body)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		data, ok := strings.CutPrefix(lines.Text(), "data: ")
		if !ok {
			continue
		}
		last = sought{}
		if err := json.Unmarshal([]byte(data), &last); err != nil {
			v.t.Fatal(err)
		}
		if want(last) {
			return last
		}
	}
	v.t.Fatalf("it ends with %+v", last)
	return last
}

func ended(m sought) bool { return !m.Running }

// A search is followed to its end, which is at an address; what cannot be
// searched for is left to the page that says what is wrong with it.
func TestSearchIsFollowed(t *testing.T) {
	v := openShop(t, false)
	v.get("/desk/missing").want(200, `data-follow="/desk/missing/progress"`, "the search is given 5 s")
	m := v.followed(url.Values{"going": {"96/8 60/8 ?/7 30"}, "hour-arbor": {"2"}, "pendulum": {"994 mm"}, "for": {"7"}, "token": {"x"}}, ended)
	if m.State != "done" || m.Share != 1 || m.At != "/desk/missing?for=7&going=96%2F8+60%2F8+%3F%2F7+30&hour-arbor=2&pendulum=994+mm" {
		t.Errorf("%+v", m)
	}
	v.get(m.At).want(200, "56 teeth")
	if m = v.followed(url.Values{"going": {"96/8 60/8 ?/7 30"}, "module": {"2 kg"}}, ended); m.State != "faulty" {
		t.Errorf("%+v", m)
	}
	v.get("/desk/train/progress").want(404)
}

// Who looks sees the best so far; a page that is closed stops the search, and
// what it had is the answer that is kept. Asked for anew it begins anew.
func TestClosedPageStopsTheSearch(t *testing.T) {
	v := openShop(t, false)
	v.addOne("1", "Clock")
	m := v.followed(allLost, func(m sought) bool { return m.Rows != nil && strings.Contains(*m.Rows, "<td") })
	if !m.Running || m.Share >= 1 || !strings.Contains(*m.Rows, "The best so far") || !strings.Contains(m.Far, "found") {
		t.Errorf("%+v", m)
	}
	v.get(m.At).want(200, "was stopped at", "the best so far are listed", "and more; the best of all are listed")
	stopped := v.page[strings.Index(v.page, "was stopped at"):][:40]
	v.get(m.At).want(200, stopped)
	v.post("/desk/missing/keep", append(pairsOf(allLost), "keep-title", "All of it", "keep-clock", "1")...).want(200, "Kept in the clock’s file", "has not come to its end")
	if m = v.followed(allLost, func(m sought) bool { return m.State == "searching" }); m.Share > 0.2 {
		t.Errorf("it goes on from before: %+v", m)
	}
}

func pairsOf(values url.Values) (out []string) {
	for name, v := range values {
		out = append(out, name, v[0])
	}
	return out
}
