package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"seatboard/internal/front/desk"
	"seatboard/internal/paper/jsonout"
)

// chapter is a stretch of the work with the commands for it.
type chapter struct {
	words string
	names []string
}

// toBegin are the commands that a new user sees first.
func toBegin() chapter {
	return chapter{"To begin", []string{"demo", "serve", "add", "clocks", "today"}}
}

// chapters lists the other commands in the order of the work.
func chapters() []chapter {
	onDesk := map[string][]string{}
	for _, j := range desk.Jobs() {
		for _, c := range j.Of {
			onDesk[j.Words] = append(onDesk[j.Words], c.Name)
		}
	}
	return []chapter{
		{"Taking in", []string{"receipt", "labels", "estimate"}},
		{"Survey", append(onDesk["Survey"], "listen")},
		{"Taking down", []string{"parts", "closeout"}},
		{"Work", append(onDesk["Work"], "plates", "makings", "bath", "interventions", "stores", "hours")},
		{"Trial", append([]string{"reading", "touch", "readings"}, append(onDesk["Trial"], "gates", "reminders")...)},
		{"The book", []string{"export", "import", "remove", "backup", "restore", "check"}},
		{"The program", []string{"sources", "commands", "completion", "help"}},
	}
}

// rootUsage is the help of the program itself: what to begin with, in
// sentences, and the names of the rest.
func rootUsage(root *cobra.Command) error {
	w := root.OutOrStderr()
	fmt.Fprint(w, "Usage:\n  seatboard [COMMAND]\n")
	writeChapter(w, root, toBegin())
	fmt.Fprint(w, "\nIn the order of the work:\n")
	for _, c := range chapters() {
		fmt.Fprintf(w, "  %-11s  %s\n", c.words, strings.Join(c.names, " "))
	}
	fmt.Fprintf(w, "\nFlags of every command:\n  --data FOLDER  folder of the shop (%s where not given)\n  --json         write the answer as JSON\n  --help         what can be written, with examples\n", root.Flag("data").DefValue)
	_, err := fmt.Fprint(w, "\nseatboard commands says what each does, seatboard COMMAND --help how it is written.\n")
	return err
}

// writeChapter lists commands with what they do.
func writeChapter(w io.Writer, root *cobra.Command, c chapter) {
	fmt.Fprintf(w, "\n%s:\n", c.words)
	for _, cmd := range commandsOf(root, c) {
		fmt.Fprintf(w, "  %-13s  %s\n", cmd.Name(), cmd.Short)
	}
}

// shortest is the length in letters up to which the parts of a lead are taken
// into one line of the list.
const shortest = 62

// gist is the beginning of what a lead says is answered: "turns of every arbor,
// beats an hour, running time".
func gist(lead string) string {
	_, answers, ok := strings.Cut(lead, ": ")
	if !ok {
		answers = strings.ToLower(lead[:1]) + lead[1:]
	}
	answers = strings.TrimSuffix(answers, ".")
	short := ""
	for i, r := range answers + "," {
		if r != ',' && r != ';' && r != ':' {
			continue
		}
		if short != "" && i > shortest {
			break
		}
		short = answers[:i]
	}
	return short
}

// commandsOf are the commands of a chapter, in its order.
func commandsOf(root *cobra.Command, c chapter) []*cobra.Command {
	var found []*cobra.Command
	for _, name := range c.names {
		for _, cmd := range root.Commands() {
			if cmd.Name() == name {
				found = append(found, cmd)
			}
		}
	}
	return found
}

func commandsCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use: "commands", Short: "Every command with what it does, in the order of the work", Args: noArgs,
		Example: "  seatboard commands\n      for people\n  seatboard commands --json\n      for programs",
		RunE: func(cmd *cobra.Command, _ []string) error {
			type line struct {
				Job  string `json:"job"`
				Name string `json:"name"`
				Does string `json:"does"`
			}
			var lines []line
			for _, c := range append([]chapter{toBegin()}, chapters()...) {
				if !asJSON(cmd) {
					writeChapter(env.Out, cmd.Root(), c)
				}
				for _, of := range commandsOf(cmd.Root(), c) {
					lines = append(lines, line{c.words, of.Name(), of.Short})
				}
			}
			if asJSON(cmd) {
				return jsonout.Write(env.Out, lines)
			}
			return nil
		},
	}
}
