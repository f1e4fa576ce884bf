package work

import (
	"slices"
	"strings"
	"testing"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

func whole() Intervention {
	return Intervention{N: 3, When: nine, Who: "Ada", Part: "2.1", Found: "click worn", Done: "faced", Why: "it slipped", Added: "steel, silver solder",
		Undo: WithWarmth, How: "unsolder", Before: []string{"aa"}, After: []string{"bb"}}
}

func codes(f []meas.Finding) (out []string) {
	for _, x := range f {
		out = append(out, x.Code)
	}
	return out
}

func TestInterventionFindings(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(*Intervention)
		want  []string
	}{
		"whole":           {func(*Intervention) {}, nil},
		"nothing found":   {func(v *Intervention) { v.Found = " " }, []string{"found"}},
		"undo not said":   {func(v *Intervention) { v.Undo = NotSaid }, []string{"undo"}},
		"how not said":    {func(v *Intervention) { v.How = "" }, []string{"how"}},
		"never, no why":   {func(v *Intervention) { v.Undo, v.Why = Never, "" }, []string{"why", "never"}},
		"removed, where?": {func(v *Intervention) { v.Removed = "old click" }, []string{"kept"}},
		"removed, kept":   {func(v *Intervention) { v.Removed, v.KeptAt = "old click", "bag 3" }, nil},
		"no photographs":  {func(v *Intervention) { v.Before, v.After = nil, nil }, []string{"before", "after"}},
	} {
		v := whole()
		c.spoil(&v)
		f := v.Findings()
		if got := codes(f); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
		for _, x := range f {
			if _, ok := cite.Find(x.Ref.Source); !ok && x.Ref.Grade != cite.CommonPractice || x.Next == "" {
				t.Errorf("%s: %+v", name, x)
			}
		}
		if len(v.Check()) > 0 {
			t.Errorf("%s is refused: %v", name, v.Check())
		}
	}
}

func TestIvoryStopsUntilTheLawIsAnswered(t *testing.T) {
	for added, stops := range map[string]bool{"Ivory, old stock": true, "IVORY": true, "Elfenbein": true, "ivory-coloured resin": true, "bone": false, "shell": false} {
		v := whole()
		v.Added = added
		f := v.Check()
		if (len(f) == 1 && f[0].Field == "legal") != stops {
			t.Errorf("%s: %v", added, f)
		}
		if stops && !strings.Contains(f[0].Text, "licensed practice") {
			t.Errorf("%s: no authority: %v", added, f)
		}
		v.Legal = "exempt, registered, letter of 3 March"
		if f := v.Check(); len(f) > 0 {
			t.Errorf("%s, answered: %v", added, f)
		}
		if got := codes(v.Findings()); slices.Contains(got, "ivory") != stops {
			t.Errorf("%s: the caution %v", added, got)
		}
	}
}

func TestInterventionCheckNamesAllMistakes(t *testing.T) {
	v := Intervention{Part: "x", Undo: "perhaps", Hours: -1, How: "\xff", Added: "ivory"}
	if f := v.Check(); len(f) != 8 {
		t.Errorf("%d: %v", len(f), f)
	}
}

func TestDiff(t *testing.T) {
	a, b := whole(), whole()
	if d := Diff(a, b); len(d) != 0 {
		t.Errorf("nothing changed: %v", d)
	}
	b.Done, b.After, b.Struck, b.Hours = "faced and hardened", []string{"bb", "cc"}, nine, 90e9
	d := Diff(a, b)
	if len(d) != 4 || d[0].Field != "done" || d[2].After != "0:02" || d[0].Before != "faced" || d[0].After != "faced and hardened" || d[0].Record != "intervention" {
		t.Errorf("%+v", d)
	}
}

func TestConsent(t *testing.T) {
	if f := (Consent{}).Check(); len(f) != 5 {
		t.Errorf("%v", f)
	}
	yes := Consent{Version: 2, Name: "Møller", When: at(0), How: "signed", Who: "Ada"}
	if f := yes.Check(); len(f) > 0 {
		t.Error(f)
	}
	no := yes
	no.Refused, no.When = true, at(5)
	early, late := whole(), whole()
	early.When, late.When = at(-1), at(1)
	struck := early
	struck.Struck = at(2)
	for name, c := range map[string]struct {
		all  []Consent
		done []Intervention
		want []string
	}{
		"none":               {nil, nil, []string{"no-consent"}},
		"given":              {[]Consent{yes}, []Intervention{late, struck}, nil},
		"withdrawn":          {[]Consent{no, yes}, nil, []string{"refused"}},
		"work before it":     {[]Consent{yes}, []Intervention{late, early}, []string{"before-consent"}},
		"to another version": {[]Consent{{Version: 1, When: nine}}, nil, []string{"no-consent"}},
	} {
		f := Authorised(c.all, 2, c.done)
		if got := codes(f); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
		for _, x := range f {
			if _, ok := cite.Find(x.Ref.Source); !ok {
				t.Errorf("%s: no authority", name)
			}
		}
	}
}
