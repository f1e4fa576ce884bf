package cli

import (
	"context"
	"errors"
	"fmt"
	"go/version"
	"net"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/front/web"
	"seatboard/internal/io/authority"
	"seatboard/internal/shop"
)

const (
	firstPhonePort = 7900
	firstHelpPort  = 7930
	patchedGo      = "go1.27.3" // with the mends of net/http and crypto/x509 that this way relies on
)

// lanOptions are how phones come.
type lanOptions struct {
	on    bool
	port  int
	keys  string
	fresh bool
	plain bool
}

func (o *lanOptions) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&o.on, "lan", false, "let phones of the shop's own network in, by https, once they are confirmed here")
	cmd.Flags().IntVar(&o.port, "lan-port", 0, "port that phones come to; the next free one from 7900 where it is not given")
	cmd.Flags().StringVar(&o.keys, "keys", "", "folder of the certificate's keys, apart from the shop")
	cmd.Flags().BoolVar(&o.fresh, "new-certificate", false, "make a new certificate; it is installed on every phone again")
	cmd.Flags().BoolVar(&o.plain, "plain-http-in-shop", false, "phones come without a certificate: anyone in the network can read along, no microphone, the screen goes dark")
}

// check finds what contradicts itself, and fills in where the keys are.
func (o *lanOptions) check(keysHome, data string) error {
	switch {
	case !o.on && (o.port != 0 || o.keys != "" || o.fresh || o.plain):
		return usagef("--lan-port, --keys, --new-certificate and --plain-http-in-shop belong to --lan")
	case o.plain && (o.fresh || o.keys != ""):
		return usagef("by plain http there is no certificate: leave --new-certificate and --keys out, or --plain-http-in-shop")
	case !o.on || o.plain:
		return nil
	}
	if o.keys == "" {
		o.keys = keysHome
	}
	if o.keys == "" {
		return usagef("say with --keys where the keys of the certificate are kept")
	}
	if inside(o.keys, data) {
		return usagef("--keys must lie outside the folder of the shop, so that no copy of the shop has them")
	}
	return nil
}

// inside tells whether a path is a folder or lies under it.
func inside(path, dir string) bool {
	a, err := filepath.Abs(path)
	b, err2 := filepath.Abs(dir)
	if err != nil || err2 != nil {
		return false
	}
	rel, err := filepath.Rel(b, a)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// ways are the listeners for phones, none without --lan.
type ways struct {
	lan          *web.Lan
	phones, help net.Listener
}

// open takes the ports and opens the authority.
func (o lanOptions) open() (ways, error) {
	var w ways
	if !o.on {
		return w, nil
	}
	lan := &web.Lan{}
	if o.plain {
		here := authority.Here
		lan.Here = func() authority.Reach { r, _ := here(); return r } // where it cannot be told, no name is answered
	} else {
		a, err := authority.Open(authority.Options{Dir: o.keys, Reach: authority.Here, Now: time.Now, Fresh: o.fresh})
		if err != nil {
			return w, keysProblem(err)
		}
		lan.Authority, lan.Here = a, a.Here
	}
	var err error
	if o.port != 0 {
		if w.phones, err = net.Listen("tcp", net.JoinHostPort("", strconv.Itoa(o.port))); err != nil {
			return w, portTaken(o.port, "--lan-port")
		}
	} else if w.phones, err = firstFree("", firstPhonePort, "--lan-port"); err != nil {
		return w, err
	}
	lan.Port = portOf(w.phones)
	if !o.plain {
		if w.help, err = firstFree("", firstHelpPort, "--lan-port"); err != nil {
			w.close()
			return w, err
		}
		lan.HelpPort = portOf(w.help)
	}
	w.lan = lan
	return w, nil
}

func portOf(l net.Listener) int {
	a, ok := l.Addr().(*net.TCPAddr)
	if !ok {
		return 0
	}
	return a.Port
}

// keysProblem is what is wrong with the folder of the keys, to be shown.
func keysProblem(err error) error {
	var file *authority.FileError
	if !errors.As(err, &file) {
		return err
	}
	return &shop.Problem{Code: shop.Storage, Message: "The keys of the certificate cannot be used: " + file.Path + ": " + file.Why + ".", Hint: file.Do + "."}
}

func (w ways) close() {
	for _, l := range []net.Listener{w.phones, w.help} {
		if l != nil {
			_ = l.Close() // nothing was served yet
		}
	}
}

// tell says how phones come.
func (w ways) tell(env Env, url string) {
	if w.lan == nil {
		return
	}
	fmt.Fprintf(env.Out, "Phones of this network come by port %d; let them in at %s/phones\n", w.lan.Port, url)
	if w.lan.Authority == nil {
		fmt.Fprintln(env.Err, "Plain http: anyone in this network can read along, and phones give no microphone.")
	}
	if old := runtime.Version(); version.IsValid(old) && version.Compare(old, patchedGo) < 0 {
		fmt.Fprintf(env.Err, "This Seatboard was built with %s; for phones it should be built with %s or later.\n", old, patchedGo)
	}
}

// serve answers on all listeners until ctx ends or one of them fails.
func (w ways) serve(ctx context.Context, s *web.Server, l net.Listener) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	all := []func() error{func() error { return s.Serve(ctx, l) }}
	if w.phones != nil {
		all = append(all, func() error { return s.ServePhones(ctx, w.phones) })
	}
	if w.help != nil {
		all = append(all, func() error { return s.ServeHelp(ctx, w.help) })
	}
	ended := make(chan error, len(all))
	for _, serve := range all {
		go func() { ended <- serve() }()
	}
	var err error
	for range all {
		err = errors.Join(err, <-ended)
		stop()
	}
	return err
}
