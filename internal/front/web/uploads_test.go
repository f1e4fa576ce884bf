package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
	"seatboard/internal/shop"
)

// pieceOf posts a step of an upload, and reads the answer.
func (v *visit) pieceOf(path, token, kind string, body io.Reader) (a uploadAnswer) {
	v.t.Helper()
	r, err := http.NewRequest("POST", v.base+path, body)
	if err != nil {
		v.t.Fatal(err)
	}
	r.Header.Set(tokenHeader, token)
	r.Header.Set("Content-Type", kind)
	v.took(v.client.Do(r))
	if err := json.Unmarshal([]byte(v.page), &a); err != nil {
		v.t.Fatalf("%s: %d %.100s: %v", path, v.status, v.page, err)
	}
	return a
}

const formKind = "application/x-www-form-urlencoded"

// uploads sends a file under a name, to a clock, in one piece of at most 4 MB each.
func (v *visit) uploads(n int, name string, content []byte, more ...string) uploadAnswer {
	v.t.Helper()
	token := tokenField.FindStringSubmatch(v.get("/photos").page)[1]
	sum := sha256.Sum256(content)
	id := fmt.Sprintf("%032x", n)
	form := url.Values{"id": {id}, "name": {name}, "size": {strconv.Itoa(len(content))}, "sha256": {hex.EncodeToString(sum[:])}}
	for i := 0; i < len(more); i += 2 {
		form.Set(more[i], more[i+1])
	}
	a := v.pieceOf("/uploads", token, formKind, strings.NewReader(form.Encode()))
	for a.Wrong == nil && !a.Safe && a.At < int64(len(content)) {
		a = v.pieceOf(fmt.Sprintf("/uploads/%s?at=%d", id, a.At), token, "", bytes.NewReader(content[a.At:min(int(a.At)+maxPiece, len(content))]))
	}
	if a.Wrong != nil || a.Safe {
		return a
	}
	return v.pieceOf("/uploads/"+id+"/finish", token, "", nil)
}

// bombPNG says in its header that it has 30,000 by 30,000 pixels.
func bombPNG() []byte {
	chunk := func(name string, content []byte) []byte {
		b := append([]byte(name), content...)
		out := append(binary.BigEndian.AppendUint32(nil, uint32(len(content))), b...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(b))
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, 30_000), 30_000)
	return bytes.Join([][]byte{[]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(head, 8, 2, 0, 0, 0)), chunk("IDAT", bytes.Repeat([]byte{0}, 500)), chunk("IEND", nil)}, nil)
}

