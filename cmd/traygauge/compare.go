package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"traygauge/measure/stats"
)

func newCompareCommand(std *streams) *cobra.Command {
	var table tableOptions
	var trial trialOptions
	cmd := &cobra.Command{
		Use:   "compare DIR | compare --table FILE --value COLUMN --by COLUMN",
		Short: "Compare treatments with their controls: by how much, and how sure that is",
		Long: `Compare each treatment of a trial with its control, using the measurements from the photos. Treatments are given to trays, so the
program compares trays, not plugs. With only one tray per treatment, the result is about those trays, not about the treatment.

With --table, compare your own measurements (dry weight, height, ...). The table is a CSV file with a header and one value per row;
its columns can be separated by commas, semicolons or tabs. Use - to read from standard input. If several values come from one tray
or pot, give that column as --unit; the program then compares tray or pot means. Without --unit every row counts as its own unit,
which is wrong for plugs from one tray.

How the test for a table is chosen:
` + stats.Rule + `
--level is the joint confidence level of all intervals. p-values are adjusted for the number of comparisons. --scale and --procedure
override the rule; choose them before you look at the data, or report that you did not.

--json prints every test on both scales with full precision. Undefined values are null, with the reason in "undefined".
measure/README.md describes the fields.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some photos have to be measured again.`,
		Example: `  traygauge compare kale-trial
  traygauge compare kale-trial --day 21
  traygauge compare --table weights.csv --value weight --by treatment --control water --unit tray
  traygauge compare --table weights.csv --value weight --by treatment --unit tray --interaction "feed,feed+sugar,feed+seaweed,feed+both"
  traygauge compare --table heights.csv --value height --by variety --json`,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case table.File == "" && len(args) == 0:
				return usageError{errors.New("give a trial’s folder, or a table with --table FILE")}
			case table.File == "":
				return oneFolder(cmd, args)
			case len(args) > 0:
				return usageError{errors.New("give a trial’s folder or a table, not both")}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			belongs := map[bool][]string{false: {"value", "by", "control", "unit", "level", "scale", "procedure", "interaction"}, true: {"day", "all-pairs", "all"}}
			for _, name := range belongs[table.File != ""] {
				if cmd.Flags().Changed(name) {
					return usageError{fmt.Errorf("--%s can only be used with %s", name, map[bool]string{false: "--table", true: "a trial’s folder"}[table.File != ""])}
				}
			}
			if table.File != "" {
				table.JSON = trial.JSON
				return runCompareTable(table, std)
			}
			return runCompareTrial(trial, args[0], std)
		},
	}
	f := cmd.Flags()
	f.IntVar(&trial.Day, "day", lastReview, "compare on this `DAY` after sowing instead of the last measured day")
	f.Lookup("day").DefValue = "0" // so that help shows no default
	f.BoolVar(&trial.AllPairs, "all-pairs", false, "also compare every pair of treatments")
	f.StringVar(&table.File, "table", "", "compare the values in this `FILE` instead of a trial")
	f.StringVar(&table.Value, "value", "", "`COLUMN` with the values")
	f.StringVar(&table.By, "by", "", "`COLUMN` with the groups to compare")
	f.StringVar(&table.Control, "control", "", "`GROUP` to compare all others with (default: compare every pair)")
	f.StringVar(&table.Unit, "unit", "", "`COLUMN` with the tray or pot of each value (default: each row is its own unit)")
	f.Float64Var(&table.Level, "level", 0.95, "joint confidence `LEVEL` of all intervals, 0.5 to 1")
	f.StringVar(&table.Scale, "scale", "", "`SCALE`: log for ratios, raw for differences (default: the rule above)")
	f.StringVar(&table.Procedure, "procedure", "", "`PROCEDURE`: one-variance, own-variances or ranks (default: the rule above)")
	f.StringSliceVar(&table.Interaction, "interaction", nil, "test whether BOTH differs from ONE and OTHER combined; give four `GROUPS` as NEITHER,ONE,OTHER,BOTH")
	f.BoolVar(&trial.All, "all", false, "show all quantities, growth, colour and limitations")
	f.BoolVar(&trial.JSON, "json", false, "print JSON")
	return cmd
}
