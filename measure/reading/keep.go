package reading

import "traygauge/measure/correct"

// Keep adds a correction to those of the trial in folder dir and shows it in its photo's reading. unshown says why the reading does not show it
// yet, though it is kept. It is correct.ErrDone if the photo is already corrected that way.
func Keep(dir string, c correct.Correction) (kept correct.Correction, unshown, err error) {
	if kept, err = correct.Append(dir, c); err != nil {
		return kept, nil, err
	}
	sha := kept.SHA256
	if kept.What == correct.Undo {
		sha = undonePhoto(dir, kept)
	}
	return kept, ShowCorrections(dir, sha), nil
}

// undonePhoto returns the SHA-256 of the photo whose correction c undoes.
func undonePhoto(dir string, c correct.Correction) string {
	log, err := correct.Load(dir)
	if err != nil {
		return ""
	}
	for _, made := range log.Made {
		if made.ID == c.Undoes {
			return made.SHA256
		}
	}
	return ""
}
