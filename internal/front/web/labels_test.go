package web

import (
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// TestLabels: from the parts to a PDF, the position remembered, one label in
// two taps.
func TestLabels(t *testing.T) {
	v := openShop(t, true)
	v.get("/clocks/2/labels").want(200, "8 labels on 1 sheet", "Position 9 is the next free one", "this computer alone", "Write the PDF", "2 pieces")
	page := v.page
	form := regexp.MustCompile(`(?s)<form method="post" action="/clocks/2/labels.pdf">.*?</form>`).FindString(page)
	if strings.Count(form, `name="part"`) != 8 {
		t.Fatalf("the form prints other parts than are shown: %s", form)
	}
	v.get("/clocks/2/labels?laid=yes&own=yes&part=2.1&part=3&copies=2&address=http%3A%2F%2F10.0.0.5%3A7870").want(200, "6 labels", "2026-012 the clock itself")
	v.post("/clocks/2/labels.pdf", "laid", "yes", "part", "3", "copies", "2", "address", "http://10.0.0.5:7870")
	if v.status != 200 || !strings.HasPrefix(v.page, "%PDF-") || !strings.Contains(v.head.Get("Content-Disposition"), "labels-2026-012.pdf") {
		t.Fatalf("%d %v", v.status, v.head)
	}
	v.get("/clocks/2/parts/2").want(200, "/clocks/2/labels?part=2")
	v.get("/clocks/2/labels?part=2").want(200, "1 label on 1 sheet", `name="first" value="3"`, "http://10.0.0.5:7870") // two are gone, and the address is kept
	v.get("/clocks/2/labels?first=22&copies=0&address=x&laid=yes&part=99&profile=none")
	v.want(422, "There is no profile “none”", "whole number from 1")
	v.get("/clocks/2/labels?first=22&address=x&laid=yes&part=3").want(422, "from 1 to 21", "must begin with http://", `value="22"`, `value="x"`)
	v.get("/clocks/2/labels?laid=yes").want(422, "Tick what is to have a label")
	v.get("/clocks/2/labels/sheet.svg?laid=yes&part=3").want(200, "2026-012.3", `width="210mm"`)
	v.get("/clocks/2/labels?ahead=20").want(200, "20 labels on 2 sheets", `name="ahead" value="20"`)
	v.get("/clocks/2/labels?ahead=301").want(422, "300 parts at most")
	v.get("/clocks/2/labels/sheet.svg?laid=yes&ahead=2&address=http://10.0.0.5").want(200, ">2026-012.8<", ">2026-012.9<")
	v.get("/clocks/2/parts").post("/clocks/2/parts/move", "do", "labels", "part", "3")
	v.want(200, "1 label on 1 sheet")
}

var shortOnSheet = regexp.MustCompile(`>([2-9A-Z]{6}\.3)<`)

// TestShortIDsLeadToTheirParts: the id that a label bears, scanned, typed in
// the box, or mistyped.
func TestShortIDsLeadToTheirParts(t *testing.T) {
	v := openShop(t, true)
	m := shortOnSheet.FindStringSubmatch(v.get("/clocks/2/labels/sheet.svg?laid=yes&part=3&address=http://10.0.0.5").page)
	if m == nil {
		t.Fatal("no short id is on the label")
	}
	for _, at := range []string{"/p/" + m[1], "/p/" + strings.ToLower(m[1]), "/clocks?find=" + m[1], "/clocks?find=" + url.QueryEscape(" http://old.example:1/p/"+m[1])} {
		if v.get(at); v.at != "/clocks/2/parts/3" {
			t.Errorf("%s leads to %s", at, v.at)
		}
	}
	mark := m[1][:6]
	if v.get("/p/" + mark); v.at != "/clocks/2" {
		t.Errorf("the clock's id leads to %s", v.at)
	}
	v.get("/p/"+mark+".77").want(404, "What is this?", "part 77 of 2026-012", "/clocks/2/parts/new")
	v.get("/p/222222.1").want(404, "What is this?", "No clock in this book")
	v.get("/p/%3Cscript%3E").want(404, "What is this?", "&lt;script&gt;")
	v.get("/clocks?find=222222").want(200, "Nothing in the book")
}

func TestLabelSet(t *testing.T) {
	v := openShop(t, false)
	v.get("/labels").want(200, "A4, 21 labels", "Sheets and tapes", "corrected")
	v.get("/labels").post("/labels", "do", "save", "name", "", "kind", "sheet", "width", "7 kg", "columns", "x")
	v.want(422, "There is a problem", `value="7 kg"`, `href="#f-name"`, `href="#f-rows"`, `href="#f-columns"`, `href="#f-page-width"`)
	v.get("/labels").post("/labels", "do", "save", "name", "Bag labels", "kind", "tape", "height", "1 in", "bar-across", "99,2 mm", "right", "-0.5")
	v.want(200, "Saved.", "Bag labels")
	v.get("/labels?profile=Bag+labels").want(200, `value="1 in"`, `value="99,2 mm"`, `value="-0.5`, "Take it out of the list")
	old := v.page
	v.post("/labels", "do", "save", "profile", "Bag labels", "name", "Bag labels", "kind", "tape", "height", "20")
	v.want(200, "Saved.")
	v.page = old
	v.post("/labels", "do", "save", "profile", "Bag labels", "name", "Bag labels", "kind", "tape", "height", "21")
	v.want(409, "saved meanwhile", "20", `value="21"`)
	v.post("/labels", "do", "save", "profile", "Bag labels", "name", "Bag labels", "kind", "tape", "height", "21") // knowing both
	v.want(200, "Saved.")
	v.get("/labels/test.pdf?profile=Bag+labels&corrected=yes")
	if v.status != 200 || !strings.HasPrefix(v.page, "%PDF-") {
		t.Errorf("%d", v.status)
	}
	v.get("/labels/test.pdf?profile=none").want(422)
	v.get("/labels").post("/labels", "do", "address", "address", "telephone")
	v.want(422, "must begin with http://", `value="telephone"`)
	v.post("/labels", "do", "address", "address", "https://bench.local:7870/")
	v.want(200, "Saved.", `value="https://bench.local:7870"`)
	v.get("/labels?profile=Bag+labels").post("/labels", "do", "remove", "profile", "Bag labels")
	v.want(200)
	if strings.Contains(v.page, "Bag labels") {
		t.Error("it is in the list still")
	}
}

func TestReceipt(t *testing.T) {
	v := openShop(t, true)
	v.get("/clocks/2/taking-in").want(200, "/clocks/2/receipt")
	v.get("/clocks/2/receipt").want(200, "6 pieces handed over; 1 line is not here.", "Received by", "/clocks/2/receipt.pdf?paper=Letter")
	v.get("/clocks/2/receipt.pdf")
	if v.status != 200 || v.head.Get("Content-Type") != "application/pdf" || !strings.HasPrefix(v.page, "%PDF-") {
		t.Errorf("%d %v", v.status, v.head)
	}
	v.get("/clocks/2/receipt.pdf?paper=A0").want(422, "A4 or Letter")
	v.get("/clocks/99/receipt").want(404)
}

// TestEveryDocumentAsPDF: what a page works out can be taken along as PDF,
// whole or one figure.
func TestEveryDocumentAsPDF(t *testing.T) {
	v := openShop(t, true)
	v.get("/desk/pendulum").post("/desk/pendulum", "beats", "3600", "latitude", "51.5")
	v.want(200, "/desk/pendulum/sheet.pdf?beats=3600&amp;latitude=51.5", "paper=Letter")
	for _, at := range []string{"/desk/pendulum/sheet.pdf?beats=3600&paper=Letter", "/clocks/2/survey/train/sheet.pdf", "/clocks/2/survey/train/plates.pdf", "/clocks/2/survey/overview/sheet.pdf", "/clocks/2/close-out.pdf", "/clocks/4/estimate/1/sheet.pdf"} {
		if v.get(at); v.status != 200 || !strings.HasPrefix(v.page, "%PDF-") || v.head.Get("Content-Type") != "application/pdf" {
			t.Errorf("%s: %d %s", at, v.status, v.head.Get("Content-Type"))
		}
	}
}

// TestTwoClocksOfOneShortID: the person is asked, and nobody is sent to the
// wrong clock.
func TestTwoClocksOfOneShortID(t *testing.T) {
	v := openShop(t, true)
	file := v.get("/clocks/3/clock.json").page // one that nobody has listened to
	uid := regexp.MustCompile(`"uid": "([0-9a-f]{16})"`).FindStringSubmatch(file)[1]
	number := regexp.MustCompile(`"number": "([^"]+)"`).FindStringSubmatch(file)[1]
	w := openShop(t, false)
	for i, other := range []string{"0000000000000001", "0000000000000002"} {
		x := strings.Replace(file, uid, other, 1)
		w.bring(strings.Replace(x, `"number": "`+number+`"`, `"number": "twin `+string(rune('A'+i))+`"`, 1))
		w.want(200, "The clock was brought in.")
	}
	w.get("/p/222222").want(404, "stands for more than one clock", "twin A", "twin B", `href="/clocks/1"`, `href="/clocks/2"`)
	w.get("/clocks?find=222222").want(404, "twin A", "twin B")
	w.get("/p/222222.4").want(404, "twin A.4", `href="/clocks/2/parts"`)
}
