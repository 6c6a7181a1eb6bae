package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"traygauge/report"
	"traygauge/report/fromfolder"
	"traygauge/report/html"
	"traygauge/report/terminal"
)

type reportOptions struct {
	JSON    bool
	Public  bool
	Picture string // file for a copy of the picture to share; "" for none
	Embed   string // file for an excerpt of the page; "" for none
	Of      string // the treatment that picture and excerpt are of; "" for the plan's first with a control
	URL     string // where the page will be published; "" where that is not known
}

func newReportCommand(std *streams) *cobra.Command {
	var opts reportOptions
	cmd := &cobra.Command{
		Use:   "report DIR",
		Short: "Write the report: a web page, a workbook and CSV tables",
		Long: `Write the results of measure to DIR/report, and print the answer:

  index.html        web page: the answer, treatment and control side by side, the evidence and its limitations
  page-pictures     pictures that the page opens at a click: typical plugs, and overlays that show what was counted
  share.png         picture to share: one comparison with its interval, its limitations, and typical plugs of both treatments
  trial.xlsx        workbook
  trays.csv, comparisons.csv, plugs.csv, photos.csv, and datapackage.json, which describes their columns

Without page-pictures, the page still works but cannot show the pictures that open at a click. --embed also writes an excerpt
of the page, one small file to embed in another page. The excerpt and the picture answer the plan’s main question for one
treatment, which --of selects. If the plan has no main question, they show root area on the last review day, or leaf area if
roots were not compared. --picture saves another copy of the picture under a name of your choice. --url sets the address at
which you will publish the page, so that links to it show the picture.

--public removes private information from all files: notes, the wording of log entries, photo paths, times of day and the names
of people who made corrections. Photos are listed by their SHA-256. For an accident with a tray, only the tray and the day are
kept. Feedings that departed from the plan are still listed. The reasons for corrections are kept, and are printed for you to
read before you publish. Pictures in a report never contain the place and time that a phone stores in its photos.

Exit codes: 0 done, 1 failed, 2 wrong usage, 3 done but some photos could not be used or have to be measured again.`,
		Example: `  traygauge report kale-trial
  traygauge report kale-trial --public --url https://www.example.org/kale-trial/
  traygauge report kale-trial --public --embed kale-answer.html --of seaweed
  traygauge report kale-trial --picture seaweed.png --of seaweed
  traygauge report kale-trial --json`,
		Args: oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error { return runReport(cmd.Context(), opts, args[0], std) },
	}
	cmd.Flags().BoolVar(&opts.JSON, "json", false, "print JSON")
	cmd.Flags().BoolVar(&opts.Public, "public", false, "remove notes, paths, times of day and names, for publishing")
	cmd.Flags().StringVar(&opts.Picture, "picture", "", "also save the picture to share (1200 × 630 px) as `FILE.png`")
	cmd.Flags().StringVar(&opts.Embed, "embed", "", "also write an excerpt to embed in another page, as `FILE.html`")
	cmd.Flags().StringVar(&opts.Of, "of", "", "`TREATMENT` for the picture and the excerpt (default: the first in the plan that has a control)")
	cmd.Flags().StringVar(&opts.URL, "url", "", "`ADDRESS` at which you will publish the page")
	return cmd
}

// runReport writes the report of the trial in folder dir.
func runReport(_ context.Context, opts reportOptions, dir string, std *streams) error {
	if opts.Picture != "" && !strings.EqualFold(filepath.Ext(opts.Picture), ".png") {
		return usageError{fmt.Errorf("--picture %s: the picture is a PNG file: give a name that ends in .png", opts.Picture)}
	}
	if opts.Embed != "" && !strings.EqualFold(filepath.Ext(opts.Embed), ".html") {
		return usageError{fmt.Errorf("--embed %s: the excerpt is an HTML file: give a name that ends in .html", opts.Embed)}
	}
	var address html.Address
	if opts.URL != "" {
		var err error
		if address, err = html.ParseAddress(opts.URL); err != nil {
			return usageError{fmt.Errorf("--url: %w", err)}
		}
	}
	o := fromfolder.Options{Public: opts.Public, Picture: opts.Picture, Embed: opts.Embed, Of: opts.Of, Address: address}
	r, err := fromfolder.Write(dir, version(), o, std.Err)
	if err != nil {
		return err
	}
	result := terminal.ReportedOf(r.Page.Trial, r.Page.Compared, r.Files, r.Broken)
	if opts.JSON {
		err = terminal.WriteEscapedJSON(std.Out, result)
	} else if err = terminal.WriteReported(std.Out, r.Page.Trial, r.Page.Compared); err == nil {
		terminal.WriteFiles(std.Err, result.Unused, r.Files)
	}
	if err != nil {
		return err
	}
	if opts.Public {
		fmt.Fprintln(std.Err, report.ClaimsCaution())
	}
	return needLooking(r.Attention)
}

// needLooking returns the error for n photos that someone has to look at, or nil.
func needLooking(n int) error {
	switch {
	case n == 1:
		return attention{errors.New("1 photo needs attention")}
	case n > 1:
		return attention{fmt.Errorf("%d photos need attention", n)}
	}
	return nil
}
