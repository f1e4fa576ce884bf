package cli

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"seatboard/internal/io/store"
	"seatboard/internal/kit/progress"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/shop"
)

// stoppable lets Ctrl+C end work in order, so that nothing half written
// stays.
func stoppable(ctx context.Context) (context.Context, context.CancelFunc) {
	return signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
}

// moved watches work that counts bytes.
func moved(env Env, what string, work func(*progress.Counter) error) error {
	c := &progress.Counter{}
	say := func() string {
		at, of := c.Sample()
		return fmt.Sprintf("%s, %s of %s", what, megabytes(at), megabytes(of))
	}
	return watchedAs(env, say, func() error { return work(c) })
}

// megabytes is a number of bytes in words.
func megabytes(n int64) string {
	switch {
	case n >= 10e9:
		return fmt.Sprintf("%.0f GB", float64(n)/1e9)
	case n >= 1e9:
		return fmt.Sprintf("%.1f GB", float64(n)/1e9)
	case n >= 10e6:
		return fmt.Sprintf("%.0f MB", float64(n)/1e6)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

// counted is "no files", "1 file", "12 files".
func counted(n int, one string) string {
	switch n {
	case 0:
		return "no " + one + "s"
	case 1:
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// filesOf is "no files" or "12 files (3.4 MB)".
func filesOf(n int, bytes int64) string {
	if n == 0 {
		return counted(n, "file")
	}
	return counted(n, "file") + " (" + megabytes(bytes) + ")"
}

func backupCommand(env Env) *cobra.Command {
	var leaveOut bool
	cmd := &cobra.Command{
		Use: "backup FILE", Short: "Write all records, recordings and photographs into one file", Args: oneArg("the file to write"),
		Long: "Write all records, recordings and photographs into one file: the clocks with their history, what was listened to\n" +
			"with every beat, calibrations, and each recording and photograph as it was kept. Everything is held against its SHA-256\n" +
			"as it is written. The file is a plain zip; unpacked into an empty folder it is a shop.",
		Example: "  seatboard backup /media/stick/shop-2026-11-25.zip\n      it must not exist yet; its SHA-256 is printed\n  seatboard backup copy.zip --json\n      the same for a program",
		RunE: func(cmd *cobra.Command, args []string) error {
			target, err := filepath.Abs(args[0])
			if err != nil {
				return err
			}
			return openBegun(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				ctx, stop := stoppable(ctx)
				defer stop()
				var b store.Backup
				err := moved(env, "Copying", func(p *progress.Counter) (err error) {
					b, err = s.Backup(ctx, target, leaveOut, p)
					return err
				})
				if err != nil {
					return err
				}
				return sayBackup(cmd, env, target, b)
			})
		},
	}
	cmd.Flags().BoolVar(&leaveOut, "leave-out-damaged", false, "leave out recordings and photographs that are missing or damaged, and name them")
	return cmd
}

func sayBackup(cmd *cobra.Command, env Env, target string, b store.Backup) error {
	if asJSON(cmd) {
		return jsonout.Write(env.Out, map[string]any{
			"file": target, "sha256": b.SHA256, "bytes": b.Size, "records": b.Records, "files": len(b.Files), "left_out": b.LeftOut,
		})
	}
	fmt.Fprintf(env.Err, "All records (%s); recordings and photographs: %s.\n", megabytes(b.Records.Size), filesOf(len(b.Files), b.Bytes()))
	for _, x := range b.LeftOut {
		fmt.Fprintf(env.Err, "Left out: the file %s, %s.\n", x.SHA256, x.Why)
	}
	_, err := fmt.Fprintf(env.Out, "%s  %s\n", b.SHA256, target)
	return err
}

func restoreCommand(env Env) *cobra.Command {
	var sum string
	cmd := &cobra.Command{
		Use: "restore FILE", Short: "Make a shop of a backup, in a folder that has none yet", Args: oneArg("the backup to restore from"),
		Example: "  seatboard restore shop-2026-11-25.zip --data /home/shop/again\n      into an empty folder; nothing is written over\n  seatboard restore copy.zip --data again --sha256 3f2a…\n      only if the backup is the one that was noted",
		RunE: func(cmd *cobra.Command, args []string) error {
			dir, _ := cmd.Flags().GetString("data")
			if dir == "" {
				return usagef("say with --data where the shop is to be kept")
			}
			ctx, stop := stoppable(cmd.Context())
			defer stop()
			var out store.Restored
			err := moved(env, "Restoring", func(p *progress.Counter) (err error) {
				out, err = shop.Restore(ctx, args[0], sum, dir, p)
				return err
			})
			if err != nil {
				return err
			}
			if asJSON(cmd) {
				return jsonout.Write(env.Out, map[string]any{"folder": dir, "files": out.Files, "missing": out.Missing})
			}
			if n := len(out.Missing); n > 0 {
				fmt.Fprintf(env.Err, "The records name %s that the backup does not have:\n  %s\nPut them into the folder files if they are elsewhere.\n",
					counted(n, "file"), strings.Join(out.Missing, "\n  "))
			}
			_, err = fmt.Fprintf(env.Out, "The shop is in %s, with %s of recordings and photographs.\n", dir, counted(out.Files, "file"))
			return err
		},
	}
	cmd.Flags().StringVar(&sum, "sha256", "", "the SHA-256 that was noted with the backup")
	return cmd
}

func checkCommand(env Env) *cobra.Command {
	return &cobra.Command{
		Use: "check", Short: "Look records, recordings and photographs through for damage", Args: noArgs,
		Example: "  seatboard check\n      says that all is well, or what is not\n  seatboard check --data /media/shop\n      of another shop",
		RunE: func(cmd *cobra.Command, _ []string) error {
			return openBegun(cmd, env, func(ctx context.Context, s *shop.Shop) error {
				ctx, stop := stoppable(ctx)
				defer stop()
				c, err := s.Check(ctx)
				switch {
				case err != nil:
					return err
				case len(c.Problems) > 0:
					return &shop.Problem{Code: shop.Storage, Message: "The shop is damaged: " + strings.Join(c.Problems, "; ") + ".", Hint: "Copy the folder away as it is, then: seatboard restore FILE --data NEWFOLDER."}
				case asJSON(cmd):
					return jsonout.Write(env.Out, map[string]any{"damaged": false, "files": c.Files, "elsewhere": c.Elsewhere, "orphans": c.Orphans})
				}
				fmt.Fprintf(env.Out, "The records are whole, and so are the recordings and photographs: %s.\n", filesOf(c.Files, c.Bytes))
				if c.Elsewhere > 0 {
					fmt.Fprintf(env.Out, "Not here: %s of clocks that were brought in from a file.\n", counted(c.Elsewhere, "file"))
				}
				if n := len(c.Orphans); n > 0 {
					fmt.Fprintf(env.Out, "No record names %s; a backup leaves that out:\n  %s\n", counted(n, "file"), strings.Join(c.Orphans, "\n  "))
				}
				return nil
			})
		},
	}
}
