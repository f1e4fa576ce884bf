package web

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// now is what a page shows of a listening that runs; script reads it as JSON.
type now struct {
	Run     string   `json:"run"`
	At      string   `json:"at"`
	Running bool     `json:"running"`
	State   string   `json:"state"` // "waiting", "listening", "locked", "done"
	Say     string   `json:"say"`   // the one sentence that matters
	More    []string `json:"more"`
	Wrong   string   `json:"wrong"` // what is wrong and what to do, "" where all is well
	Worth   string   `json:"worth"` // of the way by which the sound comes
	Share   float64  `json:"share"` // of the sound that was listened to, 0 to 1
	Far     string   `json:"far"`   // the same in words
	Clock   string   `json:"clock"` // how far the comparison of the recorder's clock is

	Capture int   `json:"capture"` // of a live run: the sample that is expected next
	Next    int64 `json:"next"`
}

func nowOfJob(j shop.ListenJob) now {
	n := now{Run: j.ID, At: jobPath(j.ID), Running: !j.State.Ended(), State: "listening", Say: "Listening to the recording."}
	switch {
	case j.State == shop.Waiting:
		n.State, n.Say = "waiting", "Waiting until another recording has been listened to."
	case !n.Running:
		n.State, n.Say = "done", "The recording has been listened to."
	}
	if j.Total > 0 {
		n.Share = min(float64(j.Done)/float64(j.Total), 1)
		n.Far = fmt.Sprintf("%.0f %% of the sound", 100*n.Share)
	}
	return n
}

func nowOfLive(st shop.LiveState) now {
	n := now{Run: st.ID, At: jobPath(st.ID), Running: st.Running, State: "listening", Say: "Listening for a beat.", Worth: worth(st.Query.Path), Wrong: st.Why,
		Capture: st.Next.Capture, Next: st.Next.First}
	if st.Beats == 0 && st.Verdict == beat.NoBeat && st.Elapsed < beginning && st.Level.Peak > 0 && !st.Trouble {
		n.Wrong = "" // it has only begun
	}
	if st.Elapsed > 0 {
		n.Far = "Sound of " + lasting(st.Elapsed) + " so far, peak " + decibels(st.Level.Peak)
	}
	if st.Verdict == beat.Regular && st.Beats > 0 {
		n.State, n.Say = "locked", "A beat is heard; it is being followed."
		if st.Answer != nil {
			n.Say, n.More = sentences(*st.Answer)
		}
	}
	if st.GapCount > 0 {
		n.More = append(n.More, lostWords(st))
	}
	n.More = append(n.More, noticeWords(st.Notices)...)
	if k := st.Sound; k.Asked {
		n.Far += soundWords(k)
	}
	n.Clock = compareWords(st)
	if st.Unsaved != "" {
		n.More = append(n.More, "What was heard lately is not on the disk yet: "+st.Unsaved)
	}
	if !st.Running {
		n.State = "done"
	}
	return n
}

// beginning is how long no beat is nothing wrong.
const beginning unit.Duration = 12

// sentences are those that an answer opens with.
func sentences(a listen.Answer) (say string, more []string) {
	d := present.Listen(a)
	if len(d.Sections) == 0 {
		return "", nil
	}
	for _, b := range d.Sections[0].Body {
		switch b := b.(type) {
		case doc.Say:
			say = b.Text
		case doc.List:
			return say, b.Items
		}
	}
	return say, nil
}

func lostWords(st shop.LiveState) string {
	var lost unit.Duration
	for _, g := range st.Gaps {
		lost += g.Length
	}
	places := "one place"
	if st.GapCount > 1 {
		places = fmt.Sprintf("%d places", st.GapCount)
	}
	return fmt.Sprintf("Sound was lost in %s, %s in all. The run is split there; nothing is reckoned across.", places, lasting(lost))
}

// noticeWords are the sentences for what was noticed: those that last are to
// be acted on, the others are counted.
func noticeWords(all []shop.Notice) (out []string) {
	var past []string
	for _, n := range all {
		if words := openNotices[n.What]; n.Open && words != "" {
			out = append(out, words)
			continue
		}
		past = append(past, noticeWord(n))
	}
	if k := len(past) - 3; k > 0 {
		past = append([]string{fmt.Sprintf("%d before", k)}, past[k:]...)
	}
	if len(past) > 0 {
		out = append(out, "Noticed: "+strings.Join(past, "; ")+". The run is split there; nothing is reckoned across.")
	}
	return out
}

func noticeWord(n shop.Notice) string {
	words := string(n.What) + " at " + lasting(n.At)
	if n.What == beat.Zeros {
		words = "exact silence at " + lasting(n.At)
	}
	if n.Length > 0 {
		words += " for " + lasting(n.Length)
	}
	return words
}

// openNotices say what to do about what lasts still.
var openNotices = map[beat.MarkKind]string{
	shop.Muted:       "The system has muted the microphone: another program or a call has taken it. What comes meanwhile is silence.",
	shop.Interrupted: "The system has interrupted the sound, as a call does.",
	shop.Asleep:      "The browser has put the sound to sleep. Touch the page.",
	shop.Hidden:      "The page is in the background: a phone may stop the sound there. Bring it to the front.",
	shop.Unlit:       "The screen is not kept awake: keep it on yourself.",
}

// soundWords say how the keeping of the sound stands.
func soundWords(k shop.KeptSound) string {
	if k.Why != "" {
		return ". " + k.Why
	}
	return ", " + megabytes(k.Bytes) + " of it kept"
}

func megabytes(n int64) string { return fmt.Sprintf("%.0f MB", max(math.Ceil(float64(n)/1e6), 1)) }

// decibels is a level below full scale.
func decibels(x float64) string {
	if !(x > 1e-5) {
		return "below −100 dB"
	}
	return strings.Replace(fmt.Sprintf("%.0f dB", 20*math.Log10(min(x, 1))), "-", "−", 1)
}

// lasting is a length of time in words.
func lasting(d unit.Duration) string {
	s := float64(d)
	switch {
	case s < 1:
		return fmt.Sprintf("%.0f ms", 1000*s)
	case s < 120:
		return fmt.Sprintf("%.0f s", s)
	case s < 7200:
		return fmt.Sprintf("%.0f min", s/60)
	}
	return fmt.Sprintf("%.1f h", s/3600)
}

// worth says what the way is worth by which the sound comes.
func worth(p readings.Path) string {
	switch p {
	case readings.Own:
		return "The sound comes from this computer’s own microphone: the surest way."
	case readings.Processor:
		return "The browser hands over every block of sound with the device’s own time: what is lost is seen."
	case readings.Worklet:
		return "This browser hands the sound over by the clock of the loudspeaker and may lose or repeat a hundredth of a second unseen. Such steps are looked for and split the run; for hours, bring a recording or use Chromium."
	case readings.File:
		return "A recording: the sound as the recorder wrote it."
	}
	return ""
}

// ways are the words for the way of the sound in a list.
func way(p readings.Path) string {
	switch p {
	case readings.File:
		return "recording"
	case readings.Own:
		return "this computer’s microphone"
	case readings.Processor, readings.Worklet:
		return "microphone of a " + string(p)
	}
	return string(p)
}
