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
}

func (o *serveOptions) flags(cmd *cobra.Command) {
	cmd.Flags().IntVar(&o.port, "port", 0, "port on 127.0.0.1; the next free one from 7870 where it is not given")
	cmd.Flags().BoolVar(&o.quiet, "no-browser", false, "print the address and do not open it")
}

func serveCommand(env Env) *cobra.Command {
	var o serveOptions
	cmd := &cobra.Command{
		Use: "serve", Short: "Open the shop in the browser", GroupID: "shop", Args: noArgs,
		Example: "  seatboard serve\n      the shop of this computer, on the next free port from 7870\n  seatboard serve --data /media/shop --port 8000\n      another shop on a chosen port",
		RunE: func(cmd *cobra.Command, _ []string) error {
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
		Use: "demo", Short: "Open an invented shop with four clocks; nothing of it is kept", GroupID: "shop", Args: noArgs,
		Example: "  seatboard demo\n      Quay Lane Clockroom in the browser\n  seatboard demo --no-browser\n      only print its address",
		RunE: func(cmd *cobra.Command, _ []string) error {
			dir, err := os.MkdirTemp("", "seatboard-demo-")
			if err != nil {
				return err
			}
			defer os.RemoveAll(dir)
			s, err := shop.Open(cmd.Context(), dir, time.Now)
			if err != nil {
				return err
			}
			defer s.Close()
			if err := s.FillDemo(cmd.Context(), tidied); err != nil {
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
	server, err := web.New(web.Config{
		Shop: s, Version: env.Version, By: who(), Demo: o.demo,
		Log: slog.New(slog.NewTextHandler(env.Err, &slog.HandlerOptions{Level: slog.LevelInfo})),
	})
	if err != nil {
		l.Close()
		return err
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM) // before the address is told
	defer stop()
	url := "http://" + l.Addr().String()
	go s.KeepAlarm(ctx, ringer(env))
	go s.LookAtPhotos(ctx) // those that an unclean end left; what it cannot do is tried again with the next photograph
	fmt.Fprintf(env.Out, "Seatboard is open on %s\nStop it with Ctrl+C.\n", url)
	if !o.quiet && env.Open != nil {
		if err := env.Open(url); err != nil {
			fmt.Fprintln(env.Out, "Open the address in a browser on this computer.")
		}
	}
	return server.Serve(ctx, l)
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
			return nil, &shop.Problem{Code: shop.InUse, Message: fmt.Sprintf("Port %d cannot be used.", port), Hint: "Choose another with --port, or leave it out."}
		}
		return l, nil
	}
	var last error
	for p := firstPort; p < firstPort+portsDown; p++ {
		l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(p)))
		if err == nil {
			return l, nil
		}
		last = err
		if !errors.Is(err, syscall.EADDRINUSE) {
			break
		}
	}
	return nil, &shop.Problem{Code: shop.InUse, Message: "No port from 7870 to 7899 is free: " + last.Error() + ".", Hint: "Choose another with --port."}
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
