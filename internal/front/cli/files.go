package cli

import (
	"os"
	"path/filepath"

	"seatboard/internal/shop"
)

// writeWhole writes a file whole or not at all; - is standard output.
func writeWhole(env Env, name string, content []byte) error {
	if name == "-" {
		_, err := env.Out.Write(content)
		return err
	}
	err := replaceFile(name, content)
	if err != nil {
		return &shop.Problem{Code: shop.Storage, Message: "The file " + name + " could not be written.", Hint: "Check that its folder is there and may be written to."}
	}
	return nil
}

func replaceFile(name string, content []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".seatboard-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // a no-op once renamed
	if _, err := f.Write(content); err != nil {
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
