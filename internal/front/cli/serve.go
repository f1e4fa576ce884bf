package cli

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/front/desk"
	"seatboard/internal/front/web"
	"seatboard/internal/io/mic"
	"seatboard/internal/shop"
)

const (
	firstPort = 7870
	portsDown = 30 // how many ports are tried after the first
)

// serveOptions are how the page is served.
type serveOptions struct {
	port  int
	quiet bool // print the address and do not open it
	demo  bool
	lan   lanOptions
}

func (o *serveOptions) flags(cmd *cobra.Command) {
	cmd.Flags().IntVar(&o.port, "port", 0, "port on 127.0.0.1; the next free one from 7870 where it is not given")
	cmd.Flags().BoolVar(&o.quiet, "no-browser", false, "print the address and do not open it")
	o.lan.flags(cmd)
}

func serveCommand(env Env) *cobra.Command {
	var o serveOptions
	cmd := &cobra.Command{
		Use: "serve", Short: "Open the shop in the browser", Args: noArgs,
		Example: "  seatboard serve\n      the shop of this computer, on the next free port from 7870\n  seatboard serve --data /media/shop --port 8000\n      another shop on a chosen port\n  seatboard serve --lan\n      phones may come too, once they are let in",
		RunE: func(cmd *cobra.Command, _ []string) error {
			dir, _ := cmd.Flags().GetString("data")
			if err := o.lan.check(env.KeysHome, dir); err != nil {
				return err
			}
			return openAnd(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				return serve(ctx, env, s, o)
			})
		},
	}
	o.flags(cmd)
	return cmd
}

func demoCommand(env Env) *cobra.Command {
	o := serveOptions{demo: true}
	cmd := &cobra.Command{
		Use: "demo", Short: "Open an invented shop with four clocks; nothing of it is kept", Args: noArgs,
		Example: "  seatboard demo\n      Quay Lane Clockroom in the browser\n  seatboard demo --no-browser\n      only print its address",
		RunE: func(cmd *cobra.Command, _ []string) error {
			home, err := os.MkdirTemp("", "seatboard-demo-")
			if err != nil {
				return err
			}
			defer os.RemoveAll(home)
			dir := filepath.Join(home, "shop")
			if err := o.lan.check(filepath.Join(home, "keys"), dir); err != nil {
				return err
			}
			s, err := shop.Open(cmd.Context(), dir, time.Now)
			if err != nil {
				return err
			}
			defer s.Close()
			if err := s.FillDemo(cmd.Context(), tidied, desk.WorkSheet); err != nil {
				return err
			}
			return serve(cmd.Context(), env, s, o)
		},
	}
	o.flags(cmd)
	return cmd
}

// tidied lays typed values out as the form of a part does.
func tidied(part string, values map[string][]string) map[string][]string {
	c, ok := desk.Find(part)
	if !ok {
		return values
	}
	return desk.Tidy(c, values)
}

// serve answers pages until the program is asked to stop.
func serve(ctx context.Context, env Env, s *shop.Shop, o serveOptions) error {
	l, err := takePort(o.port)
	if err != nil {
		return err
	}
	ways, err := o.lan.open()
	if err != nil {
		l.Close()
		return err
	}
	server, err := web.New(web.Config{
		Shop: s, Version: env.Version, By: who(), Demo: o.demo, Lan: ways.lan,
		Log: slog.New(slog.NewTextHandler(env.Err, &slog.HandlerOptions{Level: slog.LevelInfo})),
	})
	if err != nil {
		l.Close()
		ways.close()
		return err
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM) // before the address is told
	defer stop()
	url := "http://" + l.Addr().String()
	go s.KeepAlarm(ctx, ringer(env))
	go s.LookAtPhotos(ctx) // those that an unclean end left; what it cannot do is tried again with the next photograph
	fmt.Fprintf(env.Out, "Seatboard is open on %s\n", url)
	ways.tell(env, url)
	fmt.Fprintln(env.Out, "Stop it with Ctrl+C.")
	if !o.quiet && env.Open != nil {
		if err := env.Open(url); err != nil {
			fmt.Fprintln(env.Out, "Open the address in a browser on this computer.")
		}
	}
	return ways.serve(ctx, server, l)
}

// ringer sounds the alarm of the baths: over the loudspeaker and, where that
// cannot be, by the bell of the terminal; the error is what is to be said of
// the loudspeaker.
func ringer(env Env) func(context.Context) error {
	return func(ctx context.Context) error {
		err := mic.Ring(ctx)
		if err != nil && env.Watched {
			fmt.Fprint(env.Err, "\a")
		}
		return err
	}
}

// takePort takes the port asked for, or the first free one from 7870.
func takePort(port int) (net.Listener, error) {
	if port != 0 {
		l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
		if err != nil {
			return nil, portTaken(port, "--port")
		}
		return l, nil
	}
	return firstFree("127.0.0.1", firstPort, "--port")
}

func portTaken(port int, flag string) error {
	return &shop.Problem{Code: shop.InUse, Message: fmt.Sprintf("Port %d cannot be used.", port), Hint: "Choose another with " + flag + ", or leave it out."}
}

// firstFree takes the first free port from one on; flag chooses another.
func firstFree(host string, from int, flag string) (net.Listener, error) {
	var last error
	for p := from; p < from+portsDown; p++ {
		l, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(p)))
		if err == nil {
			return l, nil
		}
		last = err
		if !errors.Is(err, syscall.EADDRINUSE) {
			break
		}
	}
	return nil, &shop.Problem{Code: shop.InUse, Message: fmt.Sprintf("No port from %d to %d is free: %v.", from, from+portsDown-1, last), Hint: "Choose another with " + flag + "."}
}

// who is at this computer, for the history.
func who() string {
	u, err := user.Current()
	if err != nil || u.Username == "" {
		return "this computer"
	}
	if u.Name != "" {
		return u.Name
	}
	return u.Username
}
