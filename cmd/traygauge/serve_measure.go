package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"time"

	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/store"
)

// onePhoto is the name of the command by which serve measures a photo in a process of its own: one that hangs, or that a picture library
// ends, is stopped without harm to the others. It is not for people.
const onePhoto = "measure-photo"

// apart is what that process answers.
type apart struct {
	Reading measure.Reading `json:"reading"`
	Locked  bool            `json:"locked"` // a run of the measure command is at work
	Problem string          `json:"problem"`
}

func newOnePhotoCommand(std *streams) *cobra.Command {
	var as string
	cmd := &cobra.Command{
		Use: onePhoto + " DIR PHOTO", Hidden: true, Args: cobra.ExactArgs(2), Short: "Measure one photo, for serve",
		RunE: func(cmd *cobra.Command, args []string) error {
			got := apart{}
			var err error
			got.Reading, err = measureOne(cmd.Context(), args[0], args[1], as)
			if err != nil {
				got.Locked, got.Problem = errors.Is(err, store.ErrLocked), err.Error()
			}
			return json.NewEncoder(std.Out).Encode(got)
		},
	}
	cmd.Flags().StringVar(&as, "as", version(), "`VERSION` that the reading is kept under")
	return cmd
}

func measureOne(ctx context.Context, dir, photo, version string) (measure.Reading, error) {
	p, _, err := plan.Load(dir)
	if err != nil {
		return measure.Reading{}, err
	}
	return measure.RunOne(ctx, dir, p, photo, measure.RunOptions{Version: version, Draw: func(seen measure.Seen, r measure.Reading) error { return drawOverlay(dir, seen, r) }})
}

// measureApart returns what measures a photo of the trial in folder dir in a process of its own, which ends with its context.
func measureApart(dir string) func(ctx context.Context, photo string) (measure.Reading, error) {
	return func(ctx context.Context, photo string) (measure.Reading, error) {
		self, err := os.Executable()
		if err != nil {
			return measureOne(ctx, dir, photo, version())
		}
		c := exec.CommandContext(ctx, self)
		c.Args = []string{"traygauge", onePhoto, "--as", version(), "--", dir, photo}
		c.WaitDelay = 2 * time.Second
		var out, errs bytes.Buffer
		c.Stdout, c.Stderr = &out, &errs
		err = c.Run()
		var ended *exec.ExitError
		if errors.As(err, &ended) && ctx.Err() == nil { // a picture library ended it
			return measure.Reading{Photo: photo, Concerns: []measure.Concern{{Kind: "broken", Fatal: true, Words: "ends the program that measures it", Remedy: "take the photo again"}}}, nil
		}
		if err != nil {
			return measure.Reading{}, fmt.Errorf("%s could not be measured (%w) %s", measure.Shown(photo), err, bytes.TrimSpace(errs.Bytes()))
		}
		var got apart
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			return measure.Reading{}, fmt.Errorf("%s could not be measured: %w", measure.Shown(photo), err)
		}
		switch {
		case got.Locked:
			return got.Reading, store.ErrLocked
		case got.Problem != "":
			return got.Reading, errors.New(got.Problem)
		}
		return got.Reading, nil
	}
}
