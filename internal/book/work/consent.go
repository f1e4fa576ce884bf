package work

import (
	"fmt"
	"strings"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

// Consent is the owner's word on one version of the proposal.
type Consent struct {
	Version int       `json:"version"` // of the proposal, from 1
	Name    string    `json:"name"`    // who gave it
	When    time.Time `json:"when"`
	How     string    `json:"how"`     // "signed", "letter", "by telephone"
	Words   string    `json:"words"`   // what was said, limits and wishes
	Deposit string    `json:"deposit"` // as agreed, as typed
	Who     string    `json:"who"`     // who wrote it down
	Refused bool      `json:"refused,omitempty"`
}

// Hows lists the ways offered; any other may be typed.
func Hows() []string {
	return []string{"signed", "by letter", "by mail", "by telephone", "in the shop"}
}

// Check lists what is missing of a consent.
func (c Consent) Check() meas.Faults {
	var f meas.Faults
	add := func(field, text string) { f = append(f, meas.Fault{Field: field, Text: text}) }
	if c.Version < 1 {
		add("version", "Say to which version of the proposal")
	}
	if strings.TrimSpace(c.Name) == "" {
		add("name", "Enter who gave the consent")
	}
	if c.When.IsZero() {
		add("when", "Enter the day on which it was given")
	}
	if strings.TrimSpace(c.How) == "" {
		add("how", "Enter how it was given: signed, by telephone, …")
	}
	if strings.TrimSpace(c.Who) == "" {
		add("who", "Say who writes this down")
	}
	for _, t := range [][2]string{{"name", c.Name}, {"how", c.How}, {"words", c.Words}, {"deposit", c.Deposit}} {
		f = append(f, ledger.CheckText(t[0], t[1])...)
	}
	return f
}

// Standing is the latest word on a version; false where there is none.
func Standing(all []Consent, version int) (Consent, bool) {
	var last Consent
	found := false
	for _, c := range all {
		if c.Version == version && (!found || !c.When.Before(last.When)) {
			last, found = c, true
		}
	}
	return last, found
}

// Authorised says what is wrong with doing that work on that version of the
// proposal: no consent, a refusal, or work done before it.
func Authorised(all []Consent, version int, done []Intervention) []meas.Finding {
	say := func(code, text, next string) []meas.Finding {
		return []meas.Finding{{Level: meas.Clash, Code: code, Text: text, Next: next, Ref: cite.Ref{Source: "spectrum", Place: "conservation, minimum standard"}}}
	}
	c, ok := Standing(all, version)
	switch {
	case !ok:
		return say("no-consent", fmt.Sprintf("The owner has not agreed to version %d of the proposal.", version), "Write down the consent before the first work on it.")
	case c.Refused:
		return say("refused", fmt.Sprintf("%s has refused version %d of the proposal.", c.Name, version), "Make another version.")
	}
	for _, v := range done {
		if v.Struck.IsZero() && v.When.Before(c.When) {
			return say("before-consent", fmt.Sprintf("Work of %s is from before the consent of %s.", v.When.Format(time.DateOnly), c.When.Format(time.DateOnly)), "Write why, under departure from the plan.")
		}
	}
	return nil
}
