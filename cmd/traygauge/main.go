// Command traygauge measures roots and leaves in photos of propagation trays and compares the trays' treatments.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strconv"
	"strings"
	"syscall"
	"unicode"

	"github.com/spf13/cobra"
)

// The exit codes. Scripts depend on them.
const (
	exitOK        = 0
	exitFailed    = 1
	exitUsage     = 2
	exitAttention = 3 // done, but some photos need attention
)

// streams is where a command reads and writes: results go to Out, messages and progress to Err.
type streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// usageError is a wrong command line.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// attention is returned by a command that succeeded but found photos that need attention.
type attention struct{ error }

func (e attention) Unwrap() error { return e.error }

func main() {
	os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

// run carries out one command line and returns the exit code.
func run(args []string, std streams) int {
	ctx, stop := signal.NotifyContext(context.Background(), endings()...)
	defer stop()
	root := newRootCommand(&std)
	root.SetArgs(args)
	cmd, err := root.ExecuteContextC(ctx)
	return exitCode(meant(root, args, err), cmd, std.Err)
}

// meant adds the most similar command to an error about an unknown command.
func meant(root *cobra.Command, args []string, err error) error {
	if err == nil || len(args) == 0 || !strings.HasPrefix(err.Error(), "unknown command") {
		return err
	}
	if args[0] == "version" {
		return fmt.Errorf("%w: did you mean --version?", err)
	}
	root.SuggestionsMinimumDistance = 2
	if like := root.SuggestionsFor(args[0]); len(like) > 0 {
		return fmt.Errorf("%w: did you mean %q?", err, like[0])
	}
	return err
}

// endings returns the signals that end a command in an orderly way: photos in progress are finished and saved. A closed terminal is one of
// them, unless the program was started to continue without a terminal.
func endings() []os.Signal {
	all := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		all = append(all, syscall.SIGHUP)
	}
	return all
}

// exitCode prints err, if any, and returns its exit code.
func exitCode(err error, cmd *cobra.Command, to io.Writer) int {
	if err == nil {
		return exitOK
	}
	if words := err.Error(); words != "" {
		fmt.Fprintln(to, "traygauge: "+harmless(words))
	}
	var usage usageError
	var look attention
	switch {
	case errors.As(err, &usage), strings.HasPrefix(err.Error(), "unknown command"):
		fmt.Fprintf(to, "`%s --help` shows how to use it.\n", cmd.CommandPath())
		return exitUsage
	case errors.As(err, &look):
		return exitAttention
	}
	return exitFailed
}

// harmless escapes control characters in a message, which may quote a file name, so that they cannot act on the terminal.
func harmless(words string) string {
	var out strings.Builder
	for _, r := range words {
		if r == '\n' || unicode.IsPrint(r) {
			out.WriteRune(r)
		} else {
			out.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
		}
	}
	return out.String()
}

func newRootCommand(std *streams) *cobra.Command {
	root := &cobra.Command{
		Use:           "traygauge",
		Short:         "Measure roots and leaves in photos of propagation trays",
		SilenceErrors: true, // exitCode prints them, once
		SilenceUsage:  true,
		Version:       version(),
		Args:          cobra.NoArgs,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
		Long: `Measure roots and leaves in photos of propagation trays: root and leaf area with error bars, yellowing, browning and empty plugs.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some photos need attention.`,
	}
	root.SetIn(std.In)
	root.SetOut(std.Out)
	root.SetErr(std.Err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error { return usageError{inPlainWords(cmd, err)} })
	root.SetHelpCommand(newHelpCommand())
	cobra.EnableCommandSorting = false // in the order of the work
	root.AddCommand(newDemoCommand(std), newNewCommand(std), newCheckCommand(std), newPrintCommand(std), newServeCommand(std))
	root.AddCommand(newLensCommand(std), newMeasureCommand(std), newCorrectCommand(std), newReportCommand(std), newCompareCommand(std))
	root.AddCommand(newOnePhotoCommand(std))
	for _, cmd := range root.Commands() {
		cmd.ValidArgsFunction = completeFolder // each works on one trial's folder
	}
	return root
}

// oneFolder is the argument rule of the commands that work on one trial's folder.
func oneFolder(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return usageError{fmt.Errorf("give the trial’s folder: %s kale-trial, or %s . for the current folder", cmd.CommandPath(), cmd.CommandPath())}
	case args[0] == "":
		return usageError{fmt.Errorf("the folder’s name is empty: %s . means the current folder", cmd.CommandPath())}
	case len(args) > 1:
		return usageError{fmt.Errorf("give one folder, not %d; put quotation marks around a name that contains spaces", len(args))}
	}
	return nil
}
