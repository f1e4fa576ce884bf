package web

import (
	"fmt"
	"html"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// onTrialAt is a shop in Berlin with one clock, whose time of day the test
// sets.
func onTrialAt(t *testing.T, now *time.Time) (*visit, *shop.Shop) {
	t.Helper()
	sh, err := shop.Open(t.Context(), t.TempDir(), func() time.Time { return *now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	v := visitShop(t, sh, false)
	v.addOne("1", "Regulator")
	return v, sh
}

// says wants a status and words on the page, as they are read.
func says(v *visit, status int, words ...string) {
	v.t.Helper()
	v.want(status)
	page := strings.ReplaceAll(html.UnescapeString(v.page), "\u00a0", " ")
	for _, w := range words {
		if !strings.Contains(page, w) {
			v.t.Errorf("%s: %q is not on the page", v.at, w)
		}
	}
}

func lastReading(t *testing.T, sh *shop.Shop) (at time.Time, fast, u float64) {
	t.Helper()
	x, err := sh.Trial(t.Context(), 1)
	if err != nil || len(x.Query.Readings) == 0 {
		t.Fatal(err, "no reading")
	}
	r := x.Query.Readings[len(x.Query.Readings)-1]
	return r.At, float64(r.Error), r.U
}

func TestLookAtAClock(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 3, 4, 9, 14, 0, 0, berlin)
	v, sh := onTrialAt(t, &now)
	path := "/clocks/1/trial"
	for i, c := range []struct {
		typed []string
		at    string
		fast  float64
		words string
	}{
		{[]string{"seen", "12 s fast"}, "09:14:00", 12, "12 s fast"},
		{[]string{"seen", "-3", "do", "read", "shown", "yes", "age", "4000"}, "09:13:56", -3, "3 s slow"},
		{[]string{"seen", "9:14:12", "age", "2000", "shown", "yes"}, "09:13:58", 14, "14 s fast"},
		{[]string{"seen", "8:30:05", "at", "8:30:00"}, "08:30:00", 5, "5 s fast"},
		{[]string{"seen", "right", "temperature", "17.5", "humidity", "55", "age", "99999999999"}, "09:14:00", 0, "17.5 °C, 55"},
	} {
		now = now.Add(24 * time.Hour)
		says(v.get(path).post(path, c.typed...), 200, "Written down.", c.words)
		at, fast, _ := lastReading(t, sh)
		if g := at.In(berlin).Format("15:04:05"); g != c.at || math.Abs(fast-c.fast) > 1e-6 {
			t.Errorf("%d: %g s fast at %s, want %g at %s", i, fast, g, c.fast, c.at)
		}
	}
	// Air alone is no reading.
	says(v.get(path).post(path, "pressure", "29.92 inHg"), 200, "1013.2 hPa")
	x, err := sh.Trial(t.Context(), 1)
	if err != nil || len(x.Query.Readings) != 5 || len(x.Query.Air) != 2 {
		t.Errorf("%d readings, %d of air, %v", len(x.Query.Readings), len(x.Query.Air), err)
	}
	says(v.get(path).post(path, "do", "back", "n", "1"), 200, "Taken back.", "12 s fast</s> taken back")
}

// Every mistake of a look stands beside its field, what was typed stays, and
// nothing is written.
func TestBadLooks(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 10, 25, 9, 30, 0, 0, berlin) // the night the clocks went back
	v, sh := onTrialAt(t, &now)
	path := "/clocks/1/trial"
	for _, c := range []struct {
		typed []string
		says  []string
	}{
		{nil, []string{"Enter what the clock is wrong by"}},
		{[]string{"seen", "12"}, []string{"12 fast or 12 slow"}},
		{[]string{"seen", "soon", "at", "2:30", "temperature", "hot", "pressure", "3 kg"}, []string{"cannot be read", "came twice", "2:30 +02:00 or 2:30 +01:00", "hot", "weight", `value="soon"`, `value="2:30"`}},
		{[]string{"seen", "+3", "at", "2026-03-29 2:30"}, []string{"There was no 2:30 on 2026-03-29"}},
		{[]string{"seen", "+3", "at", "17:40"}, []string{"17:40 today is still to come", "yesterday 17:40"}},
		{[]string{"seen", "+3", "temperature", "99"}, []string{"from −73 °C to 76 °C"}},
		{[]string{"do", "nut-up", "nut", "much"}, []string{"not a part of a turn", `value="much"`}},
		{[]string{"do", "nut-up", "nut", "12 divisions", "touch-at", "17:40"}, []string{"Survey, Pendulum", "still to come"}},
		{[]string{"do", "tray-on", "tray", "2 m"}, []string{"lies on a tray"}},
		{[]string{"do", "set", "after", "9:14:12"}, []string{"wrong by afterwards"}},
		{[]string{"do", "worked"}, []string{"what was done"}},
	} {
		says(v.get(path).post(path, c.typed...), 422, append(c.says, "There is a problem")...)
	}
	if x, err := sh.Trial(t.Context(), 1); err != nil || x.Book.Len() != 0 {
		t.Errorf("%d entries, %v", x.Book.Len(), err)
	}
	v.post(path, "do", "dance").want(404)
}

func TestTouchAClock(t *testing.T) {
	now := time.Date(2026, 3, 4, 9, 14, 0, 0, time.UTC)
	v, sh := onTrialAt(t, &now)
	path := "/clocks/1/trial"
	v.get("/clocks/1/survey/pendulum").post("/clocks/1/survey/pendulum", "version", "0", "length", "994 mm", "nut-pitch", "0.8 mm", "nut-divisions", "60")
	for _, c := range []struct {
		typed []string
		says  string
	}{
		{[]string{"do", "nut-up", "nut", "1/2"}, "nut up ½ of a turn"},
		{[]string{"do", "nut-down", "nut", "12 div", "touch-at", "8:00"}, "nut down 0.2 of a turn"},
		{[]string{"do", "tray-off", "tray", "500 mg"}, "0.5 g off"},
		{[]string{"do", "set", "after", "3 s slow"}, "hands set, then 3 s slow"},
		{[]string{"do", "started"}, "started"},
		{[]string{"do", "moved", "words", "into its case"}, "moved, into its case"},
		{[]string{"do", "worked", "words", "new suspension"}, "new suspension"},
		{[]string{"do", "wound"}, "wound"},
	} {
		says(v.get(path).post(path, c.typed...), 200, "Written down.", c.says)
	}
	x, err := sh.Trial(t.Context(), 1)
	if err != nil || len(x.Query.Touches) != 8 || x.Query.Touches[1].Turns != -0.2 || x.Query.Touches[1].At.Hour() != 8 || x.Query.Known.Divisions != 60 {
		t.Errorf("%+v %v", x.Query.Touches, err)
	}
	// The button pressed twice.
	v.get(path)
	v.post(path, "do", "wound", "read", "9").want(200)
	v.post(path, "do", "wound", "read", "8").want(409, "written down already")
}

// The computer's clock went back between two readings: it is asked about,
// neither is used, and the answer puts one side right.
func TestComputerClockWentBack(t *testing.T) {
	now := time.Date(2026, 3, 4, 9, 14, 0, 0, time.UTC)
	v, sh := onTrialAt(t, &now)
	path := "/clocks/1/trial"
	v.get(path).post(path, "seen", "+100", "shown", "yes").want(200)
	now = now.Add(-90 * time.Second)
	v.get(path).post(path, "seen", "+190", "shown", "yes").want(200, "Asked", "put back by 90.0 s", "The time is right since")
	about, from := hidden(v.page, "about"), hidden(v.page, "from")
	readings := hidden(v.page, "readings")
	if x, _ := sh.Trial(t.Context(), 1); len(x.Questions) != 1 || !x.Query.Readings[0].Out {
		t.Fatalf("%+v, %+v", x.Questions, x.Query.Readings)
	}
	v.post(path, "do", "answer", "about", about, "from", from, "readings", readings, "say", "dance").want(422, "Choose one of the answers")
	v.post(path, "do", "answer", "about", about, "from", from, "readings", readings, "say", "since").want(200, "Written down.", "put right by")
	now = now.Add(10 * time.Minute) // past the first, which lay in the future until then
	x, err := sh.Trial(t.Context(), 1)
	if err != nil || len(x.Questions) != 0 {
		t.Fatalf("%+v %v", x.Questions, err)
	}
	// It was fast by 90 s before it was put back: the clock was 190 s fast.
	if a := x.Query.Readings[0]; math.Abs(float64(a.Error)-190) > 0.01 || a.Out {
		t.Errorf("%+v", a)
	}
	v.post(path, "do", "answer", "about", about, "from", from, "readings", readings, "say", "since").want(409, "not asked any more")
}

// hidden is the value of a field of the page that is not shown.
func hidden(page, name string) string {
	_, rest, _ := strings.Cut(page, fmt.Sprintf(`name="%s" value="`, name))
	value, _, _ := strings.Cut(rest, `"`)
	return html.UnescapeString(value)
}

func TestTimeOfDayForThePage(t *testing.T) {
	now := time.Date(2026, 7, 4, 9, 14, 0, 0, time.FixedZone("", 7200))
	v, _ := onTrialAt(t, &now)
	v.get("/time.json").want(200, fmt.Sprint(now.UnixMilli()), "7200")
}

// BenchmarkTrialPage is the page of a clock that was read every hour for a
// year, whose rate is reckoned already.
func BenchmarkTrialPage(b *testing.B) {
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	sh, err := shop.Open(b.Context(), b.TempDir(), func() time.Time { return now })
	if err != nil {
		b.Fatal(err)
	}
	defer sh.Close()
	if _, err := sh.AddClock(b.Context(), "bench", job.Clock{Number: "1"}); err != nil {
		b.Fatal(err)
	}
	var events []trial.Event
	for i := range 8760 {
		at := now.Add(time.Duration(i-8760) * time.Hour)
		fast := float64(i)/12 + 2*math.Sin(float64(i)/40) + 0.3*math.Sin(float64(i)*2.7)
		events = append(events, trial.OfReadings(nil, "", regulate.Reading{At: at, How: regulate.ByHand, Error: unit.Duration(fast), U: 0.5}))
	}
	if _, err := sh.AddTrial(b.Context(), "bench", 1, 0, events...); err != nil {
		b.Fatal(err)
	}
	v := visitShop(b, sh, false)
	v.get("/clocks/1/trial").want(200)
	for b.Loop() {
		v.get("/clocks/1/trial").want(200)
	}
	b.ReportMetric(float64(len(v.page))/1000, "kB/page")
}

// TestTurnedAsAdvised: the turn that is advised is written down by one press.
func TestTurnedAsAdvised(t *testing.T) {
	v := openShop(t, true)
	v.get("/clocks/1/trial").want(200, "Turned as advised: ")
	_, rest, ok := strings.Cut(v.page, `name="do" value="advised nut `)
	words, _, _ := strings.Cut(rest, `"`)
	if !ok || words == "" {
		t.Fatal("no button writes the advised turn down")
	}
	way, _, _ := strings.Cut(words, " ")
	v.post("/clocks/1/trial", "do", "advised nut "+words).want(200, "nut "+way+" ")
	if strings.Contains(v.page, "advised nut "+words) {
		t.Errorf("it is advised again right after it was done")
	}
	v.post("/clocks/1/trial", "do", "advised nut round").want(422, "There is a problem")
}

// TestRegulationPages: the sheets of the regulation and of a new home say what
// they are for; TestPages looks at them.
func TestRegulationPages(t *testing.T) {
	v := openShop(t, true)
	for _, p := range [][]string{
		{"/clocks/1/trial", "Asked", "Put it right by"}, // weeks of readings and a question
		{"/clocks/1/trial/home", "Before it leaves"}, {homePage, "two persons to lift"}, {regulatePage, "Rate now"},
	} {
		v.get(p[0]).want(200, p[1:]...)
		if !slices.Contains(everyPage, p[0]) {
			t.Errorf("%s is not looked at", p[0])
		}
	}
}
