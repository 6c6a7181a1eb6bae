package fromfolder

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"traygauge/measure/blind"
	"traygauge/measure/compare"
	"traygauge/measure/logbook"
	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/trialdir"
	"traygauge/report"
	"traygauge/report/html"
	"traygauge/report/html/answer"
	"traygauge/report/html/plugs"
	"traygauge/report/html/share"
	"traygauge/report/terminal"
	"traygauge/report/xlsx"
)

// Options say what a report is to hold.
type Options struct {
	Public  bool
	Picture string       // file for a copy of the picture to share; "" for none
	Embed   string       // file for an excerpt of the page; "" for none
	Of      string       // the treatment that picture and excerpt are of; "" for the plan's first with a control
	Address html.Address // where the page will be published, if that is known
}

// Report is a report that was written.
type Report struct {
	Page   html.Page
	Files  []string // their paths
	Broken []error  // readings that have to be made again

	Attention int // photos that somebody has to look at
}

// Write writes the report of the trial in folder dir. What a reader of it has to know or cannot see is written to tell.
func Write(dir, version string, o Options, tell io.Writer) (*Report, error) {
	t, err := Read(dir, version, tell)
	if err != nil {
		return nil, err
	}
	page, err := pageOf(t, o.Public, tell)
	if err != nil {
		return nil, err
	}
	page.Address, page.Of = o.Address, o.Of
	switch _, err := answer.Beforehand(page.Trial.Plan, page.Compared, o.Of); {
	case err == nil:
		page.Share = share.File
	case o.Of != "" || o.Picture != "" || o.Embed != "":
		return nil, err
	}
	r := &Report{Page: page, Broken: t.Broken, Attention: t.Attention()}
	if r.Files, err = writeFolder(filepath.Join(dir, "report"), page, t.Doubtful, tell); err != nil {
		return nil, err
	}
	more, err := writeExcerpts(o, page, t.Doubtful, tell)
	if err != nil {
		return nil, err
	}
	r.Files = append(r.Files, more...)
	for _, unused := range page.Trial.Unused {
		if unused.ExcludedBy() == nil { // an excluded one was looked at
			r.Attention++
		}
	}
	return r, nil
}

// pictureOf is what the picture to share is made from.
func pictureOf(page html.Page) share.Source {
	return share.Source{Trial: page.Trial, Compared: page.Compared, Dir: page.Dir}
}

// pageOf gathers what the report is written from.
func pageOf(t *Trial, public bool, tell io.Writer) (page html.Page, err error) {
	p, readings, dir := t.Plan, t.Readings, t.Dir
	page = html.Page{Dir: dir, Public: public, Readings: readings}
	if page.Log, _, err = logbook.Load(dir); err != nil { // what is wrong with it is reported where it is compared by
		return page, err
	}
	if public {
		page.Trial, page.Readings = report.CollectPublic(p, readings)
		if page.Compared, err = compared(page.Trial.Plan, page.Readings, dir, compare.Options{Public: true}, tell); err != nil {
			return page, err
		}
		fmt.Fprintln(tell, "Not published: notes, the wording of log entries (for an accident, the tray and day are kept; unplanned feedings are listed), file names, times of day and the names of people who made corrections.")
		terminal.WriteReasons(tell, page.Readings)
	} else {
		page.Trial = report.Collect(p, readings)
		if page.Compared, err = compared(p, readings, dir, compare.Options{}, tell); err != nil {
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

// writeExcerpts writes what was asked for beside the report, and returns the files' paths.
func writeExcerpts(o Options, page html.Page, reported []reading.TrialConcern, tell io.Writer) (files []string, err error) {
	if o.Picture != "" {
		if err := store.WriteWhole(o.Picture, func(w io.Writer) error { return share.Write(w, pictureOf(page), o.Of) }); err != nil {
			return nil, err
		}
		files = append(files, o.Picture)
	}
	if o.Embed != "" {
		err := store.WriteWhole(o.Embed, func(w io.Writer) error {
			lost, err := html.WriteEmbed(w, page, o.Of)
			terminal.WriteLost(tell, lost, reported)
			return err
		})
		if err != nil {
			return nil, err
		}
		files = append(files, o.Embed)
	}
	return files, nil
}

// writeFolder writes the report's files into folder dir, all or none, and returns their paths. What cannot be shown is printed, except for the photos that are
// reported already.
func writeFolder(dir string, page html.Page, reported []reading.TrialConcern, tell io.Writer) (files []string, err error) {
	if err := trialdir.MakeFolder(filepath.Dir(dir), filepath.Base(dir)); err != nil {
		return nil, err
	}
	unlock, err := store.Lock(filepath.Dir(dir), false) // the lock is the trial's: the report's folder is for showing around
	if err != nil {
		return nil, fmt.Errorf("cannot write %s now: it is %w: wait until it has finished", dir, err)
	}
	defer unlock()
	var beside []plugs.Picture
	list := filesOfReport(page, func(pictures []plugs.Picture, lost []string) {
		beside = pictures
		terminal.WriteLost(tell, lost, reported)
	})
	var names []string
	for _, f := range list {
		names, files = append(names, f.name), append(files, filepath.Join(dir, f.name))
	}
	err = store.ReplaceFolder(dir, append(names, plugs.Folder), func(into string) error {
		for _, f := range list {
			if err := store.WriteWhole(filepath.Join(into, f.name), f.write); err != nil {
				return fmt.Errorf("%w: the previous report was not changed", err)
			}
		}
		return writePictures(filepath.Join(into, plugs.Folder), beside)
	})
	if len(beside) > 0 {
		files = append(files, filepath.Join(dir, plugs.Folder))
	}
	return files, err
}

// writePictures writes the pictures beside the page into a new folder; without any there is none.
func writePictures(folder string, pictures []plugs.Picture) error {
	if len(pictures) == 0 {
		return nil
	}
	if err := os.Mkdir(folder, 0o755); err != nil {
		return fmt.Errorf("cannot write %s: %w: the previous report was not changed", folder, err)
	}
	for _, picture := range pictures {
		err := store.WriteWhole(filepath.Join(folder, picture.Name), func(w io.Writer) error { _, err := w.Write(picture.JPEG); return err })
		if err != nil {
			return fmt.Errorf("%w: the previous report was not changed", err)
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
func filesOfReport(page html.Page, tell func(beside []plugs.Picture, lost []string)) []reportFile {
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
		list = append(list, reportFile{page.Share, func(w io.Writer) error { return share.Write(w, pictureOf(page), page.Of) }})
	}
	return list
}
