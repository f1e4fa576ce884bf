package desk

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/paper/svg"
	"seatboard/internal/paper/text"
)

// Whatever lines are typed in, there is an answer that can be read, or a list
// of mistakes.
func TestAnyTrialIsAnswered(t *testing.T) {
	c, ok := Find("regulate")
	if !ok {
		t.Fatal("there is no regulation on the desk")
	}
	rapid.Check(t, func(t *rapid.T) {
		at := time.Date(2026, 11, 3, 9, 0, 0, 0, time.UTC)
		var b strings.Builder
		fast, rate := 0.0, rapid.Float64Range(-200, 200).Draw(t, "rate")
		for range rapid.IntRange(1, 14).Draw(t, "lines") {
			step := time.Duration(rapid.IntRange(0, 3000).Draw(t, "minutes")) * time.Minute
			at, fast = at.Add(step), fast+rate*step.Hours()/24
			b.WriteString(at.Format("2006-01-02 15:04 "))
			switch rapid.IntRange(0, 7).Draw(t, "what") {
			case 0:
				b.WriteString(rapid.SampledFrom([]string{"nut up 1/2", "nut down 12 divisions", "tray 2 g on", "set right", "stopped", "started 3 s fast", "moved: to the case", "wound", "worked: new suspension"}).Draw(t, "touch"))
			case 1:
				fmt.Fprintf(&b, "%+.2f ± 0.1 s/d over 20 min", rate)
			case 2:
				fmt.Fprintf(&b, "%+.1f s, %d °C, 1013 hPa, 55 %%, arc 2.1°", fast, rapid.IntRange(5, 30).Draw(t, "warmth"))
			case 3:
				fmt.Fprintf(&b, "%+.1f s", fast+rapid.SampledFrom([]float64{3600, -60, 20000}).Draw(t, "slip"))
			default:
				fmt.Fprintf(&b, "%+.1f s", fast)
			}
			b.WriteString("\n")
		}
		values := map[string][]string{"lines": {b.String()}, "zone": {"UTC"}, "divisions": {"60"}}
		if rapid.Bool().Draw(t, "known") {
			values["per-turn"], values["rod"], values["per-gram"] = []string{"30 ± 3"}, []string{"steel"}, []string{"0.5"}
		}
		o, err := c.Work(context.Background(), values)
		if err != nil {
			t.Fatalf("%v of\n%s", err, b.String())
		}
		said := text.Render(o.Doc, text.Options{Width: 90, Working: true})
		for _, f := range o.Doc.Figures() {
			said += string(svg.File(f.Wide)) + string(svg.File(f.Narrow))
		}
		for _, r := range o.Log().Rows {
			said += strings.Join(r, " ")
		}
		if strings.Contains(said, "NaN") || strings.Contains(said, "Inf") {
			t.Fatalf("not a number in the answer to\n%s\n%s", b.String(), said)
		}
	})
}
