package web

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"seatboard/internal/front/desk"
	"seatboard/internal/shop"
)

// visit is a browser without script: it keeps cookies and the last page.
type visit struct {
	t      testing.TB
	base   string
	client *http.Client
	status int
	head   http.Header
	page   string
	at     string
}

// openShop starts a server on a shop in a temporary folder.
func openShop(t *testing.T, demo bool) *visit {
	t.Helper()
	now := func() time.Time { return time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC) }
	sh, err := shop.Open(t.Context(), t.TempDir(), now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	if demo {
		if err := sh.FillDemo(t.Context(), tidied, desk.WorkSheet); err != nil {
			t.Fatal(err)
		}
	}
	return visitShop(t, sh, demo)
}

func tidied(part string, values map[string][]string) map[string][]string {
	c, _ := desk.Find(part)
	return desk.Tidy(c, values)
}

func visitShop(t testing.TB, sh *shop.Shop, demo bool) *visit {
	t.Helper()
	s, err := New(Config{Shop: sh, Log: slog.New(slog.DiscardHandler), Version: "test", By: "tester", Demo: demo})
	if err != nil {
		t.Fatal(err)
	}
	ts := httptest.NewServer(s.Handler())
	t.Cleanup(ts.Close)
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &visit{t: t, base: ts.URL, client: &http.Client{Jar: jar}}
}

func (v *visit) get(path string) *visit {
	v.t.Helper()
	r, err := v.client.Get(v.base + path)
	return v.took(r, err)
}

func (v *visit) took(r *http.Response, err error) *visit {
	v.t.Helper()
	if err != nil {
		v.t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		v.t.Fatal(err)
	}
	v.status, v.head, v.page, v.at = r.StatusCode, r.Header, string(b), r.Request.URL.Path
	return v
}

var tokenField = regexp.MustCompile(`name="token" value="([^"]*)"`)
var versionField = regexp.MustCompile(`name="version" value="([^"]*)"`)

// post sends a form as the last page would: with its token and version.
func (v *visit) post(path string, pairs ...string) *visit {
	v.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Set(pairs[i], pairs[i+1])
	}
	return v.postForm(path, form)
}

// postForm sends fields, with the token and the version of the page where
// they have none.
func (v *visit) postForm(path string, form url.Values) *visit {
	v.t.Helper()
	for _, f := range []struct {
		name string
		re   *regexp.Regexp
	}{{"token", tokenField}, {"version", versionField}} {
		if m := f.re.FindStringSubmatch(v.page); m != nil && !form.Has(f.name) {
			form.Set(f.name, m[1])
		}
	}
	r, err := v.client.PostForm(v.base+path, form)
	return v.took(r, err)
}

func (v *visit) want(status int, parts ...string) {
	v.t.Helper()
	if v.status != status {
		v.t.Errorf("%s: status %d, want %d", v.at, v.status, status)
	}
	for _, p := range parts {
		if !strings.Contains(v.page, p) {
			v.t.Errorf("%s: %q is not on the page", v.at, p)
		}
	}
}

// addOne takes a clock in and gives its address.
func (v *visit) addOne(number, title string) string {
	v.t.Helper()
	v.get("/clocks/new").post("/clocks", "number", number, "title", title)
	v.want(200, title, number)
	return v.at
}

func TestFirstUse(t *testing.T) {
	v := openShop(t, false)
	v.get("/").want(200, "Which clock is on the bench?", "/desk")
	v.get("/clocks/new").want(200, `value="2026-001"`)
	path := v.addOne("2026-001", "Longcase clock")
	v.get("/").want(200, "2026-001")
	v.get("/clocks").want(200, "Longcase clock", "1 in the book")
	v.get("/clocks?find=nonesuch").want(200, "Nothing in the book")
	v.get("/clocks/found?find=ONGCAS").want(200, "Longcase clock")
	if strings.Contains(v.page, "<html") {
		t.Error("the found list is a whole page")
	}
	v.get(path+"/history").want(200, "tester", "Taken into the book", "2026-001")
}

