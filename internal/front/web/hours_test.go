package web

import (
	"log/slog"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"seatboard/internal/shop"
)

// timedShop is a shop with a clock on the wall that the test sets.
func timedShop(t *testing.T, now *time.Time) *visit {
	t.Helper()
	sh, err := shop.Open(t.Context(), t.TempDir(), func() time.Time { return *now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	return visitShop(t, sh, false)
}

// hidden is the value of a hidden field of the strip.
func (v *visit) hidden(name string) string {
	v.t.Helper()
	_, rest, ok := strings.Cut(v.page, `name="`+name+`" value="`)
	if !ok {
		v.t.Fatalf("%s: no field %s", v.at, name)
	}
	value, _, _ := strings.Cut(rest, `"`)
	return value
}

func TestWorkBeginsAndStopsOnAnyPage(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	v := timedShop(t, &now)
	path := v.addOne("2026-014", "Longcase clock")
	v.addOne("2026-015", "Bracket clock")
	v.get(path+"/parts?order=taken").want(200, "Begin work on 2026-014")
	v.post("/hours/start", "clock", "1", "back", v.hidden("back")).want(200, "Work has begun", "At work:", "Take-down")
	now = now.Add(25 * time.Minute)
	v.get("/desk").want(200, "At work:", "2026-014", "0:25")
	v.post("/hours/start", "clock", "0", "back", "/desk").want(422, "since 09:30 on 2026-014", "stop that first")
	v.get("/clocks/2").want(200, "Change to 2026-015")
	v.post("/hours/start", "clock", "2", "over", "yes", "back", "/clocks/2").want(200, "Work has begun", "0:00")
	now = now.Add(time.Hour)
	v.get("/sources").post("/hours/stop", "clock", "2", "n", "1", "back", "//evil.example/").want(200, "Stopped.", "1:00")
	if !strings.HasSuffix(v.at, "/clocks/2/hours/1") {
		t.Errorf("went to %s", v.at)
	}
	v.post("/hours/stop", "clock", "2", "n", "1", "back", "/").want(409, "stopped already")
	v.get(path+"/hours").want(200, "25 minutes", "stretch", "0:25")
	v.get("/hours").want(200, "1:25", "2026-015")
}

// TestStripAlone: script gets the strip alone, with the answer in it.
func TestStripAlone(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	v := timedShop(t, &now)
	v.addOne("7", "Clock")
	page := v.get("/").page
	v.post("/hours/start", "clock", "1", "part", "yes", "page", "0", "back", "/").want(200, "At work:", "7")
	if strings.Contains(v.page, "<html") {
		t.Error("a whole page was sent")
	}
	v.page = page
	v.post("/hours/start", "clock", "1", "part", "yes", "page", "0", "back", "/").want(200, "stop that first", "At work:")
	v.page = page
	now = now.Add(time.Minute)
	v.post("/hours/stop", "clock", "1", "n", "1", "part", "yes", "page", "1", "back", "/").want(200, "Stopped:", "0:01", "Begin work on 7")
}

func TestForgottenWorkIsAskedAbout(t *testing.T) {
	now := time.Date(2026, 11, 25, 16, 0, 0, 0, time.UTC)
	v := timedShop(t, &now)
	v.addOne("7", "Clock")
	v.post("/hours/start", "clock", "1", "back", "/")
	now = now.Add(17 * time.Hour)
	v.get("/").want(200, "When did the work end?", "/clocks/1/hours/1")
	if strings.Contains(v.page, "Begin work") {
		t.Error("another can be begun beside it")
	}
	v.get("/clocks/1/hours").want(200, "over midnight", "stands in no sum")
	v.get("/clocks/1/hours/1").want(200, "Nothing is cut short", "22:00, 6:00 h", "09:00 on 2026-11-26, 17:00 h")
	v.post("/clocks/1/hours/1", "do", "end", "end", "late").want(422, "not an hour", `value="late"`)
	v.post("/clocks/1/hours/1", "do", "end", "end", "17.30").want(200, "Written down with that end.", "1:30", "answered")
	v.get("/").want(200, "Begin work")
	v.get("/hours").want(200, "1:30 h", "2026-11-25, tester: 1:30")
}

func TestHoursByHandOnThePage(t *testing.T) {
	now := time.Date(2026, 11, 25, 16, 0, 0, 0, time.UTC)
	v := timedShop(t, &now)
	path := v.addOne("7", "Clock")
	form := []string{"who", "Ada", "clock", "7", "day", "2026-11-25", "task", "pivots", "chapter", "Movement"}
	v.get(path+"/hours").post(path+"/hours", append(form, "span", "2", "who", "", "day", "yesterday")...)
	v.want(422, "2 h or 2 min", "is not a day", `value="yesterday"`, `value="pivots"`, "<details open>")
	v.post(path+"/hours", append(form, "span", "9:15–11:45")...).want(200, "The hours are written down.", "2:30 hours", "pivots", "Ada")
	v.get(path+"/hours.csv").want(200, "2026-11-25,09:15–11:45,2:30,Ada,7,Movement,pivots")
	v.get(path+"/hours.pdf").want(200, "%PDF")
	v.get("/hours").post("/hours", "who", "Bo", "clock", "", "day", "", "span", "1,5 h", "note", `"><script>alert(1)</script>`).want(200, "written down", "For no clock yet", "1:30")
	if strings.Contains(v.page, "<script>alert") {
		t.Error("a note lets markup through")
	}
	v.get("/hours.csv?week=2026-11-27").want(200, "pivots", "2026-11-25,,1:30,Bo")
	v.get("/hours/1").want(200, "Work for no clock yet")
	old := v.page
	v.post("/hours/1", "do", "correct", "who", "Bo", "clock", "7", "day", "2026-11-25", "span", "1:30", "task", "dial").want(200, "Saved.", "moved from", "dial", "/clocks/1/hours/2")
	v.page = old
	v.post("/hours/1", "do", "correct", "who", "Cy", "clock", "", "day", "2026-11-25", "span", "1:30").want(409, "saved meanwhile", "Cy")
	at := path + "/hours/1"
	v.get(at).post(at, "do", "strike", "why", "").want(422, "Write why")
	v.post(at, "do", "strike", "why", "on the wrong clock").want(200, "Marked removed", "on the wrong clock")
	v.get(path+"/hours").want(200, "1:30 hours")
	v.get(at).post(at, "do", "back").want(200, "Taken back.")
	v.get(path+"/hours").want(200, "4:00 hours")
	v.get(at).post(at, "do", "back").want(200, "1:30 hours")
	v.get("/clocks/1/hours/99").want(404, "no such work")
	v.get("/hours/strip/1").want(404)
}

// BenchmarkFrameWithHours is a page with nothing of its own, in a shop with a
// thousand stretches written down and one that runs.
func BenchmarkFrameWithHours(b *testing.B) {
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	sh, err := shop.Open(b.Context(), b.TempDir(), func() time.Time { return now })
	if err != nil {
		b.Fatal(err)
	}
	defer sh.Close()
	s, err := New(Config{Shop: sh, Log: slog.New(slog.DiscardHandler), By: "Ada"})
	if err != nil {
		b.Fatal(err)
	}
	for range 1000 {
		now = now.Add(time.Minute)
		if _, err := sh.StartWork(b.Context(), "Ada", 0, "", "", true); err != nil {
			b.Fatal(err)
		}
	}
	h := s.Handler()
	for b.Loop() {
		r := httptest.NewRequest("GET", "http://127.0.0.1/keys", nil)
		w := httptest.NewRecorder()
		if h.ServeHTTP(w, r); w.Code != 200 || !strings.Contains(w.Body.String(), "At work") {
			b.Fatal(w.Code)
		}
	}
}
