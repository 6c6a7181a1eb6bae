package work

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/wording"
	"traygauge/report/seen"
)

// PhotoCommand is the name of the command by which a server measures a photo in a process of its own: one that hangs, or that a picture library
// ends, is stopped without harm to the others. It is not for people.
const PhotoCommand = "measure-photo"

// apart is what that process answers.
type apart struct {
	Reading reading.Reading `json:"reading"`
	Locked  bool            `json:"locked"` // a run of the measure command is at work
	Problem string          `json:"problem"`
}

// AnswerApart measures one photo of the trial in folder dir and writes the answer that MeasureApart reads to out.
func AnswerApart(ctx context.Context, dir, photo, version string, out io.Writer) error {
	got := apart{}
	p, _, err := plan.Load(dir)
	if err == nil {
		got.Reading, err = measure.RunOne(ctx, dir, p, photo, RunOptions(dir, version))
	}
	if err != nil {
		got.Locked, got.Problem = errors.Is(err, store.ErrLocked), err.Error()
	}
	return json.NewEncoder(out).Encode(got)
}

// MeasureApart measures a photo of the trial in folder dir by program in a process of its own, which ends with ctx. The reading is kept under
// that version.
func MeasureApart(ctx context.Context, program, dir, photo, version string) (reading.Reading, error) {
	c := exec.CommandContext(ctx, program)
	c.Args = []string{"traygauge", PhotoCommand, "--as", version, "--", dir, photo}
	c.WaitDelay = 2 * time.Second
	var out, errs bytes.Buffer
	c.Stdout, c.Stderr = &out, &errs
	err := c.Run()
	var ended *exec.ExitError
	if errors.As(err, &ended) && ctx.Err() == nil { // a picture library ended it
		return reading.Reading{Photo: photo, Concerns: []reading.Concern{{Kind: reading.Broken, Fatal: true, Words: "makes the measuring program crash", Remedy: "take the photo again"}}}, nil
	}
	if err != nil {
		return reading.Reading{}, fmt.Errorf("%s could not be measured (%w) %s", wording.Shown(photo), err, bytes.TrimSpace(errs.Bytes()))
	}
	var got apart
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		return reading.Reading{}, fmt.Errorf("%s could not be measured: %w", wording.Shown(photo), err)
	}
	switch {
	case got.Locked:
		return got.Reading, store.ErrLocked
	case got.Problem != "":
		return got.Reading, errors.New(got.Problem)
	}
	return got.Reading, nil
}

// RunOptions are those by which photos are measured for pages: with their overlays.
func RunOptions(dir, version string) measure.RunOptions {
	return measure.RunOptions{Version: version, Draw: func(s measure.Seen, r reading.Reading) error { return seen.Draw(dir, s, r) }}
}

// MeasureHere measures a photo of the trial in folder dir in this process. Work that does not end in time is abandoned.
func MeasureHere(ctx context.Context, dir string, p *plan.Plan, photo, version string) (reading.Reading, error) {
	type result struct {
		reading reading.Reading
		err     error
	}
	done := make(chan result, 1)
	go func() {
		r, err := measure.RunOne(context.WithoutCancel(ctx), dir, p, photo, RunOptions(dir, version))
		done <- result{r, err}
	}()
	select {
	case got := <-done:
		return got.reading, got.err
	case <-ctx.Done():
		if errors.Is(ctx.Err(), context.Canceled) { // the program is ending and waits for running work
			<-done
		}
		return reading.Reading{}, ctx.Err()
	}
}
