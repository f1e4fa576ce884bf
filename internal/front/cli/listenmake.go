package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// made is a recording to be made instead of heard.
type made struct{ recipe, out, truth string }

func (m *made) flags(f *pflag.FlagSet) {
	f.StringVar(&m.recipe, "make", "", "make a recording from a JSON recipe, or one of "+strings.Join(madeNames(), ", "))
	f.StringVarP(&m.out, "output", "o", "", "with --make: the WAV to write, or - for standard output")
	f.StringVar(&m.truth, "truth", "", "with --make: the JSON file to write with every beat that is in it")
}

// recipes are recordings to try, by name. The train of each but the last is
// 96/8 60/8 56/7 30 or makes as many beats.
func recipes() map[string]synth.Recipe {
	longcase := synth.Recipe{Seed: 2026, Shape: 14, Length: 300,
		Clock: synth.Clock{Beat: 1, Rate: unit.RatePerDay(12.4), BeatError: 0.018, Teeth: 30, ScatterPM: 60e-6, ScatterFM: 1e-6,
			ToothErrors: []synth.ToothError{{Beat: 42, Late: 400e-6}, {Beat: 57, Late: 400e-6}}},
		Sound: synth.Sound{AmplitudeSpread: 0.05, RT60: 0.3, Direct: 6},
		Noise: synth.Noise{SNR: synth.DB(22), Pink: synth.DB(-20)},
	}
	noisy := longcase
	noisy.Seed, noisy.Speech, noisy.ClickRate = 2027, synth.DB(0), 1
	stops := longcase
	stops.Seed, stops.Length, stops.Stops = 2028, 150, []synth.Stop{{At: 90}}
	loop := longcase
	loop.Seed, loop.Loop, loop.Length = 2029, 6, 60
	return map[string]synth.Recipe{
		"longcase": longcase, "noisy": noisy, "stops": stops, "loop": loop,
		"no-clock": {Seed: 2030, Length: 60, Clock: synth.Clock{NoClock: true}, Noise: synth.Noise{SNR: synth.DB(10), Speech: synth.DB(0)}},
	}
}

func madeNames() []string { return slices.Sorted(maps.Keys(recipes())) }

// write makes the recording and its truth.
func (m *made) write(env Env) error {
	if m.out == "" {
		return usagef("say with -o where the WAV goes")
	}
	if m.out == "-" && env.Terminal {
		return usagef("a WAV is not for a terminal: name a file with -o")
	}
	r, err := readRecipe(env, m.recipe)
	if err != nil {
		return err
	}
	rec, err := synth.New(r)
	if err != nil {
		return err
	}
	if m.truth != "" {
		var b bytes.Buffer
		if err := jsonout.Write(&b, rec.Truth()); err != nil {
			return err
		}
		if err := writeWhole(env, m.truth, b.Bytes()); err != nil {
			return err
		}
	}
	return streamWhole(env, m.out, func(w io.Writer) error { return synth.WriteWAV(w, rec, rec.Frames()) })
}

// readRecipe is a recipe by name, from a file, or from standard input.
func readRecipe(env Env, name string) (synth.Recipe, error) {
	if r, ok := recipes()[name]; ok {
		return r, nil
	}
	in := env.In
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return synth.Recipe{}, &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("There is no recipe %q, and no file of that name.", name),
				Hint: "The recipes known by name are " + strings.Join(madeNames(), ", ") + "."}
		}
		defer f.Close()
		in = f
	}
	b, err := readAll(in)
	if err != nil {
		return synth.Recipe{}, err
	}
	var r synth.Recipe
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		return r, &shop.Problem{Code: shop.BadInput, Message: "The recipe cannot be read: " + strings.TrimPrefix(err.Error(), "json: ") + ".",
			Hint: `Write it like {"length": 60, "beat": 1, "rate": 1e-4, "snr": 20}; times are in seconds.`}
	}
	return r, nil
}
