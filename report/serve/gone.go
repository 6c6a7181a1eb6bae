package serve

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
)

// fileGone reports whether a photo that was measured is no longer in the folder photos. Its reading still counts.
func (s *Server) fileGone(photo string) bool {
	_, err := os.Lstat(filepath.Join(s.o.Dir, trialdir.PhotosFolder, filepath.FromSlash(photo)))
	return errors.Is(err, fs.ErrNotExist)
}

// gone lists the readings that count of photos whose files are gone. That of an unusable photo is no loss.
func (s *Server) gone(readings []reading.Reading) (list []reading.Reading) {
	for _, r := range readings {
		if r.Usable() && s.fileGone(r.Photo) {
			list = append(list, r)
		}
	}
	return list
}

// mostGone is how many photos whose files are gone are named.
const mostGone = 6

// goneWords says that photos' files are gone, what stays and what to do; "" where none is. Without p no photo is named, for that would tell its tray.
func goneWords(p *plan.Plan, gone []reading.Reading) string {
	if len(gone) == 0 {
		return ""
	}
	which := ""
	if p != nil {
		var names []string
		for _, r := range gone {
			names = append(names, occasionWords(p, r))
		}
		which = " (" + wording.First(names, mostGone) + ")"
	}
	head := fmt.Sprintf("The files of %d photos are gone%s. Their figures stay, but nobody can look at the photos again. Put the files", len(gone), which)
	if len(gone) == 1 {
		head = fmt.Sprintf("The file of 1 photo is gone%s. Its figures stay, but nobody can look at the photo again. Put the file", which)
	}
	return head + " back into the folder photos before the whole folder is measured again: that would take the figures out."
}

// occasionWords says what a photo is of.
func occasionWords(p *plan.Plan, r reading.Reading) string {
	tray, view := claimed(r)
	if tray == 0 || view == "" || r.Taken.IsZero() {
		return r.Photo
	}
	return fmt.Sprintf("%s of tray %d on day %d", view.Words(), tray, p.DayOf(r.Taken))
}

// withoutFile changes what is said of a photo whose file is gone.
func (v *judged) withoutFile() {
	v.Large, v.Tone, v.Questions = "Measured, but the photo’s file is gone.", "gone", []question{}
	v.Reasons = append([]reason{{Words: "its figures stay, but nobody can look at the photo again: put the file back into the folder photos"}}, v.Reasons...)
}
