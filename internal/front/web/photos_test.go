package web

import (
	"bytes"
	"image"
	"image/jpeg"
	"io"
	"mime/multipart"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// pictureOf is a photograph of so much grey.
func pictureOf(t *testing.T, grey byte) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 640, 480))
	for i := range m.Pix {
		m.Pix[i] = grey
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// sendShots sends files from a page as its form does, with or without its token.
func (v *visit) sendShots(path string, token bool, files map[string][]byte) *visit {
	v.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	if token {
		_ = m.WriteField("token", tokenField.FindStringSubmatch(v.page)[1])
	}
	_ = m.WriteField("stage", "before")
	_ = m.WriteField("area", "dial")
	for name, content := range files {
		w, err := m.CreateFormFile("photo", name)
		if err != nil {
			v.t.Fatal(err)
		}
		_, _ = w.Write(content) // into memory
	}
	if err := m.Close(); err != nil {
		v.t.Fatal(err)
	}
	r, err := http.NewRequest("POST", v.base+path, &b)
	if err != nil {
		v.t.Fatal(err)
	}
	r.Header.Set("Content-Type", m.FormDataContentType())
	return v.took(v.client.Do(r))
}

func TestPhotographs(t *testing.T) {
	v := openShop(t, true)
	const page = "/clocks/1/photos"
	v.get(page).want(200, "No photograph of this clock yet", "With the camera", "From the device")
	one := pictureOf(t, 40)
	v.sendShots(page, false, map[string][]byte{"a.jpg": one}).want(409, "Nothing was taken in")
	v.get(page).sendShots(page, true, nil).want(422, "No photograph was chosen")
	v.get(page).sendShots(page, true, map[string][]byte{"one.jpg": one, "two.png": pictureOf(t, 200)}).want(200, "2 photographs are safe", "2 in all", "small.jpg")
	v.get(page).sendShots(page, true, map[string][]byte{"one again.jpg": one, "x.svg": []byte("<svg><script>alert(1)</script></svg>"), "no.jpg": nil})
	v.want(422, "x.svg is not a photograph", "no.jpg is empty", "1 photograph is safe", "1 of them from before")
	at := regexp.MustCompile(`/photos/[0-9a-f]{16}`).FindString(v.page)
	v.get(at).want(200, "middle.jpg", "640 × 480 pixels", `value="dial"`, "SHA-256")
	old := v.page
	v.post(at, "version", "1", "caption", "the dial, <b>as found</b>", "area", "dial", "parts", "2, 2.1", "clock", "2026-011").want(200, "Saved", "the dial, &lt;b&gt;as found", "2, 2.1")
	v.page = old
	v.post(at, "version", "1", "caption", "mine", "clock", "2026-011").want(409, "Someone else wrote here meanwhile", "the dial", "mine")
	v.get(at).post(at, "version", "2", "clock", "1999-1", "parts", "x").want(422, "No clock has the number", `value="1999-1"`)
	v.get(at).post(at, "do", "bin").want(200, "In the bin")
	v.get(page).want(200, "1 in all")
	v.get(page+"?bin=yes").want(200, "1 in the bin")
	v.get(at).post(at, "do", "back").want(200, "Put back")
	v.get("/clocks/1/photos?part=2.1").want(200, "1 in all")
	v.get(at).want(200, "Marks on it: 0", `aria-label="No marks on it"`)
	old = v.page
	v.post(at, "do", "mark", "version", "4", "kind", "arrow", "x", "10", "y", "20,4", "x2", "300", "y2", "200").want(200, "arrow from 10, 20 to 300, 200", "M10 20L300 200", `value="arrow" checked`)
	v.page = old
	v.post(at, "do", "mark", "version", "4", "kind", "number", "n", "1", "x", "10", "y", "20").want(409, "Someone else wrote here meanwhile", "arrow from 10, 20 to 300, 200", "number 1 at 10, 20", `name="version" value="5"`)
	v.post(at, "do", "mark", "version", "5", "kind", "number", "n", "1", "x", "10", "y", "20").want(200, "number 1 at 10, 20", `name="n" value="2"`)
	v.post(at, "do", "mark", "version", "6", "kind", "text", "text", "<worn>", "x", "10", "y", "9").want(200, "&lt;worn&gt;</text>", "3 ")
	for name, x := range map[string]struct {
		form []string
		say  string
	}{
		"nowhere":  {[]string{"kind", "ring", "x", "here", "y", "1", "x2", "4", "y2", "4"}, "Say where the mark goes"},
		"outside":  {[]string{"kind", "arrow", "x", "1", "y", "1", "x2", "641", "y2", "4"}, "A mark lies on the photograph"},
		"a point":  {[]string{"kind", "ring", "x", "1", "y", "1", "x2", "1", "y2", "1"}, "at least one pixel long"},
		"no kind":  {[]string{"x", "1", "y", "1"}, "Choose an arrow"},
		"no text":  {[]string{"kind", "text", "x", "1", "y", "1"}, "Write what the mark says"},
		"a number": {[]string{"kind", "number", "n", "0", "x", "1", "y", "1"}, "A number on a photograph is 1 to 999"},
	} {
		v.post(at, append([]string{"do", "mark", "version", "7"}, x.form...)...).want(422, x.say)
		if strings.Contains(v.page, "4. ") || name == "" {
			t.Error(name)
		}
	}
	v.post(at, "do", "unmark", "version", "7", "i", "1").want(200, "arrow from 10")
	if strings.Contains(v.page, "number 1 at") {
		t.Error("the mark was not taken off")
	}
	v.post(at, "do", "unmark", "version", "8", "i", "7").want(404)
	v.get("/photos").want(200, "Nothing waits to be filed")
	for file, want := range map[string]struct{ kind, how string }{"small.jpg": {"image/jpeg", ""}, "original": {"image/jpeg", "attachment"}, "copy": {"image/jpeg", "attachment"}} {
		r, err := v.client.Get(v.base + at + "/" + file)
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r.Body)
		if err != nil || r.Body.Close() != nil || r.StatusCode != 200 || r.Header.Get("Content-Type") != want.kind || !strings.HasPrefix(r.Header.Get("Content-Disposition"), want.how) || len(b) < 500 {
			t.Errorf("%s: %d, %v, %d bytes", file, r.StatusCode, r.Header, len(b))
		}
	}
	v.get(at+"/large.jpg").want(404, "no such page")
	v.get("/photos/0000000000000000").want(404, "no such photograph")
}

