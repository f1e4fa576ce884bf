// Seatboard carries an antique clock from the day it is taken in to the day
// it goes home. This file only wires the program to the system; the commands
// stand in internal/front/cli.
//
//go:generate sh -c "go run . sources --markdown > ../../docs/sources.md"
//go:generate sh -c "go run . sources --validation --markdown > ../../docs/validation.md"
package main

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"

	"golang.org/x/term"

	"seatboard/internal/front/cli"
)

func main() {
	width, _, err := term.GetSize(int(os.Stdout.Fd()))
	if err != nil {
		width = 80
	}
	os.Exit(cli.Run(context.Background(), os.Args[1:], cli.Env{
		In: os.Stdin, Out: os.Stdout, Err: os.Stderr,
		Terminal: term.IsTerminal(int(os.Stdout.Fd())) && os.Getenv("NO_COLOR") == "",
		Watched:  term.IsTerminal(int(os.Stderr.Fd())),
		Width:    width,
		Version:  version(),
		DataHome: dataHome(),
		KeysHome: keysHome(),
		Open:     openBrowser,
	}))
}

// version is what the build knows of itself.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "0.1 (in development)"
	}
	return info.Main.Version
}

// dataHome is the folder of the shop by the XDG rules, or the system's own
// place for program data; "" where none can be told.
func dataHome() string {
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "seatboard")
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return ""
	}
	switch runtime.GOOS {
	case "darwin":
		return filepath.Join(home, "Library", "Application Support", "Seatboard")
	case "windows":
		if dir := os.Getenv("LOCALAPPDATA"); dir != "" {
			return filepath.Join(dir, "Seatboard")
		}
	}
	return filepath.Join(home, ".local", "share", "seatboard")
}

// keysHome is the folder of the keys for phones: apart from the shop, so that
// no copy of the shop has them; "" where none can be told.
func keysHome() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "seatboard", "keys")
}

var errNoScreen = errors.New("there is no screen")

// openBrowser opens an address where there is a desktop.
func openBrowser(url string) error {
	switch runtime.GOOS {
	case "darwin":
		return exec.Command("open", url).Start()
	case "windows":
		return exec.Command("rundll32", "url.dll,FileProtocolHandler", url).Start()
	}
	if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		return errNoScreen
	}
	return exec.Command("xdg-open", url).Start()
}
