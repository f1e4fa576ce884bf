package web

import (
	"strings"
	"testing"
	"time"
)

// task is the fields of a row of the estimate's form.
func taskFields(row int, what, low, likely, high string, more ...string) []string {
	out := []string{taskName(row, "what"), what, taskName(row, "low"), low, taskName(row, "likely"), likely, taskName(row, "high"), high}
	for i := 0; i+1 < len(more); i += 2 {
		out = append(out, taskName(row, more[i]), more[i+1])
	}
	return out
}

func TestEstimateFromDraftToConsent(t *testing.T) {
	now := time.Date(2026, 11, 25, 16, 0, 0, 0, time.UTC)
	v := timedShop(t, &now)
	path := v.addOne("7", "Clock")
	at := path + "/estimate"
	v.get(at).want(200, "Nothing is estimated yet")
	if strings.Contains(v.page, "Fix it") {
		t.Error("nothing can be fixed")
	}
	bad := append(taskFields(2, "dial", "five", "2", "1", "decision", "mend"), taskFields(4, "", "1", "2", "3:75")...)
	v.post(at, append(bad, "correlation", "2", "level", "much")...).want(422, "“five”", "write why it is to be mended", "Say what is to be done", "3:75", "between 0 and 0.99", "“much”", `value="five"`, `name="tasks.4.high" value="3:75"`, `href="#f-tasks-2-low"`)
	good := append(taskFields(1, "pivots", "2", "3", "7:30", "decision", "mend", "why", "scored", "can_undo", "no", "chapter", "Movement"), taskFields(3, "dial", "1", "1,5", "4")...)
	good = append(good, taskFields(5, "case", "", "", "", "left_out", "yes", "why", "later")...)
	v.get(at).post(at, append(good, "terms", "holds a month")...).want(200, "Saved.", `value="7:30"`, `value="1,5"`, "Twenty jobs", "Not included: case", "Fix it as version 1")
	draft := v.page
	v.post(at, "do", "fix").want(200, "Fixed: it stays as it is", "Proposal, version 1", "scored", "case: later", "holds a month", "None is written down yet", "The owner has not agreed to version 1")
	v.post(at+"/1", "do", "word", "name", "", "how", "", "when", "once").want(422, "who gave the consent", "how it was given", "is not a day")
	v.post(at+"/1", "do", "word", "name", "Mrs V.", "how", "by telephone", "when", "2026-11-24", "deposit", "200 EUR", "words", "no polish").want(200, "Mrs V. has agreed, by telephone: no polish. Deposit agreed: 200 EUR", "agreed to")
	v.post(at+"/1", "do", "deposit", "amount", "", "paid", "").want(422, "amount with its currency")
	v.post(at+"/1", "do", "deposit", "amount", "200 EUR", "paid_how", "cash", "paid", "2026-11-25").want(200, "200 EUR, cash", "Take the last deposit back")
	v.post(at+"/1", "do", "back", "entry", "2").want(422, "answered to version 1")
	v.post(at+"/1", "do", "back", "entry", "4").want(200, "Taken back.", "Take the last word back")
	v.page = draft
	v.post(at, append(good, taskFields(6, "bell", "1", "2", "3")...)...).want(200, "bell", "Fix it as version 2")
	v.page = draft
	v.post(at, append(good, taskFields(6, "hands", "1", "2", "3")...)...).want(409, "saved meanwhile", "bell", "hands")
	v.page = draft
	v.post(at, "do", "fix").want(409, "saved meanwhile")
	v.get(at+"/1").want(200, "scored")
	if strings.Contains(v.page, ">bell<") {
		t.Error("a fixed version has changed")
	}
	v.get(at+"/1/twenty-jobs.csv").want(200, "1 to 5")
	v.get(at+"/draft/tasks.svg").want(200, "<svg")
	v.get(at + "/7").want(404)
}

// TestHoursBesideTheEstimate: what was worked stands beside the task it was
// written to, however the task was written.
func TestHoursBesideTheEstimate(t *testing.T) {
	now := time.Date(2026, 11, 25, 16, 0, 0, 0, time.UTC)
	v := timedShop(t, &now)
	path := v.addOne("7", "Clock")
	v.get(path+"/estimate").post(path+"/estimate", taskFields(1, "Pivots", "2", "3", "7")...)
	v.post(path+"/hours", "who", "Ada", "clock", "7", "day", "", "span", "2:30", "task", "pivots")
	v.get(path+"/estimate").want(200, "Worked so far", "2.5")
	v.get(path+"/estimate/draft/tasks.csv").want(200, "Pivots,2.0,3.0,7.0,2.5")
	v.get(path+"/hours").want(200, `<option value="Pivots">`)
}