func TestRecordIsKeptAsTyped(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	v.get(path+"/taking-in").post(path+"/taking-in", "number", "1", "title", "Clock", "object.made.text", "about 1790 ½ 🕰", "object.made.from", "1800", "object.made.to", "1790",
		"owner.contact", "a\r\nb", "holders[0].name", "first", "holders[0].n", "0", "pieces[0].what", "weights", "pieces[0].n", "0", "pieces[0].count", "two", "pieces[0].received", "yes")
	v.want(200, "Saved.", "about 1790 ½ 🕰", "a\nb", "first", "weights", `value="two"`, "1800")
	v.get(path+"/history").want(200, "Date or period, in words", "about 1790")
	v.get(path+"/taking-in").post(path+"/taking-in", "number", "1", "holders[0].name", "", "holders[0].n", "1", "pieces[0].what", "weights", "pieces[0].n", "1")
	v.want(200, "Saved.")
	v.get(path+"/history").want(200, "struck out")
}

func TestMistakesStandBesideTheirFields(t *testing.T) {
	v := openShop(t, false)
	v.addOne("7", "First")
	v.get("/clocks/new").post("/clocks", "number", " 7", "title", "Second clock")
	v.want(422, "There is a problem", "Another clock has this number", `href="#f-number"`, "Second clock", `aria-invalid="true"`, "<title>Error: ")
	v.get("/clocks/new").post("/clocks", "number", "", "title", "Third")
	v.want(422, "Enter the number of the clock", "Third")
}

func TestSurveyKeepsWhatCannotBeRead(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	part := path + "/survey/train"
	v.get(part).post(part, "going", "sixty 60/ 96/8", "going-barrel-turns", "-3", "pendulum", "39.14 kg", "going-arbors.1.wheel", "1.5")
	v.want(422, "saved as typed", "sixty", "39.14 kg", "kg", `value="1.5"`, "There is a problem")
	if n := strings.Count(v.page, `<li><a href="#f-`); n < 4 {
		t.Errorf("%d mistakes are in the summary, want all of them at once", n)
	}
	v.get(part).want(200, "sixty", "39.14 kg") // it is in the book
	v.get(part).post(part, "going", "96/8 60/8 56/7 30", "going-barrel-turns", "16", "going-arbors.2.wheel-diameter", "61 mm")
	v.want(200, "Saved.", "3600", `value="61 mm"`, `name="going-arbors.1.wheel" value="96"`)
	v.get(path+"/survey").want(200, "Surveyed", "3600")
	v.get(path+"/history").want(200, "Wheel trains: Wheel across, arbor 2")
}

func TestTwoWindows(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	v.get(path + "/taking-in")
	old := v.page
	v.post(path+"/taking-in", "number", "1", "title", "From the first window")
	v.page = old
	v.post(path+"/taking-in", "number", "1", "title", "From the second window")
	v.want(409, "saved meanwhile", "Where the two differ", "From the first window", "From the second window")
	v.post(path+"/taking-in", "number", "1", "title", "From the second window")
	v.want(200, "Saved.")
	part := path + "/survey/pendulum"
	v.get(part)
	old = v.page
	v.post(part, "length", "994")
	v.page = old
	v.post(part, "length", "993")
	v.want(409, "saved meanwhile", "994", `value="993"`)
	v.post(part, "length", "993") // pressed again, knowing both
	v.want(200, "Saved.", `value="993"`)
}

func TestStaleFormKeepsWhatWasTyped(t *testing.T) {
	v := openShop(t, false)
	v.get("/clocks/new")
	v.page = strings.Replace(v.page, `name="token" value="`, `name="token" value="0`, 1)
	v.post("/clocks", "number", "55", "title", "Typed before the restart")
	v.want(403, "Press the button once more", "Typed before the restart")
	v.post("/clocks", "number", "55", "title", "Typed before the restart")
	v.want(200, "Typed before the restart", "55")
}

func TestTooMuch(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	v.get(path+"/survey/train").post(path+"/survey/train", "going", strings.Repeat("96/8 ", 2<<20))
	v.want(413, "1 MB", "Nothing was changed")
	v.get("/desk/train").post("/desk/train", "going", strings.Repeat("9", 100000))
	v.want(422, "There is a problem")
}

