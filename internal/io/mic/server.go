package mic

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strconv"

	"github.com/jfreymuth/pulse/proto"
)

// server is a connection to the sound server.
type server struct {
	client *proto.Client
	conn   net.Conn
}

var errSystem = errors.New("no sound server that this program speaks to on this system")

// dial reaches the sound server; heard is called with what it sends on its
// own, from one goroutine.
func dial(ctx context.Context, heard func(any)) (*server, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	address, told := os.LookupEnv("PULSE_SERVER")
	if !told {
		if runtime.GOOS != "linux" {
			return nil, &Unavailable{runtime.GOOS, errSystem}
		}
		address = usual(os.Getenv("XDG_RUNTIME_DIR"))
	}
	s, err := connect(address)
	if err != nil {
		return nil, &Unavailable{runtime.GOOS, err}
	}
	if heard == nil {
		heard = func(any) {}
	}
	s.client.Callback = heard
	name := proto.PropList{"application.name": proto.PropListString("Seatboard"), "application.id": proto.PropListString("seatboard")}
	if err := s.client.Request(&proto.SetClientName{Props: name}, &proto.SetClientNameReply{}); err != nil {
		s.close()
		return nil, &Unavailable{runtime.GOOS, err}
	}
	return s, nil
}

// usual is the socket where none is told.
func usual(runtimeDir string) string {
	if runtimeDir == "" {
		runtimeDir = filepath.Join("/run/user", strconv.Itoa(os.Getuid()))
	}
	return "unix:" + filepath.Join(runtimeDir, "pulse/native")
}

// connect guards against what the library does with an address it cannot
// read.
func connect(address string) (s *server, err error) {
	defer func() {
		if r := recover(); r != nil {
			s, err = nil, fmt.Errorf("the address %q of the sound server cannot be read", address)
		}
	}()
	client, conn, err := proto.Connect(address)
	if err != nil {
		return nil, err
	}
	return &server{client, conn}, nil
}

func (s *server) close() { s.conn.Close() }

// lost wraps what the connection said when it broke.
func lost(err error) error { return fmt.Errorf("%w: %w", ErrGone, err) }
