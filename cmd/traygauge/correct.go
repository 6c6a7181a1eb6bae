package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/user"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report/fromfolder"
	"traygauge/report/terminal"
)

type correctOptions struct {
	Who, Why string
	JSON     bool
}

func newCorrectCommand(std *streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "correct",
		Short: "Correct measurements by hand, with a reason",
		Long: `Correct the measurements by hand. Each correction is saved as a line in the trial’s corrections.jsonl, with who made it, when and
why. Lines are never changed or deleted; undoing a correction adds another line. Readings, tables and the workbook show all
corrections. Photos are identified by their content, so a renamed photo keeps its corrections.

Give PHOTO as a path below photos/, as a file name if no other photo has the same name, or as the first eight or more digits of
the photo’s SHA-256.

Exit codes: 0 done, or already corrected that way; 1 failed; 2 wrong usage; 3 some lines are not valid (list).`,
		Example: `  traygauge correct exclude kale-trial day-14/tray-07-roots.jpg B7 --why "eaten by slugs"
  traygauge correct list kale-trial
  traygauge correct undo kale-trial 3 --why "wrong plug"`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usageError{fmt.Errorf("unknown correction %q: give exclude, include, empty, planted, move, undo or list, then the folder", args[0])}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(
		newCorrectPlugsCommand(std, correct.Exclude, "exclude DIR PHOTO [PLUG...]", "Exclude plugs, or a whole photo, from all results", 2,
			`Exclude plugs from all results, or the whole photo if you list no plugs. The values stay in plugs.csv, with the state "excluded".`,
			`  traygauge correct exclude kale-trial tray-07-roots.jpg B7 B8 --why "eaten by slugs"
  traygauge correct exclude kale-trial day-14/tray-07-roots.jpg --why "the card lay on the bench"`),
		newCorrectPlugsCommand(std, correct.Include, "include DIR PHOTO PLUG...", "Include plugs that were left out because something seemed to cover them", 3,
			`Include plugs that were left out because something seemed to cover them. Their measured values then count. Look at the
photo first: nothing was measured under anything that really covers a plug.`,
			`  traygauge correct include kale-trial tray-07-roots.jpg C4 --why "a corner has broken off, nothing covers it"`),
		newCorrectPlugsCommand(std, correct.Empty, "empty DIR PHOTO PLUG...", "Mark plugs as empty", 3,
			`Mark plugs as empty. In a photo of roots this means no plug; in a photo of leaves, no plant.`,
			`  traygauge correct empty kale-trial tray-07-shoots.jpg C4 --why "algae, no plant"`),
		newCorrectPlugsCommand(std, correct.Planted, "planted DIR PHOTO PLUG...", "Mark plugs as planted", 3,
			`Mark plugs as planted if they were wrongly reported as empty or hidden. They count in the stand. Their values stay
blank, because nothing was measured there.`,
			`  traygauge correct planted kale-trial tray-07-shoots.jpg C4 --why "a seedling under its neighbour"`),
		newCorrectMoveCommand(std), newCorrectUndoCommand(std), newCorrectListCommand(std))
	return cmd
}

// addTrace adds the flags that every correction has.
func (o *correctOptions) addTrace(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.Why, "why", "", "the reason, in a few `WORDS` (required)")
	cmd.Flags().StringVar(&o.Who, "who", "", "your `NAME` or nickname (default: your user name on this computer)")
	o.addJSON(cmd)
}

func (o *correctOptions) addJSON(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&o.JSON, "json", false, "print JSON")
}

// trace returns a correction with who and why.
func (o correctOptions) trace() (correct.Correction, error) {
	c := correct.Correction{Who: o.Who, Why: o.Why}
	if strings.TrimSpace(c.Why) == "" {
		return c, usageError{errors.New(`give the reason in a few words, such as --why "eaten by slugs"`)}
	}
	if c.Who == "" {
		c.Who = userName()
	}
	if strings.TrimSpace(c.Who) == "" {
		return c, usageError{errors.New("your user name is not known: give a name or nickname with --who")}
	}
	return c, nil
}

// userName returns what this computer calls its user, or "".
func userName() string {
	if name := os.Getenv("USER"); name != "" {
		return name
	}
	if u, err := user.Current(); err == nil {
		return u.Username
	}
	return ""
}

// atLeast is the argument rule of a correction that needs n arguments.
func atLeast(n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < n {
			return usageError{fmt.Errorf("an argument is missing; usage: %s", usageOf(cmd))}
		}
		return nil
	}
}

func newCorrectPlugsCommand(std *streams, what correct.Kind, use, short string, least int, long, example string) *cobra.Command {
	var opts correctOptions
	cmd := &cobra.Command{
		Use: use, Short: short, Long: long, Example: example,
		Args: atLeast(least),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCorrectPlugs(cmd.Context(), opts, what, args[0], args[1], args[2:], std)
		},
	}
	opts.addTrace(cmd)
	return cmd
}

// runCorrectPlugs corrects plugs of a photo of the trial in folder dir, or without plugs the photo.
func runCorrectPlugs(_ context.Context, opts correctOptions, what correct.Kind, dir, photo string, plugs []string, std *streams) error {
	c, err := opts.trace()
	if err != nil {
		return err
	}
	p, err := fromfolder.Plan(dir, std.Err)
	if err != nil {
		return err
	}
	c.What = what
	list, err := measure.Corrections(dir, p, c, photo, plugs)
	if err != nil {
		return err
	}
	return keep(dir, list, opts.JSON, std)
}

