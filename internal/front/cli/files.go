package cli

import (
	"io"
	"os"
	"path/filepath"

	"seatboard/internal/shop"
)

// writeWhole writes a file whole or not at all; - is standard output.
func writeWhole(env Env, name string, content []byte) error {
	return streamWhole(env, name, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
}

// streamWhole is writeWhole for what is too long to be held.
func streamWhole(env Env, name string, write func(io.Writer) error) error {
	if name == "-" {
		return write(env.Out)
	}
	err := replaceFile(name, write)
	if err != nil {
		return &shop.Problem{Code: shop.Storage, Message: "The file " + name + " could not be written.", Hint: "Check that its folder is there and may be written to."}
	}
	return nil
}

func replaceFile(name string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".seatboard-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // a no-op once renamed
	if err := write(f); err != nil {
		f.Close()
		return err
	}
	if err := f.Chmod(0o644); err != nil {
		f.Close()
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
