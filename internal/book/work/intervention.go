package work

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

// Undoing is whether an intervention can be undone.
type Undoing string

// The ways.
const (
	NotSaid     Undoing = ""
	Freely      Undoing = "freely"      // and nothing is left of it
	WithWarmth  Undoing = "with warmth" // or water
	WithSolvent Undoing = "with solvent"
	Partly      Undoing = "partly"
	Never       Undoing = "never"
)

// Undoings lists them.
func Undoings() []Undoing { return []Undoing{Freely, WithWarmth, WithSolvent, Partly, Never} }

// Intervention is one thing that was done to the clock. Texts are as typed.
type Intervention struct {
	N         int           `json:"n"` // number within the clock, from 1
	When      time.Time     `json:"when"`
	Who       string        `json:"who"`
	Part      parts.Number  `json:"part"`  // "" for the clock as a whole
	Found     string        `json:"found"` // as it was
	Done      string        `json:"done"`  // what was done
	Why       string        `json:"why"`
	Departure string        `json:"departure"` // from the plan, and why
	Added     string        `json:"added"`     // material that came, exactly
	Removed   string        `json:"removed"`   // material that went
	Undo      Undoing       `json:"undo"`
	How       string        `json:"how"`     // it can be undone
	KeptAt    string        `json:"kept_at"` // where the original piece is
	Legal     string        `json:"legal"`   // the answer to the question of law, for new ivory
	Before    []string      `json:"before"`  // photographs, by their hash
	After     []string      `json:"after"`
	Hours     time.Duration `json:"hours"`           // 0 where not said
	Struck    time.Time     `json:"struck,omitzero"` // marked removed
}

// Check lists what cannot be kept; new ivory without an answer to the question
// of law is among it.
func (v Intervention) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if strings.TrimSpace(v.Who) == "" {
		add("who", "Say who did it")
	}
	if v.When.IsZero() {
		add("when", "Say when it was done")
	}
	if strings.TrimSpace(v.Done) == "" {
		add("done", "Write what was done")
	}
	if v.Part != "" && !v.Part.Valid() {
		add("part", "“%s” is not the number of a part; write it like 2.1", meas.Clip(string(v.Part)))
	}
	if v.Undo != NotSaid && !slices.Contains(Undoings(), v.Undo) {
		add("undo", "Choose whether it can be undone: freely, with warmth, with solvent, partly, never")
	}
	if v.Hours < 0 {
		add("hours", "The hours cannot be negative")
	}
	for _, e := range v.fields() {
		f = append(f, ledger.CheckText(e[0], e[1])...)
	}
	if v.addsIvory() && strings.TrimSpace(v.Legal) == "" {
		add("legal", "New ivory, by what is written: write first what the law allows here and who said so, or that it is none. %s", ivoryLaw)
	}
	return f
}

// ivoryLaw is the caution that goes with new ivory.
const ivoryLaw = "Ivory Act 2018 (United Kingdom), CITES, and in the United States an antique repaired with ivory after 27 December 1973 is one no longer. Local law and licensed practice decide."

// addsIvory tells whether the material that came is ivory, by its name.
func (v Intervention) addsIvory() bool {
	return slices.ContainsFunc(strings.FieldsFunc(job.Fold(v.Added), func(r rune) bool { return r < 'a' || r > 'z' }), func(w string) bool {
		return w == "ivory" || w == "elfenbein" || w == "ivoire"
	})
}

// fields lists what a person can write, by name, in a fixed order.
func (v Intervention) fields() [][2]string {
	return [][2]string{
		{"part", string(v.Part)}, {"found", v.Found}, {"done", v.Done}, {"why", v.Why}, {"departure", v.Departure}, {"added", v.Added}, {"removed", v.Removed},
		{"undo", string(v.Undo)}, {"how", v.How}, {"kept_at", v.KeptAt}, {"legal", v.Legal}, {"before", strings.Join(v.Before, " ")}, {"after", strings.Join(v.After, " ")},
	}
}

// struckField is the name of a change that strikes an intervention out, or
// takes that back; "removed" is the material that went.
const struckField = "struck"

// Diff lists what differs between two states of an intervention, by the names
// of the record's fields; values are in words.
func Diff(before, after Intervention) []job.Change {
	var out []job.Change
	add := func(field, was, is string) {
		if was != is {
			out = append(out, job.Change{Record: "intervention", Field: field, Before: was, After: is})
		}
	}
	is := after.fields()
	for i, was := range before.fields() {
		add(was[0], was[1], is[i][1])
	}
	add("who", before.Who, after.Who)
	add("when", written(before.When), written(after.When))
	add("hours", lasted(before.Hours), lasted(after.Hours))
	yes := map[bool]string{true: "yes", false: "no"}
	add(struckField, yes[!before.Struck.IsZero()], yes[!after.Struck.IsZero()])
	return out
}

func written(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format("2006-01-02 15:04 UTC")
}

func lasted(d time.Duration) string {
	if d == 0 {
		return ""
	}
	return Clocked(d)
}

// Findings says what the ledger does not tell yet. aic is the authority of
// most of it, the original's keeping is common practice.
func (v Intervention) Findings() []meas.Finding {
	var out []meas.Finding
	say := func(level meas.Level, code, field, text, next string, ref cite.Ref) {
		out = append(out, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: []string{field}, Ref: ref})
	}
	blank := func(s string) bool { return strings.TrimSpace(s) == "" }
	aic := func(place string) cite.Ref { return cite.Ref{Source: "aic", Place: place} }
	practice := cite.Ref{Grade: cite.CommonPractice}
	if blank(v.Found) {
		say(meas.Doubt, "found", "found", "What was found is not written.", "Write how it was before.", aic("Commentary 25 B"))
	}
	if blank(v.Why) {
		say(meas.Doubt, "why", "why", "Why it was done is not written.", "Write the reason.", aic("Commentary 27"))
	}
	if v.Undo == NotSaid {
		say(meas.Doubt, "undo", "undo", "Whether it can be undone is not said.", "Choose, and write how.", practice)
	}
	if (v.Undo == WithSolvent || v.Undo == WithWarmth || v.Undo == Partly) && blank(v.How) {
		say(meas.Doubt, "how", "how", "It can be undone "+string(v.Undo)+"; how is not written.", "Name the solvent, the warmth, what stays behind.", practice)
	}
	if v.Undo == Never && blank(v.Why) {
		say(meas.Clash, "never", "why", "It can never be undone, and no reason is written.", "Write why there was no other way.", practice)
	}
	if !blank(v.Removed) && blank(v.KeptAt) {
		say(meas.Doubt, "kept", "kept_at", "Material was removed; where it is kept is not written.", "Label it, keep it for the owner, and write where; or that nothing was left.", practice)
	}
	if len(v.Before) == 0 {
		say(meas.Doubt, "before", "before", "There is no photograph from before.", "If it is too late, write what it looked like.", aic("Commentary 27 B"))
	}
	if len(v.After) == 0 {
		say(meas.Note, "after", "after", "There is no photograph from after.", "Take one before it is covered.", aic("Commentary 27 B"))
	}
	if v.addsIvory() {
		say(meas.Danger, "ivory", "legal", "By what is written, new ivory was added.", ivoryLaw, cite.Ref{Source: "ivoryact", Place: "s. 7"})
	}
	return out
}
