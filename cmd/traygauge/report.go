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
		Short: "Write the page, the spreadsheet and the tables from what was measured",
		Long: `Write the results of measure into DIR/report, and print the answer:

  index.html        the page: the answer, treatment and control side by side, what the answer rests on and what limits it
  page-pictures     pictures for the page that open at a click: typical plugs, and what was counted
  share.png         a picture to share: one comparison with its interval, typical plugs of both treatments and what limits it
  trial.xlsx        the spreadsheet
  trays.csv, comparisons.csv, plugs.csv, photos.csv, and datapackage.json, which describes their columns

The page also works without page-pictures; then the pictures that open at a click are missing. --embed writes an excerpt of the page as one
small file, to show within another page. Excerpt and picture show the plan’s main question for the treatment that --of names. If the plan
asks no main question, they show root area on the last review day, or leaf area if roots were not compared. --picture saves the picture under
another name as well. --url gives the address at which you will publish the page; links to the page then show its picture.

--public leaves out of all files what is private: notes, the log’s words, the photos’ paths, times of day, and who corrected
what. Photos are named by their SHA-256. Of an accident with a tray only the tray and the day are kept; a feeding that was
not the plan’s is named. Pictures are always drawn again, without the place and time that a phone puts into its files. Reasons for
corrections stay, without the names of those who made them; they are printed, so that you can read them before you publish.

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
	cmd.Flags().BoolVar(&opts.Public, "public", false, "leave out notes, paths, times of day and names, for publishing")
	cmd.Flags().StringVar(&opts.Picture, "picture", "", "also write the picture to share, 1200 × 630 px, as `FILE.png`")
	cmd.Flags().StringVar(&opts.Embed, "embed", "", "also write an excerpt for another page, as `FILE.html`")
	cmd.Flags().StringVar(&opts.Of, "of", "", "the `TREATMENT` that picture and excerpt are of; the first in the plan that has a control otherwise")
	cmd.Flags().StringVar(&opts.URL, "url", "", "the `ADDRESS` under which the page will be published")
	return cmd
}

// runReport writes the report of the trial in folder dir.
func runReport(_ context.Context, opts reportOptions, dir string, std *streams) error {
	if opts.Picture != "" && !strings.EqualFold(filepath.Ext(opts.Picture), ".png") {
		return usageError{fmt.Errorf("--picture %s: a picture is a PNG: name it FILE.png", opts.Picture)}
	}
	if opts.Embed != "" && !strings.EqualFold(filepath.Ext(opts.Embed), ".html") {
		return usageError{fmt.Errorf("--embed %s: an excerpt is a page: name it FILE.html", opts.Embed)}
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

// needLooking returns the error for n photos that somebody has to look at, or nil.
func needLooking(n int) error {
	switch {
	case n == 1:
		return attention{errors.New("1 photo needs attention")}
	case n > 1:
		return attention{fmt.Errorf("%d photos need attention", n)}
	}
	return nil
}
