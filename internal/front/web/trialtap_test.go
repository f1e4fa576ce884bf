package web

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"mime/multipart"
	"net/url"
	"strings"
	"testing"
	"time"

	"seatboard/internal/craft/regulate"
)

// Without script each tap is stamped as it arrives; the page keeps them, takes
// the last away, and saves them as one reading.
func TestTapsWithoutScript(t *testing.T) {
	now := time.Date(2026, 3, 4, 9, 13, 50, 0, time.UTC)
	v, sh := onTrialAt(t, &now)
	path := "/clocks/1/trial/tap"
	v.get(path)
	says(v, 200, "Tap as the hand comes to the mark")
	says(v.post(path, "taps", "", "marks", "seconds-60", "do", "save"), 422, "Tap as the hand comes to a mark")
	taps := ""
	press := func(at time.Time, do string) {
		now = at
		v.post(path, "taps", taps, "marks", "seconds-60", "do", do, "dial", "9:14:00")
		taps = v.hidden("taps")
	}
	mark := time.Date(2026, 3, 4, 9, 13, 48, 0, time.UTC) // the clock is 12 s fast
	for i := range 3 {
		press(mark.Add(time.Duration(i)*time.Minute+110*time.Millisecond), "tap")
		if i == 1 {
			says(v, 200, "2 taps so far", "Two taps hardly show")
			v.post(path, "taps", taps, "marks", "seconds-60", "do", "save")
			says(v, 422, "Two taps hardly show their own doubt. Tap on")
		}
	}
	says(v, 200, "3 taps so far", "12.00 s fast", "Late by habit")
	press(mark.Add(2*time.Minute+30*time.Second), "tap")
	says(v, 200, "4 taps so far")
	press(now, "less")
	says(v, 200, "3 taps so far")
	v.post(path, "taps", taps, "marks", "seconds-60", "do", "save", "dial", "9:14:00", "u", "0.1", "read", "0")
	says(v, 200, "Written down.", "12 s fast")
	at, fast, u := lastReading(t, sh)
	if math.Abs(fast-12) > 0.002 || u < 0.1 || u > 0.2 || !at.Equal(mark.Add(time.Minute+110*time.Millisecond)) {
		t.Errorf("%g ± %g at %v", fast, u, at)
	}
	x, _ := sh.Trial(t.Context(), 1)
	if e := x.Book.Log()[0]; e.Taps == nil || len(e.Taps.Taps) != 3 || e.Readings[0].How != regulate.ByTap {
		t.Errorf("%+v", e)
	}
	says(v.post(path, "taps", taps, "marks", "seconds-60", "do", "save", "dial", "9:14:00", "u", "0.1", "read", "0"), 409, "written down already")
	says(v.post(path, "taps", taps, "marks", "seconds-60", "do", "save", "dial", "soon"), 422, "9:14")
	v.post(path, "taps", taps, "do", "dance").want(404)
}

// stamps writes instants as the form keeps them.
func stamps(all ...time.Time) string {
	var out []string
	for _, t := range all {
		out = append(out, fmt.Sprintf("%.1f", float64(t.UnixMicro())/1e3))
	}
	return strings.Join(out, " ")
}

// The first blow of the hour: the blows are counted, and how far the strike is
// from the hands is known once a reading of the hands stands beside one.
func TestStrikeHeard(t *testing.T) {
	now := time.Date(2026, 3, 4, 9, 0, 40, 0, time.UTC)
	v, sh := onTrialAt(t, &now)
	path := "/clocks/1/trial/tap"
	v.get(path + "?at=strike").want(200)
	blow := time.Date(2026, 3, 4, 9, 0, 20, 160e6, time.UTC)
	form := []string{"taps", stamps(blow), "marks", "strike", "blows", "9", "u", "0.002"}
	says(v.post(path, append(form, "do", "look")...), 200, "Taken for 9 o’clock", "is not known", "20.00 s slow")
	says(v.post(path, append(form, "do", "save")...), 200, "Written down.")
	x, _ := sh.Trial(t.Context(), 1)
	if e := x.Book.Log()[0].Strike; e == nil || e.Hour != 9 || e.Blows != 9 {
		t.Errorf("%+v", e)
	}
	if r := x.Query.Readings[0]; r.How != regulate.ByStrike || r.U != 0 || math.Abs(float64(r.Error)+20) > 0.01 {
		t.Errorf("%+v", r)
	}
	// Its hands are 5 s slow half an hour later: it strikes 15 s behind them.
	now = now.Add(30 * time.Minute)
	says(v.get("/clocks/1/trial").post("/clocks/1/trial", "seen", "5 s slow"), 200, "Written down.")
	now = time.Date(2026, 3, 4, 15, 1, 0, 0, time.UTC)
	blow = time.Date(2026, 3, 4, 15, 0, 18, 160e6, time.UTC)
	form = []string{"taps", stamps(blow), "marks", "strike", "blows", "", "u", "0.002"}
	v.get(path)
	says(v.post(path, append(form, "do", "look")...), 200, "Taken for 3 o’clock", "strikes 15.0 s")
	says(v.post(path, append(form, "do", "save")...), 200, "Written down.")
	if at, fast, u := lastReading(t, sh); math.Abs(fast+3) > 0.01 || u < 0.1 || !at.Equal(blow) {
		t.Errorf("%g ± %g at %v", fast, u, at)
	}
}

