// Package cli is the command line: the same calculations and records as the
// page, for people who type and for programs.
//
// Its manners: results go to standard output, everything else to standard
// error; text is for people (aligned, coloured only on a terminal), --json is
// for programs and complete; a file named - is standard input or output; an
// error is one sentence that says what is wrong and one that says what to do,
// with the exit status of its kind:
//
//	0 done    1 a fault inside Seatboard    2 what was typed    3 not found
//	4 changed or in use elsewhere    5 the disk
//
// Nothing is left behind after an error: files are written whole or not at
// all.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"seatboard/internal/front/desk"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// Env is the surroundings of a run; main fills it from the system, tests from
// anything.
type Env struct {
	In       io.Reader
	Out, Err io.Writer
	Terminal bool // Out is a terminal
	Watched  bool // Err is a terminal
	Width    int  // of the terminal, in characters
	Version  string
	DataHome string // folder of the shop where --data does not say
	KeysHome string // folder of the keys for phones where --keys does not say
	Open     func(url string) error
}

// Run carries out one command line and answers the exit status.
func Run(ctx context.Context, args []string, env Env) int {
	root := newRoot(env)
	root.SetArgs(args)
	root.SetIn(env.In)
	root.SetOut(env.Out)
	root.SetErr(env.Err)
	cmd, err := root.ExecuteContextC(ctx)
	if err == nil {
		return 0
	}
	return fail(cmd, env, err)
}

func newRoot(env Env) *cobra.Command {
	root := &cobra.Command{
		Use:   "seatboard",
		Short: "Survey, compute, draw and keep the clocks on the bench",
		Long: "Seatboard carries a clock from the day it is taken in to the day it goes home.\n" +
			"Without a command it opens the shop in the browser (the same as seatboard serve).",
		Version:       env.Version,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.SetVersionTemplate("seatboard {{.Version}}\n")
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error {
		if m := minus.FindStringSubmatch(err.Error()); m != nil {
			return usagef("“%s” begins like a flag; write -- before it where it is a value", m[1])
		}
		words, _, _ := strings.Cut(err.Error(), ": strconv.")
		return usagef("%s", words)
	})
	root.PersistentFlags().Bool("json", false, "write the answer as JSON")
	for _, c := range desk.All() {
		cmd, out := calculation(env, c)
		switch c.Name { // those that can take what is kept of a clock
		case "stops":
			stopsOfClock(cmd, env, out)
		case "regulate":
			trialOfClock(cmd, env, out)
		case "home":
			homeOfClock(cmd, env, out)
		case "divide":
			platesOfShop(cmd, env)
		}
		root.AddCommand(cmd)
	}
	addShop(root, env)
	root.AddCommand(decodeCommand(env), decodePictureCommand(env), commandsCommand(env))
	plain := root.UsageFunc()
	root.SetUsageFunc(func(cmd *cobra.Command) error {
		if cmd.HasParent() {
			return plain(cmd)
		}
		return rootUsage(cmd)
	})
	return root
}

// minus finds a number below nought that was read as a flag.
var minus = regexp.MustCompile(`^unknown shorthand flag: '[0-9.]' in (-\S+)`)

// usageError is a mistake in the command line itself.
type usageError struct{ error }

func usagef(format string, a ...any) error { return usageError{fmt.Errorf(format, a...)} }

// statuses maps the kind of a problem to the exit status.
var statuses = map[shop.Code]int{
	shop.Internal: 1, shop.BadInput: 2, shop.TooLarge: 2, shop.NotFound: 3, shop.Conflict: 4, shop.InUse: 4, shop.Storage: 5, shop.Gone: 3, shop.TooOften: 4,
}

// where is what stands before a mistake: the flag, the place in a file, or
// nothing where it is of a plain argument or of the whole.
func where(cmd *cobra.Command, field string) string {
	name := field
	if i := strings.IndexAny(field, " .[="); i >= 0 {
		name = field[:i]
	}
	switch {
	case cmd.Flag(name) != nil:
		return "--" + field + "  "
	case strings.ContainsAny(field, ".["):
		return field + ": "
	}
	return ""
}

// fail tells what is wrong and answers the exit status.
func fail(cmd *cobra.Command, env Env, err error) int {
	var usage usageError
	if errors.As(err, &usage) || strings.HasPrefix(err.Error(), "unknown command") {
		fmt.Fprintf(env.Err, "seatboard: %s\n", err)
		fmt.Fprintf(env.Err, "%s --help shows what can be written.\n", cmd.CommandPath())
		return 2
	}
	p := shop.AsProblem(err)
	if asJSON(cmd) {
		_ = jsonout.WriteProblem(env.Out, jsonout.Problem{Code: string(p.Code), Message: p.Message, Hint: p.Hint, Fields: p.Fields}) // the status still tells
		return statuses[p.Code]
	}
	fmt.Fprintf(env.Err, "seatboard: %s\n", p.Message)
	for _, f := range p.Fields {
		fmt.Fprintf(env.Err, "  %s%s\n", where(cmd, f.Field), f.Text)
	}
	if p.Code == shop.Internal {
		fmt.Fprintf(env.Err, "  cause: %s\n", err)
	}
	if p.Hint != "" {
		fmt.Fprintln(env.Err, p.Hint)
	}
	return statuses[p.Code]
}