func TestDesk(t *testing.T) {
	v := openShop(t, false)
	for _, c := range desk.All() {
		v.get("/desk/"+c.Name).want(200, c.Title, "<form")
	}
	v.get("/desk/pendulum").post("/desk/pendulum", "beats", "3600", "latitude", "51.5")
	v.want(200, "Beats an hour", "± 0.1", "TR8350.2")
	v.get("/desk/pendulum").post("/desk/pendulum", "latitude", "91°", "length", "-3", "beats", "sixty")
	v.want(422, "90° N", "more than nought", "sixty", `value="91°"`)
	v.get("/desk/nonesuch").want(404, "no such page")
}

func TestExportAndImport(t *testing.T) {
	v := openShop(t, true)
	v.get("/clocks/2/clock.json")
	if v.head.Get("Content-Type") != "application/json" || !strings.Contains(v.head.Get("Content-Disposition"), "attachment") {
		t.Error("the file is not sent as a download")
	}
	file := v.page
	w := openShop(t, false)
	w.bring(file).want(200, "The clock was brought in.", "2026-012", "Quillfeather")
	w.bring(file).want(409, "in the book already")
	w.bring(`{"seatboard":"clock","version":1,"clock":{"uid":"x"}}`).want(422, "not a clock that Seatboard can read")
	w.bring("").want(422, "There is a problem")
	w.get("/clocks/1/survey/train").want(200, "60")
}

// TestBackupDownload: what the page sends can be unpacked, and says what it is.
func TestBackupDownload(t *testing.T) {
	v := openShop(t, true)
	v.get("/backup").want(200, "4 clocks", "2 files", "Write the backup")
	v.get("/backup/shop-2026-11-25.zip").want(200)
	if v.head.Get("Content-Type") != "application/zip" || !strings.Contains(v.head.Get("Content-Disposition"), "attachment") || v.head.Get("Content-Encoding") != "" {
		t.Errorf("%v", v.head)
	}
	z, err := zip.NewReader(strings.NewReader(v.page), int64(len(v.page)))
	if err != nil || len(z.File) != 4 || z.File[0].Name != "backup.json" {
		t.Fatalf("%v %+v", err, z)
	}
}

// bring uploads a file.
func (v *visit) bring(content string) *visit {
	v.t.Helper()
	v.get("/clocks/bring-in")
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	_ = m.WriteField("token", tokenField.FindStringSubmatch(v.page)[1])
	f, err := m.CreateFormFile("file", "clock.json")
	if err != nil {
		v.t.Fatal(err)
	}
	_, _ = io.WriteString(f, content)
	m.Close()
	r, err := v.client.Post(v.base+"/clocks/bring-in", m.FormDataContentType(), &b)
	return v.took(r, err)
}

// Two of them, with something on the desk.
const (
	homePage     = "/desk/home?latitude=51.5&to-latitude=56&rate=1+%C2%B1+0.4&per-turn=30"
	regulatePage = "/desk/regulate?lines=2026-11-03+09%3A14+%2B12+s%0A2026-11-05+09%3A10+%2B31+s%0A2026-11-06+09%3A10+nut+down+1%2F4%0A2026-11-07+09%3A10+%2B32+s"
)