// bringTable chooses a table on its page.
func (v *visit) bringTable(name, content string) *visit {
	v.t.Helper()
	v.get("/clocks/1/trial/table")
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	_ = m.WriteField("token", tokenField.FindStringSubmatch(v.page)[1])
	f, err := m.CreateFormFile("file", name)
	if err != nil {
		v.t.Fatal(err)
	}
	_, _ = io.WriteString(f, content)
	m.Close()
	r, err := v.client.Post(v.base+"/clocks/1/trial/table", m.FormDataContentType(), &b)
	return v.took(r, err)
}

func TestTableIsBroughtIn(t *testing.T) {
	now := time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)
	v, sh := onTrialAt(t, &now)
	says(v.bringTable("none.csv", ""), 422, "this file is empty")
	says(v.bringTable("x.csv", "PK\x03\x04"), 422, "not a text table")
	file := "when,fast (s),temp_F,done\n3/4/2026 09:14,12.5,65,wound\n4/4/2026 09:20,much,66,\n31/4/2026 09:20,13,66,\n"
	says(v.bringTable("old.csv", file), 200, "old.csv", "3/4/2026 09:14 · 4/4/2026")
	held := v.hidden("held")
	path := "/clocks/1/trial/table"
	form := []string{"held", held, "column-1", "at", "column-2", "error s", "column-3", "temperature °F", "column-4", "touch", "dates", "day.month.year", "zone", "UTC", "heading", "yes"}
	says(v.post(path, form...), 422, "there are 2 mistakes, and nothing was written down", "Line 3, “fast (s)”: “much” is not a number", "Line 4, “when”: “31/4/2026 09:20” is a day that is not in the calendar")
	if x, _ := sh.Trial(t.Context(), 1); x.Book.Len() != 0 {
		t.Fatal("half a table was brought in")
	}
	says(v.bringTable("either.csv", file[:strings.Index(file, "31/4")]), 200, "day/month or as month/day")
	either := append([]string{}, form...)
	either[1], either[11], either[5] = v.hidden("held"), "", "skip"
	says(v.post(path, either...), 422, "Say how the days are written")
	v.bringTable("old.csv", strings.Replace(strings.Replace(file, "much", "13.1", 1), "31/4", "30/4", 1))
	form[1] = v.hidden("held")
	bad := append([]string{}, form...)
	bad[3], bad[13] = "time", "Mars"
	says(v.post(path, bad...), 422, "A time of day needs a column with its date", "“Mars” is neither UTC")
	says(v.post(path, form...), 200, "Brought in as one entry", "3 readings")
	x, _ := sh.Trial(t.Context(), 1)
	if x.Book.Len() != 1 || len(x.Query.Readings) != 3 || len(x.Query.Air) != 3 || len(x.Query.Touches) != 1 || x.Book.Log()[0].Source != "old.csv" {
		t.Errorf("%+v", x.Query)
	}
	says(v.post(path, form...), 410, "not held any more")
	v.get("/clocks/1/trial/readings.csv").want(200, "from,to,error", "2026-04-03T09:14:00Z,12.5")
	v.get("/clocks/1/trial/table.json?held=" + url.QueryEscape(form[1])).want(410)
	v.get("/clocks/1/trial/table?held=x").want(410)
}

// The rate of a kept listening becomes a reading of the trial by one press,
// once, with the doubt of the recorder's clock apart.
func TestListeningIsAReading(t *testing.T) {
	v := openShop(t, true)
	v.get("/clocks/1/listening/1").want(200)
	if !strings.Contains(v.page, "Use its rate for the trial") {
		t.Fatal("the listening of the demonstration is not offered")
	}
	says(v.post("/clocks/1/listening/1/trial"), 200, "Written down.", "by ear")
	says(v.get("/clocks/1/listening/1"), 200, "Its rate is a reading of the", "taken back there")
	says(v.post("/clocks/1/listening/1/trial"), 409, "already: entry")
}
