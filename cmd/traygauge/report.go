package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/measure/blind"
	"traygauge/measure/compare"
	"traygauge/measure/plan"
	"traygauge/measure/store"
	"traygauge/measure/trialdir"
	"traygauge/report"
	"traygauge/report/html"
	"traygauge/report/xlsx"
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
		Long: `Write into DIR/report from the readings that the measure command left, and sum up the trays and what they show:

  index.html        the answer, plants beside each other, what it rests on and what limits it
  page-pictures     pictures that the page shows when they are opened: typical plugs, and what was counted
  share.png         a picture to share: one comparison with its interval, typical plugs of both sides and what limits it
  trial.xlsx        the spreadsheet
  trays.csv, comparisons.csv, plugs.csv, photos.csv, and datapackage.json, which describes their columns

Without page-pictures only the pictures opened by a click are missing. --embed writes an excerpt of it as one small file, to be shown within
another page. Picture and excerpt show the comparison that answers the plan's main question, of the treatment that --of names; where the
plan asks none, that in root area on the last review, or in leaf area where roots were not compared. --picture writes the picture once
more, where you like. --url says where the page will be published, for links to it and for what they show.

--public leaves out of all of them what is private: notes, the log's words, the photos' paths, times of day, and who
corrected what. Photos go by their SHA-256. Of a tray's accident the tray and the day remain. Pictures are always drawn again,
without the place and time that a phone puts into its files. Reasons for corrections stay, without the names of those who made them; they
are printed for you to read before you publish.

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

// reported is what the report command prints as JSON.
type reported struct {
	Files  []string             `json:"files"`
	Trays  []map[string]any     `json:"trays"`
	Unused []report.UnusedPhoto `json:"unused"`
	Broken []string             `json:"broken"` // readings that are to be made again

	Compared comparedJSON `json:"compared"`
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
	p, err := planWithoutMistakes(dir, std)
	if err != nil {
		return err
	}
	readings, broken := measure.LoadReadings(dir)
	for _, b := range broken {
		fmt.Fprintln(std.Err, b)
	}
	if len(readings) == 0 {
		return fmt.Errorf("no readings in %s: run `traygauge measure %s` first", filepath.Join(dir, "readings"), dir)
	}
	doubtful := tellDoubtfulReadings(std, p, dir, readings)
	readings = measure.Together(p, readings)
	page, err := pageOf(p, readings, dir, opts.Public, std)
	if err != nil {
		return err
	}
	page.Address, page.Of = address, opts.Of
	switch err := html.CanPicture(page, opts.Of); {
	case err == nil:
		page.Share = html.SharePicture
	case opts.Of != "" || opts.Picture != "" || opts.Embed != "":
		return err
	}
	files, err := writeReport(filepath.Join(dir, "report"), page, doubtful, std)
	if err != nil {
		return err
	}
	more, err := writeExcerpts(opts, page, doubtful, std)
	if err != nil {
		return err
	}
	files = append(files, more...)
	trial, compared := page.Trial, page.Compared
	result := reported{Files: files, Compared: comparedOf(compared), Trays: report.TrayRecords(trial), Unused: report.UnusedPhotos(trial), Broken: []string{}}
	for _, b := range broken {
		result.Broken = append(result.Broken, b.Error())
	}
	if opts.JSON {
		enc := json.NewEncoder(std.Out)
		enc.SetIndent("", "  ")
		err = enc.Encode(result)
	} else {
		err = printReported(std, trial, compared, result)
	}
	if err != nil {
		return err
	}
	n := len(broken) + len(doubtful)
	for _, r := range trial.Unused {
		n += count(r.ExcludedBy() == nil) // an excluded one was looked at
	}
	return needLooking(n)
}

// writeExcerpts writes what was asked for beside the report, and returns the files' paths.
func writeExcerpts(opts reportOptions, page html.Page, reported []measure.TrialConcern, std *streams) (files []string, err error) {
	if opts.Picture != "" {
		if err := store.WriteWhole(opts.Picture, func(w io.Writer) error { return html.WritePicture(w, page, opts.Of) }); err != nil {
			return nil, err
		}
		files = append(files, opts.Picture)
	}
	if opts.Embed != "" {
		err := store.WriteWhole(opts.Embed, func(w io.Writer) error {
			lost, err := html.WriteEmbed(w, page, opts.Of)
			printLost(std, lost, reported)
			return err
		})
		if err != nil {
			return nil, err
		}
		files = append(files, opts.Embed)
	}
	return files, nil
}

// needLooking returns the error that stands for n photos somebody has to look at, or nil.
func needLooking(n int) error {
	switch {
	case n == 1:
		return attention{errors.New("1 photo needs attention")}
	case n > 1:
		return attention{fmt.Errorf("%d photos need attention", n)}
	}
	return nil
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// tellDoubtfulReadings says which readings are not, or no longer, of this plan, this program and these photos, a line each, and returns
// them.
func tellDoubtfulReadings(std *streams, p *plan.Plan, dir string, readings []measure.Reading) []measure.TrialConcern {
	const most = 20
	doubtful := measure.Audit(dir, p, version(), readings)
	for _, c := range doubtful[:min(most, len(doubtful))] {
		fmt.Fprintln(std.Err, strings.Join(append(aboutPhotos(c.Photos), concernWords(c.Concern)), ": "))
	}
	if more := len(doubtful) - most; more > 0 {
		fmt.Fprintf(std.Err, "and %s like these: run `traygauge measure %s` again\n", countOf(more, "more photo", "more photos"), dir)
	}
	return doubtful
}

// pageOf gathers what the report is written from.
func pageOf(p *plan.Plan, readings []measure.Reading, dir string, public bool, std *streams) (page html.Page, err error) {
	page = html.Page{Dir: dir, Public: public, Readings: readings}
	if page.Log, _, err = plan.LoadLog(dir); err != nil { // what is wrong with it is reported where it is compared by
		return page, err
	}
	if public {
		page.Trial, page.Readings = report.CollectPublic(p, readings)
		if page.Compared, err = compareReadings(page.Trial.Plan, page.Readings, dir, compare.Options{Public: true}, std); err != nil {
			return page, err
		}
		fmt.Fprintln(std.Err, "Left out for publishing: notes, the log's words (of a tray's accident the tray and the day remain), file names, times of day, who corrected what.")
		tellReasons(std, page.Readings)
	} else {
		page.Trial = report.Collect(p, readings)
		if page.Compared, err = compareReadings(p, readings, dir, compare.Options{}, std); err != nil {
			return page, err
		}
	}
	zone := page.Trial.Plan.Zone
	if public {
		zone = nil
	}
	page.Trial.Blind, err = blind.Words(dir, zone)
	return page, err
}

// tellReasons prints what stays in a public report in somebody's own words.
func tellReasons(std *streams, readings []measure.Reading) {
	reasons := report.Reasons(readings)
	if len(reasons) == 0 {
		return
	}
	fmt.Fprintln(std.Err, "These reasons for corrections will be public; read them for names:")
	for _, why := range reasons {
		fmt.Fprintln(std.Err, "  "+tame(why))
	}
}

// writeReport writes the report's files into folder dir, all or none, and returns their paths. What cannot be shown is printed, except for the photos that are
// reported already.
func writeReport(dir string, page html.Page, reported []measure.TrialConcern, std *streams) (files []string, err error) {
	if err := trialdir.MakeFolder(filepath.Dir(dir), filepath.Base(dir)); err != nil {
		return nil, err
	}
	unlock, err := store.Lock(filepath.Dir(dir), false) // the lock is the trial's: the report's folder is for showing around
	if err != nil {
		return nil, fmt.Errorf("cannot write %s now: it is %w: let it finish first", dir, err)
	}
	defer unlock()
	var beside []html.PagePicture
	list := filesOfReport(page, func(pictures []html.PagePicture, lost []string) {
		beside = pictures
		printLost(std, lost, reported)
	})
	var names []string
	for _, f := range list {
		names, files = append(names, f.name), append(files, filepath.Join(dir, f.name))
	}
	err = store.ReplaceFolder(dir, append(names, html.PicturesFolder), func(into string) error {
		for _, f := range list {
			if err := store.WriteWhole(filepath.Join(into, f.name), f.write); err != nil {
				return fmt.Errorf("%w: the report before was left as it was", err)
			}
		}
		return writePictures(filepath.Join(into, html.PicturesFolder), beside)
	})
	if len(beside) > 0 {
		files = append(files, filepath.Join(dir, html.PicturesFolder))
	}
	return files, err
}

// writePictures writes the pictures beside the page into a new folder; without any there is none.
func writePictures(folder string, pictures []html.PagePicture) error {
	if len(pictures) == 0 {
		return nil
	}
	if err := os.Mkdir(folder, 0o755); err != nil {
		return fmt.Errorf("cannot write %s: %w: the report before was left as it was", folder, err)
	}
	for _, picture := range pictures {
		err := store.WriteWhole(filepath.Join(folder, picture.Name), func(w io.Writer) error { _, err := w.Write(picture.JPEG); return err })
		if err != nil {
			return fmt.Errorf("%w: the report before was left as it was", err)
		}
	}
	return nil
}

// reportFile is one of the report's files.
type reportFile struct {
	name  string
	write func(io.Writer) error
}

// filesOfReport lists the report's files in the order in which they are written: what describes the tables comes behind them. tell is called with
// the pictures beside the page and with what could not be shown.
func filesOfReport(page html.Page, tell func(beside []html.PagePicture, lost []string)) []reportFile {
	trial, tables := page.Trial, map[string][]byte{}
	table := func(name string, write func(io.Writer) error) reportFile {
		return reportFile{name, func(w io.Writer) error {
			var text bytes.Buffer
			err := write(io.MultiWriter(w, &text))
			tables[name] = text.Bytes()
			return err
		}}
	}
	list := []reportFile{
		table(report.PlugsCSV, func(w io.Writer) error { return report.WritePlugsCSV(w, trial) }),
		table(report.PhotosCSV, func(w io.Writer) error { return report.WritePhotosCSV(w, trial) }),
		table(report.TraysCSV, func(w io.Writer) error { return report.WriteTraysCSV(w, trial) }),
		table(report.ComparisonsCSV, func(w io.Writer) error { return report.WriteComparisonsCSV(w, page.Compared) }),
		{report.DataPackageJSON, func(w io.Writer) error { return report.WriteDataPackage(w, trial, tables) }},
		{"trial.xlsx", func(w io.Writer) error {
			return xlsx.Write(w, trial, xlsx.Options{Compared: page.Compared, Crops: func(plugs []report.PlugRow, s report.CropSize) [][]byte {
				return report.Crops(page.Dir, plugs, s)
			}})
		}},
		{"index.html", func(w io.Writer) error {
			beside, lost, err := html.WritePage(w, page)
			tell(beside, lost)
			return err
		}},
	}
	if page.Share != "" {
		list = append(list, reportFile{page.Share, func(w io.Writer) error { return html.WritePicture(w, page, page.Of) }})
	}
	return list
}

// printLost prints what is not on the page, except for the photos that are reported already.
func printLost(std *streams, lost []string, reported []measure.TrialConcern) {
	for _, l := range lost {
		if !slices.ContainsFunc(reported, func(c measure.TrialConcern) bool { return strings.Contains(l, measure.Shown(c.Photos[0])) }) {
			fmt.Fprintln(std.Err, l)
		}
	}
}

// writeDoubtful names the photos that count although something is wrong with them, by kind.
func writeDoubtful(out *strings.Builder, trial *report.Trial) {
	photos := map[string][]string{}
	for _, r := range trial.Trays {
		for _, c := range r.Concerns {
			if !slices.Contains(photos[c.Kind], r.Photo) {
				photos[c.Kind] = append(photos[c.Kind], r.Photo)
			}
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(photos)) {
		writeItem(out, fmt.Sprintf("counted, but %s: %s", kind, aboutPhotos(photos[kind])[0]))
	}
}

// printReported writes the answer to Out; what needs attention and where the files are goes to Err.
func printReported(std *streams, trial *report.Trial, compared *compare.Result, r reported) error {
	var out strings.Builder
	writeAnswer(&out, compared)
	writeDoubtful(&out, trial)
	if _, err := io.WriteString(std.Out, out.String()); err != nil {
		return err
	}
	for _, u := range r.Unused {
		fmt.Fprintf(std.Err, "%s: %s\n", measure.Shown(u.Photo), u.Why)
	}
	for _, f := range r.Files {
		fmt.Fprintln(std.Err, "wrote "+f)
	}
	return nil
}