func newCorrectMoveCommand(std *streams) *cobra.Command {
	var opts correctOptions
	cmd := &cobra.Command{
		Use:   "move DIR PHOTO X,Y X,Y X,Y X,Y",
		Short: "Set the positions of the plugs in a photo",
		Long: `Set the positions of the plugs in a photo where the grid was placed wrongly, for example because the card slipped. Give the
four outer corners of the grid as X,Y, in pixels from the top left of the upright photo. List them in the order of their plugs:
A1, A10, E10 and E1 on a tray of 5 by 10. The next run of measure uses the new grid.`,
		Example: `  traygauge correct move kale-trial tray-07-roots.jpg 3110,420 610,455 640,1730 3120,1700 --why "the card had slipped"`,
		Args:    atLeast(6),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCorrectMove(cmd.Context(), opts, args[0], args[1], args[2:], std)
		},
	}
	opts.addTrace(cmd)
	return cmd
}

// runCorrectMove sets where the plugs lie in a photo of the trial in folder dir.
func runCorrectMove(_ context.Context, opts correctOptions, dir, photo string, points []string, std *streams) error {
	c, err := opts.trace()
	if err != nil {
		return err
	}
	c.What, c.Corners = correct.Move, new(correct.Corners)
	if len(points) != len(c.Corners) {
		return usageError{fmt.Errorf("give four corners as X,Y, not %d", len(points))}
	}
	for i, text := range points {
		if c.Corners[i], err = parsePoint(text); err != nil {
			return usageError{err}
		}
	}
	p, err := fromfolder.Plan(dir, std.Err)
	if err != nil {
		return err
	}
	list, err := measure.Corrections(dir, p, c, photo, nil)
	if err != nil {
		return err
	}
	if err := keep(dir, list, opts.JSON, std); err != nil {
		return err
	}
	fmt.Fprintf(std.Err, "Run `traygauge measure %s` to measure the photo again.\n", wording.Typed(dir))
	return nil
}

func parsePoint(text string) (q [2]float64, err error) {
	x, y, ok := strings.Cut(text, ",")
	q[0], err = strconv.ParseFloat(x, 64)
	if ok && err == nil {
		q[1], err = strconv.ParseFloat(y, 64)
	}
	if !ok || err != nil {
		return q, fmt.Errorf("%q is not a corner: give pixels as X,Y, such as 610,455", text)
	}
	return q, nil
}

func newCorrectUndoCommand(std *streams) *cobra.Command {
	var opts correctOptions
	cmd := &cobra.Command{
		Use:   "undo DIR NUMBER",
		Short: "Undo a correction",
		Long:  `Undo the correction with this number, as shown by "correct list". Both the correction and the undo stay on record.`,
		Args:  atLeast(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCorrectUndo(cmd.Context(), opts, args[0], args[1:], std)
		},
	}
	opts.addTrace(cmd)
	return cmd
}

// runCorrectUndo undoes a correction of the trial in folder dir.
func runCorrectUndo(_ context.Context, opts correctOptions, dir string, numbers []string, std *streams) error {
	c, err := opts.trace()
	if err != nil {
		return err
	}
	c.What = correct.Undo
	if c.Undoes, err = strconv.Atoi(numbers[0]); err != nil || len(numbers) > 1 || c.Undoes < 1 {
		return usageError{fmt.Errorf("%q is not the number of a correction: `traygauge correct list %s` shows the numbers", strings.Join(numbers, " "), wording.Typed(dir))}
	}
	if _, err := fromfolder.Plan(dir, std.Err); err != nil {
		return err
	}
	return keep(dir, []correct.Correction{c}, opts.JSON, std)
}

// kept is what a correcting command prints as JSON.
type kept struct {
	Made    []correct.Correction `json:"made"`
	Already []correct.Correction `json:"already"` // stood before, and were not made again
}

// keep adds corrections to the trial in folder dir and says which.
func keep(dir string, list []correct.Correction, asJSON bool, std *streams) error {
	done := kept{Made: []correct.Correction{}, Already: []correct.Correction{}}
	for _, c := range list {
		c, unshown, err := reading.Keep(dir, c)
		switch {
		case errors.Is(err, correct.ErrDone):
			done.Already = append(done.Already, c)
			fmt.Fprintln(std.Err, err)
			continue
		case err != nil:
			return err
		}
		done.Made = append(done.Made, c)
		if !asJSON {
			fmt.Fprintln(std.Out, terminal.CorrectionLine(c))
		}
		if unshown != nil {
			fmt.Fprintf(std.Err, "the correction is saved, but the reading does not show it yet: %v\n", unshown)
		}
	}
	if asJSON {
		return terminal.WriteJSON(std.Out, done)
	}
	return nil
}

func newCorrectListCommand(std *streams) *cobra.Command {
	var opts correctOptions
	cmd := &cobra.Command{
		Use:   "list DIR",
		Short: "List all corrections, and which of them were undone",
		Args:  oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error {
			return runCorrectList(cmd.Context(), opts, args[0], std)
		},
	}
	opts.addJSON(cmd)
	return cmd
}

// runCorrectList prints the corrections of the trial in folder dir.
func runCorrectList(_ context.Context, opts correctOptions, dir string, std *streams) error {
	if _, err := fromfolder.Plan(dir, std.Err); err != nil {
		return err
	}
	log, err := correct.Load(dir)
	if err != nil {
		return err
	}
	list := log.List()
	if opts.JSON {
		err = terminal.WriteJSON(std.Out, list)
	} else {
		terminal.WriteCorrections(std.Out, std.Err, list)
	}
	if err == nil && len(list.Problems) > 0 {
		return attention{fmt.Errorf("%s has lines that are not valid: see above", correct.FileName)}
	}
	return err
}