func TestHostileUploads(t *testing.T) {
	sh := openEmpty(t)
	v := visitShop(t, sh, false)
	path := v.addOne("1", "Clock")
	good := pictureOf(t, 77)
	for name, x := range map[string]struct {
		content []byte
		more    []string
		status  int
		say     string
	}{
		"empty.jpg":      {nil, nil, 422, "empty.jpg is empty"},
		"large.jpg":      {good, []string{"size", "209715200"}, 413, "larger than 60 MB"},
		"script.svg":     {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`), nil, 422, "is not a photograph"},
		"page.jpg":       {[]byte("<!doctype html><script>alert(1)</script>"), nil, 422, "is not a photograph"},
		"no clock.jpg":   {good, []string{"clock", "99"}, 404, "no such clock"},
		"no sum.jpg":     {good, []string{"sha256", "../x"}, 422, "not an upload"},
		"another id.jpg": {good, []string{"id", "../../etc"}, 422, "not an upload"},
	} {
		if a := v.uploads(len(name), name, x.content, x.more...); v.status != x.status || a.Wrong == nil || !strings.Contains(a.Wrong.Message, x.say) {
			t.Errorf("%s: %d %s", name, v.status, v.page)
		}
	}
	if l, err := sh.Photos(t.Context(), store.PhotoPlace{}, 0); err != nil || l.Total != 0 {
		t.Errorf("something was kept: %+v %v", l, err)
	}
	a := v.uploads(100, `C:\x\..\..\passwd.heic`, good, "clock", strings.TrimPrefix(path, "/clocks/"), "stage", "after")
	if !a.Safe || a.Again {
		t.Fatal(v.page)
	}
	v.get(a.Photo).want(200, "passwd.heic: JPEG", "after")
	bomb := v.uploads(101, "bomb.png", bombPNG())
	if !bomb.Safe {
		t.Fatal(v.page)
	}
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if p, err := sh.Photo(t.Context(), strings.TrimPrefix(bomb.Photo, "/photos/")); err != nil || p.Small != picture.Waiting {
			break
		}
	}
	v.get(bomb.Photo).want(200, "cannot be shown here: it says that it has 30000 × 30000 pixels")
	if a = v.pieceOf("/uploads/"+strings.Repeat("0", 32)+"?at=0", "stolen", "", strings.NewReader("x")); v.status != 403 || a.Wrong.Code != staleToken {
		t.Errorf("without a token: %d %s", v.status, v.page)
	}
}

// TestFaultyFilesAreKept uploads damaged and hostile files that were collected
// elsewhere; each is kept with the reason why it is not shown, or refused.
func TestFaultyFilesAreKept(t *testing.T) {
	files, err := filepath.Glob("../../../../shared/data/faulty/*")
	if err != nil || len(files) == 0 {
		t.Skip("the faulty files are not there")
	}
	sh := openEmpty(t)
	v := visitShop(t, sh, false)
	for i, file := range files {
		content, err := os.ReadFile(file)
		if err != nil {
			continue // a folder
		}
		if a := v.uploads(i, filepath.Base(file), content); a.Safe == (a.Wrong != nil) || v.status >= 500 {
			t.Errorf("%s: %d %s", file, v.status, v.page)
		}
	}
	if err := sh.LookAtPhotos(t.Context()); err != nil {
		t.Error(err)
	}
	v.get("/photos").want(200)
}

// TestLongPiecesAndStreams: neither a piece nor a form can be made to take in
// more than they may.
func TestLongPiecesAndStreams(t *testing.T) {
	sh := openEmpty(t)
	v := visitShop(t, sh, false)
	token := tokenField.FindStringSubmatch(v.get("/photos").page)[1]
	id := strings.Repeat("a", 32)
	v.pieceOf("/uploads", token, formKind, strings.NewReader(url.Values{"id": {id}, "name": {"x"}, "size": {strconv.Itoa(8 << 20)}, "sha256": {strings.Repeat("0", 64)}}.Encode()))
	if a := v.pieceOf("/uploads/"+id+"?at=0", token, "", endless(5<<20)); v.status != 413 || a.At > maxPiece {
		t.Errorf("%d %s", v.status, v.page)
	}
	if a := v.pieceOf("/uploads/"+id+"?at=4194304", token, "", endless(4<<20)); v.status != 200 || a.At != 8<<20 {
		t.Errorf("%d %s", v.status, v.page)
	}
	if a := v.pieceOf("/uploads/"+id+"?at=8388608", token, "", endless(1)); v.status != 422 || a.At != 8<<20 {
		t.Errorf("more than was said: %d %s", v.status, v.page)
	}
	v.pieceOf("/uploads/"+id+"?at=-1", token, "", endless(1))
	if v.status != 404 {
		t.Errorf("at −1: %d", v.status)
	}
	in, out := io.Pipe()
	m := multipart.NewWriter(out)
	go func() {
		_ = m.WriteField("token", token)
		w, err := m.CreateFormFile("photo", "film.jpg")
		if err == nil {
			_, err = io.Copy(w, io.MultiReader(strings.NewReader("\xff\xd8\xff"), endless(200<<20)))
		}
		_ = out.CloseWithError(errors.Join(err, m.Close()))
	}()
	r, err := http.NewRequest("POST", v.base+"/photos", in)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", m.FormDataContentType())
	v.took(v.client.Do(r)).want(422, "film.jpg is larger than 60 MB")
	if l, err := sh.Photos(t.Context(), store.PhotoPlace{}, 0); err != nil || l.Total != 0 {
		t.Errorf("something was kept: %+v %v", l, err)
	}
}

// endless is so many bytes, all the same.
func endless(n int64) io.Reader { return io.LimitReader(same{}, n) }

type same struct{}

func (same) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

// BenchmarkFiveThousandPhotographs asks for the pages of a clock with 5,000
// photographs, whose small pictures are made.
func BenchmarkFiveThousandPhotographs(b *testing.B) {
	v := crowdedShop(b)
	for name, path := range map[string]string{"clock": "/clocks/1", "first": "/clocks/1/photos", "later": "/clocks/1/photos?before=2500", "part": "/clocks/1/photos?part=7", "one": fmt.Sprintf("/photos/%016x", 2500), "tray": "/photos"} {
		b.Run(name, func(b *testing.B) {
			var took []time.Duration
			for b.Loop() {
				began := time.Now()
				v.get(path)
				took = append(took, time.Since(began))
				if v.status != 200 {
					b.Fatal(path, v.status)
				}
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "median-ms")
			b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
			b.ReportMetric(float64(len(v.page))/1000, "kB")
		})
	}
}

// crowdedShop has one clock with 5,000 photographs of a hundred parts.
func crowdedShop(b *testing.B) *visit {
	b.Helper()
	dir := b.TempDir()
	st, err := store.Open(b.Context(), dir, store.Options{Now: time.Now})
	if err != nil {
		b.Fatal(err)
	}
	err = st.Update(b.Context(), "A", func(tx *store.Tx) error {
		c, err := tx.AddClock(job.Clock{UID: strings.Repeat("a", 16), Number: "1", Title: "Clock", Stage: job.TakingIn})
		for i := 1; i <= 5000 && err == nil; i++ {
			_, err = tx.AddPhoto(picture.Photo{UID: fmt.Sprintf("%016x", i), SHA256: fmt.Sprintf("%064x", i), Size: 4e6, Kind: picture.JPEG, Name: "x.jpg",
				Width: 4000, Height: 3000, Small: picture.Made, ClockID: c.ID, Parts: []parts.Number{parts.Number(strconv.Itoa(1 + i%100))}})
		}
		return err
	})
	if err := errors.Join(err, st.Close()); err != nil {
		b.Fatal(err)
	}
	sh, err := shop.Open(b.Context(), dir, time.Now)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { sh.Close() })
	return visitShop(b, sh, false)
}