// everyPage lists a page of each route that reads.
var everyPage = []string{"/", "/phones", "/this-phone", "/clocks", "/clocks?find=clock", "/clocks?find=wheel&all=parts", "/clocks?out=yes", "/places", "/places?place=tray+1", "/clocks/2/parts?lack=look", "/clocks/found?find=a", "/clocks/new", "/clocks/bring-in", "/backup", "/clocks/1", "/clocks/1/taking-in", "/clocks/2/receipt", "/clocks/1/receipt.pdf", "/clocks/1/survey",
	"/clocks/1/survey/train", "/clocks/1/survey/pendulum", "/clocks/1/survey/drive", "/clocks/1/listening", "/photos", "/clocks/1/photos", "/clocks/1/photos?bin=yes", "/photos/write", "/clocks/1/photos/write", "/clocks/1/baths", "/clocks/1/baths/new", "/alarm.json", "/desk/clean", "/listen", "/listen?clock=2026-012", "/listen/live", "/clocks/1/parts", "/clocks/2/parts?order=taken&state=off", "/clocks/2/parts/new?saved=2", "/clocks/2/parts/2", "/clocks/2/close-out", "/clocks/1/history", "/clocks/1/clock.json", "/desk", "/desk/train", "/desk/pendulum?beats=3600", "/desk/drive", "/desk/mesh", "/desk/mesh?wheel=60&leaves=8&module=0.5&distance=17.05&pit=0.02", "/desk/mesh/depthing.csv?wheel=60&leaves=8&module=0.5",
	"/desk/identify", "/desk/identify?what=screw&diameter=2.74&threads=10&over=5.3", "/desk/identify?what=wire&diameter=1.63", "/desk/ratio", "/desk/ratio?wanted=29.530589&turn=24+h",
	"/hours", "/hours?week=2026-11-16", "/hours/strip?page=1&back=%2F", "/clocks/4/hours", "/clocks/4/hours/1", "/clocks/1/estimate", "/clocks/4/estimate", "/clocks/4/estimate/1", "/clocks/4/estimate/1/tasks.svg", "/clocks/4/estimate/1/sheet.pdf", "/clocks/4/hours.csv", "/clocks/4/hours.pdf", "/hours.csv", "/clocks/4/estimate/draft/twenty-jobs.csv",
	"/clocks/2/close-out.pdf", "/desk/pendulum/sheet.pdf?beats=3600", "/clocks/2/survey/train/sheet.pdf", "/clocks/2/survey/train/plates.pdf", "/clocks/2/labels", "/clocks/1/labels", "/clocks/2/labels/sheet.svg", "/labels", "/labels?profile=Tape+of+24+mm", "/labels/test.pdf", "/p/QQQQQQ.1", "/p/nonsense",
	"/clocks/2/condition", "/clocks/3/condition?area=dial", "/clocks/2/condition.pdf",
	"/clocks/1/trial/gates", "/clocks/2/trial/gates", "/clocks/1/trial/gates.pdf", "/clocks/1/trial/gates/aim", "/clocks/1/trial/home", "/clocks/2/trial/home", "/clocks/1/trial/home.pdf", "/clocks/1/trial/reminders.ics", "/today.ics",
	"/clocks/1/making", "/clocks/2/making", "/clocks/2/drawings.pdf", "/clocks/2/making/1", "/clocks/2/making/1/part", "/clocks/2/making/1/answer.json", "/clocks/2/making/1/sheet.pdf", "/desk/pendulum?for=2026-012", "/desk/pendulum?for=2026-012&beats=3600",
	"/clocks/4/interventions", "/clocks/4/interventions/1", "/clocks/4/interventions.pdf", "/stores", "/clocks/4/materials",
	"/clocks/1/trial", "/clocks/1/trial?all=yes", "/clocks/1/trial.pdf", "/clocks/1/trial.csv", "/clocks/1/trial/weeks.svg", "/clocks/1/trial/weeks.csv", "/clocks/1/trial/nothing.svg", "/desk/regulate", regulatePage, "/desk/home", homePage, "/desk/divide", "/desk/escape-wheel", "/desk/escape-wheel?count=30&diameter=40&spaces=7.5&bore=3", "/desk/divide?count=127&plates=plate+A:+96+120+360", "/clocks/2/trial", "/clocks/1/trial/stops", "/clocks/4/trial/stops", "/time.json",
	"/desk/tooth", "/desk/tooth?wheel=60&leaves=8&wheel-outside=50.35&distance=27.2", "/desk/tooth?wheel=80&leaves=8&form=lantern&module=0.6&crossings=4",
	"/clocks/1/trial/tap", "/clocks/1/trial/tap?at=strike", "/clocks/1/trial/table", "/clocks/1/trial/readings.csv",
	"/desk/escape-wheel?count=30&kind=pin-wheel&diameter=60&reach=90&shape=half&drop=1", "/desk/tooth?wheel=60&leaves=8&module=0.8&form=exact&root-radius=0.25&tip-radius=0.1",
	"/desk/mesh?wheel=60&leaves=8&module=0.5&tooth-width=0.7+%C2%B1+0.02&leaf-space=1.02",
	"/plates", "/desk/ratchet?count=24&diameter=32&click=18", "/desk/strike-work", "/desk/strike-work?radius=42&tail=45&pitch=1.3&largest=20", "/desk/strike-work?kind=count-wheel&diameter=80&blows=half-hours",
	"/desk/missing", "/desk/missing?going=96%2F8+60%2F8+%3F%2F%3F+30&hour-arbor=2&pendulum=994",
	"/sources", "/sources/validation", "/keys", "/nothing"}