// TestSeriesOfWords writes under one photograph after the other.
func TestSeriesOfWords(t *testing.T) {
	v := visitShop(t, openEmpty(t), false)
	path := v.addOne("7", "Clock")
	v.get(path+"/photos/write").want(200, "Something is written under each")
	var at []string
	for i := range 3 {
		at = append(at, v.uploads(i, "x.jpg", pictureOf(t, byte(60*i)), "clock", strings.TrimPrefix(path, "/clocks/"), "part", "2").Photo)
	}
	v.get(path+"/photos").want(200, "Write under them: 3 without words")
	v.get(path+"/photos/write?part=2").want(200, `value="`+strings.TrimPrefix(at[0], "/photos/")+`"`, "3 without words", "autofocus")
	old := v.page
	uid := func(i int) string { return strings.TrimPrefix(at[i], "/photos/") }
	v.post(path+"/photos/write", "photo", uid(0), "version", "1", "caption", "the dial", "area", "dial", "stage", "before", "part", "2").want(200, `value="`+uid(1)+`"`, "2 without words")
	v.page = old
	v.post(path+"/photos/write", "photo", uid(0), "version", "1", "caption", "mine").want(409, "Someone else wrote here meanwhile", "the dial", "mine", `name="version" value="2"`)
	v.post(path+"/photos/write", "photo", uid(0), "version", "2", "caption", "mine").want(200, `value="`+uid(1)+`"`)
	v.post(path+"/photos/write", "photo", uid(1), "version", "1", "caption", strings.Repeat("x", 2001)).want(422, "Write at most 2000 letters")
	v.get(path+"/photos/write?after=2").want(200, `value="`+uid(2)+`"`)
	v.post(path+"/photos/write", "photo", uid(2), "version", "1", "caption", "the back").want(200, "Those left out: 1", "Once more from the first")
	v.get(at[2]).want(200, "the back")
	v.get(path+"/parts/new").post(path+"/parts", "number", "1", "to", "off", "name", "hand", "count", "1").want(200, "/photos?part=1")
	v.uploads(9, "hand.jpg", pictureOf(t, 222), "clock", strings.TrimPrefix(path, "/clocks/"), "part", "1")
	v.get(path+"/parts/1").want(200, "Photograph of ")
	v.get("/photos/write").want(200, "Something is written under each")
}

// TestSameViewAndTheOneThatStands pairs photographs, and chooses the one that
// stands for the clock.
func TestSameViewAndTheOneThatStands(t *testing.T) {
	sh := openEmpty(t)
	v := visitShop(t, sh, false)
	path := v.addOne("7", "Clock")
	id := strings.TrimPrefix(path, "/clocks/")
	one := v.uploads(1, "before.jpg", pictureOf(t, 1), "clock", id, "stage", "before").Photo
	uid := strings.TrimPrefix(one, "/photos/")
	v.get(path+"/photos?same="+uid).want(200, "to show the same as this", `name="same" value="`+uid+`"`)
	two := v.uploads(2, "during.jpg", pictureOf(t, 90), "clock", id, "stage", "during", "same", uid).Photo
	three := v.uploads(3, "after.jpg", pictureOf(t, 200), "clock", id, "stage", "after", "same", strings.TrimPrefix(two, "/photos/")).Photo
	four := v.uploads(4, "other.jpg", pictureOf(t, 240), "clock", id).Photo
	pairs := func(at string) string {
		v.get(at).want(200)
		_, after, _ := strings.Cut(v.page, "The same from the same side")
		listed, _, _ := strings.Cut(after, "Take it again")
		return listed
	}
	for at, others := range map[string][]string{one: {two, three}, two: {one, three}, three: {one, two}, four: nil} {
		listed := pairs(at)
		if strings.Count(listed, "<li>") != len(others) {
			t.Errorf("%s: %s", at, listed)
		}
		for _, o := range others {
			if !strings.Contains(listed, o) {
				t.Errorf("%s is not beside %s", o, at)
			}
		}
	}
	v.get(four).post(four, "do", "same", "other", uid).want(200, "Saved")
	v.get(one).post(one, "do", "another", "other", strings.TrimPrefix(three, "/photos/")).want(200, "Saved")
	if got := pairs(three); strings.Contains(got, "<li>") {
		t.Errorf("it still is of the same view: %s", got)
	}
	if err := sh.LookAtPhotos(t.Context()); err != nil {
		t.Fatal(err)
	}
	v.get(path).want(200, one+"/small.jpg")
	v.get(two).want(200, "Let it stand for this clock")
	v.post(two, "do", "main").want(200, "It stands for this clock")
	v.get(path).want(200, two+"/small.jpg")
	v.get(two).post(two, "do", "bin").want(200)
	v.get(path).want(200, one+"/small.jpg")
	v.get(path+"/history").want(200, "main")
}
