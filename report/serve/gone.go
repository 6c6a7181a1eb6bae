package serve

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

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

// gone lists the readings of photos whose files are gone, those that someone excluded among them. That of an unusable photo is no loss.
func (s *Server) gone(readings []reading.Reading) (list []reading.Reading) {
	for _, r := range readings {
		if r.Usable() && s.fileGone(r.Photo) {
			list = append(list, r)
		}
	}
	return list
}

// goneAmong returns the reading of the photo that is asked for, and whether its file is gone. Files of other photos are not looked for.
func (s *Server) goneAmong(readings []reading.Reading, asked func(photo string) bool) (r reading.Reading, gone bool) {
	i := slices.IndexFunc(readings, func(r reading.Reading) bool { return r.Usable() && asked(r.Photo) && s.fileGone(r.Photo) })
	if i < 0 {
		return r, false
	}
	return readings[i], true
}

// mostGone is how many photos whose files are gone are named.
const mostGone = 6

// goneWords says that photos' files are gone, what stays and what to do; "" where none is that counts. Without p no photo is named, for that would tell its tray.
func goneWords(p *plan.Plan, gone []reading.Reading) string {
	gone = slices.DeleteFunc(slices.Clone(gone), func(r reading.Reading) bool { return r.ExcludedBy() != nil })
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
	if len(gone) == 1 {
		return fmt.Sprintf("The file of 1 photo is missing%s. Its figures count only until the whole folder is measured again. Put the file back into the folder photos.", which)
	}
	return fmt.Sprintf("The files of %d photos are missing%s. Their figures count only until the whole folder is measured again. Put the files back into the folder photos.", len(gone), which)
}

// occasionWords says what a photo is of.
func occasionWords(p *plan.Plan, r reading.Reading) string {
	tray, view := claimed(r)
	if tray == 0 || view == "" || r.Taken.IsZero() {
		return r.Photo
	}
	return fmt.Sprintf("%s of tray %d on day %d", view.Words(), tray, p.DayOf(r.Taken))
}

// goneReason says what to do where the file of a photo with this verdict is gone.
func goneReason(v reading.Verdict) reason {
	if v == reading.VerdictExcluded {
		return reason{Words: "the photo file is missing; the photo is excluded, so its figures are not used"}
	}
	return reason{Words: "the photo file is missing, and its figures count only until the whole folder is measured again",
		Remedy: "put the file back into the folder photos; if it is lost, exclude the photo in review, with a reason"}
}

// withoutFile changes what is said of a photo whose file is gone.
func (v *judged) withoutFile() {
	v.Large, v.Tone, v.Questions = "Measured, but the photo file is missing.", "gone", []question{}
	v.Reasons = append([]reason{goneReason(v.Verdict)}, v.Reasons...)
}

// withoutFile changes what review shows of a photo whose file is gone: no one can look into it to settle anything.
func (p *photoSeen) withoutFile() {
	p.Gone, p.Open, p.Questions = true, false, []question{}
	p.Reasons = append([]reason{goneReason(p.Verdict)}, p.Reasons...)
}
