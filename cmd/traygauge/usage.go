package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// inPlainWords rewords errors about values that are not numbers. Other errors about flags are clear enough.
func inPlainWords(cmd *cobra.Command, err error) error {
	var wrong *pflag.InvalidValueError
	if !errors.As(err, &wrong) {
		return err
	}
	name, kind := "--"+wrong.GetFlag().Name, wrong.GetFlag().Value.Type()
	switch {
	case strings.HasPrefix(kind, "int"), strings.HasPrefix(kind, "uint"):
		return fmt.Errorf("%s %s: give a whole number", name, wrong.GetValue())
	case strings.HasPrefix(kind, "float"):
		return fmt.Errorf("%s %s: give a number", name, wrong.GetValue())
	}
	return err
}

// newHelpCommand returns the help command, which reports unknown commands.
func newHelpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Show how to use a command",
		RunE: func(cmd *cobra.Command, args []string) error {
			about, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return usageError{fmt.Errorf("there is no command %q: `%s --help` lists them", strings.Join(args, " "), cmd.Root().Name())}
			}
			about.InitDefaultHelpFlag()
			return about.Help()
		},
	}
}

// usageOf returns the usage line of a command, with the flag for the reason if it is required.
func usageOf(cmd *cobra.Command) string {
	use := strings.TrimSuffix(cmd.UseLine(), " [flags]")
	if cmd.Flags().Lookup("why") != nil {
		use += ` --why "the reason"`
	}
	return use
}
