package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/store"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
)

type newOptions struct {
	Title string // of the trial; "" takes the folder's name
}

func newNewCommand(std *streams) *cobra.Command {
	var opts newOptions
	cmd := &cobra.Command{
		Use:   "new DIR",
		Short: "Start a new trial: a folder with a plan to fill in",
		Long: `Make a folder for a new trial, with a commented trial.yaml to fill in, an empty log.csv and a folder for photos.
Existing files are never overwritten.

Exit codes: 0 done, 1 failed, 2 wrong usage.`,
		Example: `  traygauge new kale-trial
  traygauge new kale-trial --title "Kale, spring sowing"`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error { return runNew(opts, args[0], time.Now(), std) },
	}
	cmd.Flags().StringVar(&opts.Title, "title", "", "`TITLE` of the trial (default: the folder’s name)")
	return cmd
}

// runNew makes the folder of a trial sown today. It checks everything before it writes, so an error changes nothing.
func runNew(opts newOptions, dir string, today time.Time, std *streams) error {
	whole, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	if opts.Title == "" {
		opts.Title = filepath.Base(whole)
	}
	planFile, logFile, photos := filepath.Join(dir, plan.FileName), filepath.Join(dir, logbook.FileName), filepath.Join(dir, "photos")
	for _, name := range []string{planFile, logFile, photos} {
		switch info, err := os.Stat(name); {
		case err == nil && name == photos && info.IsDir(): // an existing folder of photos is kept
		case err == nil:
			return fmt.Errorf("%s already exists and was not changed: choose another folder", name)
		case errors.Is(err, syscall.ENOTDIR):
			return fmt.Errorf("%s is not a folder: choose a folder that does not exist yet", dir)
		case !errors.Is(err, fs.ErrNotExist):
			return fmt.Errorf("cannot open %s: %w: choose a folder where you have write permission", dir, trialdir.PlainCause(err))
		}
	}
	if err := os.MkdirAll(photos, 0o777); err != nil {
		return fmt.Errorf("cannot create the folder %s: %w: check that you have write permission in %s", dir, trialdir.PlainCause(err), filepath.Dir(whole))
	}
	if err := writeNew(planFile, plan.Template(opts.Title, today)); err != nil {
		return err
	}
	if err := writeNew(logFile, []byte(logbook.Header+"\n")); err != nil {
		return err
	}
	fmt.Fprintf(std.Err, "%s is ready. %s contains an invented example: replace it with your own trial, then run: traygauge check %s\n", dir, planFile, wording.Typed(dir))
	return nil
}

// writeNew writes a file that must not exist yet.
func writeNew(name string, text []byte) error {
	return store.WriteNew(name, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}
