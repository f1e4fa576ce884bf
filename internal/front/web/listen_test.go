package web

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/kit/unit"
)

// wavOf writes a recording as a WAV of 16 bits.
func wavOf(t *testing.T, r synth.Recipe) []byte {
	t.Helper()
	rec, err := synth.New(r)
	if err != nil {
		t.Fatal(err)
	}
	samples := make([]int16, 0, rec.Frames())
	part := make([]int16, 4096)
	for {
		n, err := rec.ReadInt16(part)
		samples = append(samples, part[:n]...)
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	size, rate := uint32(2*len(samples)), uint32(rec.Rate())
	b.WriteString("RIFF")
	put := func(v any) { _ = binary.Write(&b, binary.LittleEndian, v) }
	put(36 + size)
	b.WriteString("WAVEfmt ")
	put([]uint16{16, 0, 1, 1})
	put([]uint32{rate, 2 * rate})
	put([]uint16{2, 16})
	b.WriteString("data")
	put(size)
	put(samples)
	return b.Bytes()
}

// seconds is a clock of 3,600 beats an hour by its train 96/8 60/8 56/7 30,
// gaining 40 s a day.
func seconds(length unit.Duration) synth.Recipe {
	return synth.Recipe{Seed: 7, Shape: 3, SampleRate: 44100, Length: length, Clock: synth.Clock{Beat: 0.5, Rate: 40.0 / 86400, BeatError: 0.006, ScatterPM: 50e-6}, Noise: synth.Noise{SNR: synth.DB(25)}}
}

// send uploads a recording with the words of the form.
func (v *visit) send(name string, sound []byte, pairs ...string) *visit {
	v.t.Helper()
	v.get("/listen")
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	_ = m.WriteField("token", tokenField.FindStringSubmatch(v.page)[1])
	for i := 0; i+1 < len(pairs); i += 2 {
		_ = m.WriteField(pairs[i], pairs[i+1])
	}
	f, err := m.CreateFormFile("sound", name)
	if err != nil {
		v.t.Fatal(err)
	}
	_, _ = f.Write(sound)
	m.Close()
	r, err := v.client.Post(v.base+"/listen", m.FormDataContentType(), &b)
	return v.took(r, err)
}

// heardOut waits until a listening has ended, as a browser without script
// does: it asks again.
func (v *visit) heardOut() *visit {
	v.t.Helper()
	at := v.at
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if v.get(at); !strings.Contains(v.page, "<h1>Listening</h1>") {
			return v
		}
		v.want(200, `http-equiv="refresh"`, "Stop and see the answer")
	}
	v.t.Fatal("it was not heard out")
	return v
}

func TestRecordingIsHeardAndKept(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-001", "Longcase")
	v.send("bracket.wav", wavOf(t, seconds(40)), "beats", "7200").heardOut()
	v.want(200, "What was heard", "bracket.wav", "it gained", "Keep it in the clock", "Keep the sound too", `href="`+v.at+`/beats.csv"`)
	at := v.at
	v.get(at+"/answer.json").want(200, `"mean"`)
	v.get(at+"/beats.csv").want(200, "At (s),Standard uncertainty (s)", "Late (µs),Path (µs),Band (µs),Odd")
	if n := strings.Count(v.page, "\n"); n < 60 || n > 82 {
		t.Errorf("%d lines of beats", n)
	}
	v.get(at).post(at+"/keep", "clock", "").want(422, "Enter the number of the clock")
	v.get(at).post(at+"/keep", "clock", "none").want(422, "No clock has the number none")
	v.get(at).post(at+"/keep", "clock", "2026-001", "note", "before cleaning", "sound", "yes")
	v.want(200, "Kept in the clock", "before cleaning", "it gained", "The sound")
	kept := v.at
	v.get(kept+"/sound").want(200, "RIFF")
	v.get(kept+"/every-beat.svg").want(200, "<svg")
	v.get(path+"/listening").want(200, "s/d", "recording", "before cleaning", kept)
	v.get(kept).post(kept+"/remove", "removed", "yes").want(200, "Removed", "it can be put back")
	v.get(kept).post(kept+"/remove", "removed", "no").want(200, "Put back")
	v.get(at).want(200, "It is kept in")
	v.get("/clocks/99/listening/1").want(404)
}

func TestTrainOfTheClockIsUsed(t *testing.T) {
	v := openShop(t, true)
	v.send("x.wav", wavOf(t, seconds(30)), "clock", "2026-999").want(422, "No clock has the number 2026-999", `value="2026-999"`)
	v.send("x.wav", wavOf(t, seconds(30)), "train", "96/8 nonsense").want(422, "There is a problem", `value="96/8 nonsense"`)
	v.send("x.wav", wavOf(t, seconds(30)), "train", "96/8 60/8 56/7 60").heardOut().want(200, "it gained")
}

