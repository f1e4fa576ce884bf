package cli

import (
	"bytes"
	"fmt"
	"os"
	"os/signal"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"seatboard/internal/craft/listen"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/csv"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// listening is one call of the command, as typed.
type listening struct {
	env  Env
	out  *output
	json bool

	train, clock, perHour string // of the clock
	recorder              string // the error of its clock
	channel               int
	raw                   string
	times                 bool
	beats                 string // where the beat times go
	tables                bool
	server                string // to be asked for the time
	made                  made
}

func listenCommand(env Env) *cobra.Command {
	l := &listening{env: env}
	cmd := &cobra.Command{
		Use: "listen FILE", Short: "Hear a clock in a recording: rate, beat error, the wheel at fault",
		Long: "Hear a clock in a recording and say how it goes, with limits.\n" +
			"FILE is WAV, FLAC, Ogg Vorbis, Opus or MP3; - is standard input, which may be a recorder still running.\n" +
			"Stopped with Ctrl-C it says what was heard until then.",
		Example: "  seatboard listen tick.wav --train '96/8 60/8 56/7 30'\n      with the counts it names the wheel at fault\n" +
			"  arecord -f S16_LE -r 48000 -c 1 | seatboard listen - --beats-per-hour 3600\n      live; Ctrl-C ends it\n" +
			"  seatboard listen --make longcase -o tick.wav --truth truth.json\n      a made recording to try, and what is in it",
		RunE: func(cmd *cobra.Command, args []string) error {
			l.json = asJSON(cmd)
			return l.run(cmd, args)
		},
	}
	l.flags(cmd.Flags())
	_ = cmd.RegisterFlagCompletionFunc("make", cobra.FixedCompletions(madeNames(), cobra.ShellCompDirectiveDefault)) // the flag exists
	return cmd
}

func (l *listening) flags(f *pflag.FlagSet) {
	f.StringVar(&l.train, "train", "", "counts of the going train, as in '96/8 60/8 56/7 30'")
	f.StringVar(&l.clock, "clock", "", "number of a clock in the book: the train of its survey is used")
	f.StringVar(&l.perHour, "beats-per-hour", "", "beats that it should make, where the train does not tell")
	f.StringVar(&l.recorder, "recorder-error", "", "how fast the recorder's own clock is and how well that is known, as in '12 ± 3 ppm'")
	f.IntVar(&l.channel, "channel", 0, "channel to hear, 1 is the left; 0 takes the mean of all")
	f.StringVar(&l.raw, "raw", "", "the input is bare samples: kind, samples a second and channels, as in 's16 48000 1'")
	f.BoolVar(&l.times, "times", false, "the input is beat times in seconds, one a line, from any sensor")
	f.StringVar(&l.beats, "beats", "", "write every beat heard to a CSV file, or - for standard output")
	f.BoolVar(&l.tables, "tables", false, "print the tables of the pictures too")
	f.StringVar(&l.server, "ask-time", "", "ask this time server once how far this computer's clock is from it, as in "+shop.TimeServer+"; nothing is ever sent otherwise")
	l.out = drawFlags(f)
	l.made.flags(f)
}

func (l *listening) run(cmd *cobra.Command, args []string) error {
	if l.made.recipe != "" {
		if len(args) > 0 {
			return usagef("%q is not wanted with --make", args[0])
		}
		return l.made.write(l.env)
	}
	if l.server != "" {
		if len(args) > 0 {
			return usagef("%q is not wanted with --ask-time", args[0])
		}
		return l.askServer(cmd.Context(), shop.AskTimeAlone)
	}
	if len(args) != 1 {
		return usagef("say which recording, one at a time, or - for standard input")
	}
	if l.beats == "-" && (l.json || l.out.svg == "-" || l.out.pdf == "-") {
		return usagef("only one thing can go to standard output")
	}
	q, err := l.query(cmd)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt)
	defer stop()
	if err := l.hear(ctx, args[0], &q); err != nil {
		return err
	}
	stop() // from here on Ctrl-C ends the program
	a, err := listen.Solve(q)
	if err != nil {
		return err
	}
	if l.beats == "-" || l.out.svg == "-" { // else they are in the answer
		for _, n := range q.Notes {
			fmt.Fprintln(l.env.Err, "seatboard: "+n)
		}
	}
	return l.write(a)
}

// write sends the answer where it is wanted.
func (l *listening) write(a listen.Answer) error {
	if l.beats != "" {
		var b bytes.Buffer
		if err := csv.Write(&b, present.BeatsTable(a)); err != nil {
			return err
		}
		if err := writeWhole(l.env, l.beats, b.Bytes()); err != nil || l.beats == "-" {
			return err
		}
	}
	d := present.Listen(a)
	if done, err := l.out.files(l.env, d); done || err != nil {
		return err
	}
	if l.json {
		return jsonout.Write(l.env.Out, a)
	}
	if !l.tables {
		d = sentencesOf(d)
	}
	return l.out.print(l.env, d)
}

// sentencesOf is the opening of a document alone.
func sentencesOf(d doc.Doc) doc.Doc {
	if len(d.Sections) > 1 {
		d.Sections = d.Sections[:1]
	}
	return d
}