func TestHeadersOnEveryPage(t *testing.T) {
	v := openShop(t, true)
	for _, p := range everyPage {
		v.get(p)
		for name, part := range map[string]string{"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin",
			"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin", "Permissions-Policy": "microphone=(self)", "Cache-Control": "no-store"} {
			if !strings.Contains(v.head.Get(name), part) {
				t.Errorf("%s: %s is %q", p, name, v.head.Get(name))
			}
		}
		if v.head.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s allows another origin", p)
		}
		if strings.Contains(v.page, `style="`) || strings.Contains(v.page, "<style") || strings.Contains(v.page, " onclick") {
			t.Errorf("%s has a style attribute or inline script", p)
		}
		for _, m := range regexp.MustCompile(`(?:src|href)="(https?:)?//`).FindAllString(v.page, -1) {
			t.Errorf("%s names an address outside: %s", p, m)
		}
	}
}

func TestPagesAreSmall(t *testing.T) {
	v := openShop(t, true)
	most, worst := 0, ""
	for id := 1; id <= 4; id++ {
		for _, p := range []string{"", "/taking-in", "/survey", "/survey/train", "/survey/pendulum", "/survey/drive", "/history"} {
			r, err := http.NewRequest("GET", fmt.Sprintf("%s/clocks/%d%s", v.base, id, p), nil)
			if err != nil {
				t.Fatal(err)
			}
			r.Header.Set("Accept-Encoding", "gzip") // set by hand, so the answer stays packed
			resp, err := v.client.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			b, _ := io.ReadAll(resp.Body)
			resp.Body.Close()
			if len(b) > most {
				most, worst = len(b), r.URL.Path
			}
		}
	}
	if most > 60_000 {
		t.Errorf("%s is %d bytes over the wire, more than 60 kB", worst, most)
	}
	t.Logf("largest page over the wire: %s, %d bytes", worst, most)
}

func TestHostileWordsStayWords(t *testing.T) {
	v := openShop(t, false)
	evil := `"><script>alert(1)</script><img src=x onerror=alert(1)>`
	path := v.addOne("1", "Clock")
	pairs := []string{"number", "1", "title", evil, "owner.name", evil, "object.inscriptions", evil, "object.made.text", evil, "holders[0].name", evil, "pieces[0].what", evil}
	v.get(path+"/taking-in").post(path+"/taking-in", pairs...)
	v.want(200)
	v.get(path+"/survey/train").post(path+"/survey/train", "going", evil, "hour-arbor", evil, "going-arbors.1.note", evil)
	for _, p := range []string{"/", "/clocks", "/clocks/found?find=script", path, path + "/taking-in", path + "/survey", path + "/survey/train", path + "/history", "/clocks?find=" + url.QueryEscape(evil), "/desk/train?going=" + url.QueryEscape(evil)} {
		v.get(p)
		if strings.Contains(v.page, "<script>alert") || strings.Contains(v.page, "<img src=x") {
			t.Errorf("%s lets markup through", p)
		}
	}
}

func TestFieldsAreLabelled(t *testing.T) {
	v := openShop(t, true)
	input := regexp.MustCompile(`<(?:input|select|textarea)[^>]*>`)
	id := regexp.MustCompile(` id="([^"]*)"`)
	for _, p := range everyPage {
		v.get(p)
		seen := map[string]bool{}
		for _, m := range id.FindAllStringSubmatch(v.page, -1) {
			if seen[m[1]] {
				t.Errorf("%s: the id %s stands twice", p, m[1])
			}
			seen[m[1]] = true
		}
		if n := strings.Count(v.page, "<h1"); strings.Contains(v.page, "<html") && n != 1 {
			t.Errorf("%s has %d main headings", p, n)
		}
		for _, f := range input.FindAllString(v.page, -1) {
			if strings.Contains(f, `type="hidden"`) || strings.Contains(f, "aria-label") {
				continue
			}
			m := id.FindStringSubmatch(f)
			if m == nil || !strings.Contains(v.page, `for="`+m[1]+`"`) {
				if !strings.Contains(f, "data-keys-off") { // its label is around it
					t.Errorf("%s: %s has no label", p, f)
				}
			}
		}
	}
}

