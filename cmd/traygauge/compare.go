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
		Long: `Compare each treatment of a trial with its control, by what was measured in the photos. The trays were treated, so trays are
compared, not plugs; with one tray a treatment the result is about these trays, not about the treatment.

With --table, compare your own measurements (dry weight, height, ...): a CSV file with a header and a row for each value, its columns
separated by commas, semicolons or tabs; - reads from standard input. --unit names the column that says which values were treated
together (tray, pot): then the units’ means are compared. Without it each row counts as a unit of its own: wrong for plugs of one tray.

How the test for a table is chosen:
` + stats.Rule + `
All intervals hold together with the confidence of --level, and p-values are adjusted for the number of comparisons. --scale and
--procedure override the choice; name them before you look at the data, or report that you did not.

--json prints every test on both scales with full precision; what is undefined is null, with the reason in "undefined". Its fields are
described in measure/README.md.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some readings have to be measured again.`,
		Example: `  traygauge compare kale-trial
  traygauge compare kale-trial --day 21
  traygauge compare --table weights.csv --value weight --by treatment --control water --unit tray
  traygauge compare --table weights.csv --value weight --by treatment --unit tray --interaction "feed,feed+sugar,feed+seaweed,feed+both"
  traygauge compare --table heights.csv --value height --by variety --json`,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case table.File == "" && len(args) == 0:
				return usageError{errors.New("name a trial’s folder, or a table with --table FILE")}
			case table.File == "":
				return oneFolder(cmd, args)
			case len(args) > 0:
				return usageError{errors.New("name a trial’s folder or a table, not both")}
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
	f.IntVar(&trial.Day, "day", lastReview, "compare on this `DAY` since sowing instead of the last one measured")
	f.Lookup("day").DefValue = "0" // so that help shows no default
	f.BoolVar(&trial.AllPairs, "all-pairs", false, "compare every pair of treatments, too")
	f.StringVar(&table.File, "table", "", "compare the values in this `FILE` instead of a trial")
	f.StringVar(&table.Value, "value", "", "the `COLUMN` of the values")
	f.StringVar(&table.By, "by", "", "the `COLUMN` of the groups that are compared")
	f.StringVar(&table.Control, "control", "", "the `GROUP` that all others are compared with (default: every pair)")
	f.StringVar(&table.Unit, "unit", "", "the `COLUMN` of the trays or pots that were treated as one (default: each row)")
	f.Float64Var(&table.Level, "level", 0.95, "confidence `LEVEL` of the intervals together, 0.5 to 1")
	f.StringVar(&table.Scale, "scale", "", "`SCALE` of the comparison: log for ratios, raw for differences (default: by the rule)")
	f.StringVar(&table.Procedure, "procedure", "", "`PROCEDURE` to use: one-variance, own-variances or ranks (default: by the rule)")
	f.StringSliceVar(&table.Interaction, "interaction", nil, "also compare BOTH with what its parts give together: four `GROUPS` as NEITHER,ONE,OTHER,BOTH")
	f.BoolVar(&trial.All, "all", false, "show every quantity, growth and colour, and all that limits the results")
	f.BoolVar(&trial.JSON, "json", false, "print JSON")
	return cmd
}