func TestWhatIsNoSound(t *testing.T) {
	v := openShop(t, false)
	v.send("", nil).want(422, "No file was chosen")
	for name, b := range map[string][]byte{"letter.wav": []byte("this is a letter"), "empty.wav": nil, "cut.flac": []byte("fLaC\x00"), "zip.mp3": []byte("PK\x03\x04aaaaaaaaaaaaaaaaaa")} {
		v.send(name, b)
		if v.status == 200 {
			v.heardOut().want(200, `<p class="say">`)
		}
		if strings.Contains(v.page, "Something went wrong inside") {
			t.Errorf("%s: the page blames itself", name)
		}
	}
	v.get("/listen/jobs/0123456789abcdef").want(404, "There is no such listening")
	v.get("/listen/jobs/0123456789abcdef/progress").want(404)
	v.get("/listen/jobs/0123456789abcdef/answer.json").want(404)
}

func TestStaleUploadIsNotTaken(t *testing.T) {
	v := openShop(t, false)
	v.get("/listen")
	v.page = strings.Replace(v.page, `name="token" value="`, `name="token" value="0`, 1)
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	_ = m.WriteField("token", "0")
	f, _ := m.CreateFormFile("sound", "a.wav")
	_, _ = f.Write(make([]byte, 1<<20))
	m.Close()
	r, err := v.client.Post(v.base+"/listen", m.FormDataContentType(), &b)
	v.took(r, err).want(http.StatusForbidden, "Choose the file once more")
	v.get("/listen")
	if strings.Contains(v.page, "a.wav") {
		t.Error("a stale form was listened to")
	}
}

func TestStopAnswersWhatWasHeard(t *testing.T) {
	v := openShop(t, false)
	v.send("long.wav", wavOf(t, seconds(120)), "beats", "7200")
	at := v.at
	v.post(at+"/stop").want(200, "What was heard")
	v.get(at).post(at+"/throw").want(200, "Thrown away")
	v.get(at).want(404)
}

// TestProgressIsSent reads what script follows.
func TestProgressIsSent(t *testing.T) {
	v := openShop(t, false)
	v.send("long.wav", wavOf(t, seconds(60)), "beats", "7200")
	r, err := v.client.Get(v.base + v.at + "/progress")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if k := r.Header.Get("Content-Type"); k != "text/event-stream" || r.Header.Get("Content-Encoding") != "" {
		t.Errorf("sent as %s %s", k, r.Header.Get("Content-Encoding"))
	}
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	last := string(b[bytes.LastIndex(b, []byte("data: ")):])
	if !strings.Contains(last, `"running":false`) {
		t.Errorf("it ends with %s", last)
	}
}

func TestBlocks(t *testing.T) {
	b := blockOf(3, 4410, []float32{0.5, float32(math.NaN()), -1})
	x, err := readBlock(b)
	if err != nil || x.Number != 3 || x.First != 4410 || len(x.Samples) != 3 || x.Samples[0] != 0.5 || x.Samples[1] != 0 || x.Samples[2] != -1 {
		t.Errorf("%+v %v", x, err)
	}
	for name, bad := range map[string][]byte{"nothing": nil, "short": b[:20], "cut": b[:len(b)-1], "another format": append([]byte{2}, b[1:]...),
		"before the first": blockOf(0, -1, nil), "no number": blockOf(0, math.NaN(), nil), "far": blockOf(0, 1e300, nil)} {
		if _, err := readBlock(bad); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

func FuzzBlock(f *testing.F) {
	f.Add(blockOf(3, 4410, []float32{0.5, -1}))
	f.Fuzz(func(t *testing.T, b []byte) {
		x, err := readBlock(b)
		if err != nil {
			return
		}
		if x.First < 0 || len(x.Samples) > mostBlock {
			t.Errorf("%+v", x)
		}
		for _, s := range x.Samples {
			if s != s || math.IsInf(float64(s), 0) {
				t.Errorf("a sample is %v", s)
			}
		}
	})
}

// blockOf writes a block as the page does.
func blockOf(number uint32, first float64, samples []float32) []byte {
	b := make([]byte, blockHead)
	b[0] = 1
	binary.LittleEndian.PutUint32(b[4:], number)
	binary.LittleEndian.PutUint64(b[8:], math.Float64bits(first))
	binary.LittleEndian.PutUint64(b[16:], math.Float64bits(math.NaN()))
	for _, s := range samples {
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(s))
	}
	return b
}

// soundFile writes a recording where a browser can read it.
func soundFile(t *testing.T, r synth.Recipe) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "clock.wav")
	if err := os.WriteFile(path, wavOf(t, r), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}