func TestAssetsNeverChange(t *testing.T) {
	v := openShop(t, false)
	v.get("/")
	for _, m := range regexp.MustCompile(`(?:href|src)="(/assets/[^"]+)"`).FindAllStringSubmatch(v.page, -1) {
		v.get(m[1])
		v.want(200)
		if !strings.Contains(v.head.Get("Cache-Control"), "immutable") {
			t.Errorf("%s may not be kept", m[1])
		}
	}
	v.get("/assets/../server.go").want(404)
	v.get("/assets/nothing.js")
	if v.status != 404 {
		t.Errorf("status %d", v.status)
	}
}

// everyChange lists the addresses that change something.
var everyChange = []string{"/phones/code", "/phones/answer", "/phones/1/shut-out", "/pair", "/pair/finish", "/this-phone/leave", "/clocks", "/clocks/bring-in", "/clocks/1/trial/tap", "/clocks/1/trial/table", "/clocks/1/taking-in", "/clocks/1/stage", "/clocks/1/survey/train", "/clocks/2/parts", "/clocks/2/parts/move", "/clocks/2/parts/undo", "/clocks/2/parts/2", "/clocks/2/close-out", "/clocks/1/listening/1/remove", "/clocks/1/listening/1/trial", "/photos", "/clocks/1/photos", "/photos/1", "/photos/write", "/clocks/1/photos/write", "/uploads", "/uploads/1", "/uploads/1/finish", "/clocks/1/baths/new", "/baths/1", "/alarm/test", "/listen", "/listen/own", "/listen/jobs/1/stop", "/listen/jobs/1/keep", "/listen/jobs/1/throw", "/desk/train",
	"/hours", "/hours/start", "/hours/stop", "/hours/1", "/clocks/1/hours", "/clocks/1/hours/1", "/clocks/1/estimate", "/clocks/4/estimate/1",
	"/clocks/2/making/1", "/clocks/2/making/undo", "/clocks/2/making/unmake", "/clocks/2/making/1/part", "/clocks/2/making/1/note", "/desk/pendulum/keep", "/desk/missing/take",
	"/clocks/1/trial/gates", "/clocks/1/trial/gates/aim", "/desk/regulate", "/desk/home",
	"/clocks/2/condition", "/clocks/2/condition/undo", "/clocks/4/interventions", "/clocks/4/interventions/1", "/clocks/4/interventions/undo", "/stores", "/clocks/4/materials", "/clocks/1/trial", "/clocks/1/trial/stops",
	"/desk/missing",
	"/clocks/2/labels.pdf", "/labels", "/plates"}

// TestStrangersOnEveryRoute: under a foreign name no page answers, and a form
// that another site or another port sends changes nothing, token or not.
func TestStrangersOnEveryRoute(t *testing.T) {
	v := openShop(t, true)
	token := tokenField.FindStringSubmatch(v.get("/clocks/new").page)[1]
	ask := func(method, path string, header map[string]string) int {
		r, err := http.NewRequest(method, v.base+path, strings.NewReader(url.Values{"token": {token}, "number": {"stranger"}}.Encode()))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		for name, value := range header {
			r.Header.Set(name, value)
		}
		if h := header["Host"]; h != "" {
			r.Host = h
		}
		return v.took(v.client.Do(r)).status
	}
	for _, p := range everyPage {
		if got := ask("GET", p, map[string]string{"Host": "evil.example"}); got != http.StatusMisdirectedRequest {
			t.Errorf("%s answers under a foreign name with %d", p, got)
		}
		if got := ask("GET", p, map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"}); got != http.StatusForbidden {
			t.Errorf("%s can be read by another site: %d", p, got)
		}
	}
	for _, p := range everyChange {
		for name, header := range map[string]map[string]string{
			"a foreign name": {"Host": "evil.example"}, "another site": {"Origin": "https://evil.example"},
			"another port": {"Sec-Fetch-Site": "same-site", "Origin": "http://127.0.0.1:1"}, "no origin": {"Origin": "null"},
		} {
			if got := ask("POST", p, header); got != http.StatusForbidden && got != http.StatusMisdirectedRequest {
				t.Errorf("%s from %s: %d", p, name, got)
			}
		}
	}
	if v.get("/clocks?find=stranger"); strings.Contains(v.page, "1 found") {
		t.Error("a stranger's form was kept")
	}
}
