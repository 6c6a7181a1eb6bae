package measure

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/trialdir"
	"traygauge/vision"
	"traygauge/vision/lens"
)

// lensFolder is the folder of a trial in which photos of the card alone are looked for.
const lensFolder = "lens"

// LensShot is what became of one photo for a lens's profile.
type LensShot struct {
	File    string           `json:"file"`
	Lens    string           `json:"lens"`              // as in FoundLens.Lens; "" when the photo does not tell
	Concern *reading.Concern `json:"concern,omitempty"` // why it was not used
}

// FoundLens is what the photos of one lens gave: a profile, or why there is none.
type FoundLens struct {
	Lens    string           `json:"lens"`
	Photos  int              `json:"photos"` // of it in which the card was found
	Profile *lens.Profile    `json:"profile,omitempty"`
	Concern *reading.Concern `json:"concern,omitempty"`
}

// LensResult is what a set of photos gave.
type LensResult struct {
	Shots  []LensShot  `json:"photos"`
	Lenses []FoundLens `json:"lenses"`
}

// FitLenses fits a profile to each lens that took photos of the card, and keeps those it could fit in the trial in folder dir, in
// place of older ones of the same lenses. Paths are photos or folders of photos; none means the trial's own folder lens. What is
// wrong with a photo or a set ends up in the result; the error is for what cannot be read or written, and for a ctx that ended.
func FitLenses(ctx context.Context, dir string, paths []string, progress func(done, total int, name string)) (LensResult, error) {
	kept, err := plan.LoadLenses(dir)
	if err != nil {
		return LensResult{}, err
	}
	files, err := lensPhotos(dir, paths)
	if err != nil {
		return LensResult{}, err
	}
	f := lensSet{seen: map[string]string{}}
	for i, name := range files {
		if progress != nil {
			progress(i, len(files), name)
		}
		if err := ctx.Err(); err != nil {
			return LensResult{}, err
		}
		f.look(name)
	}
	result := f.fit()
	found := false
	for _, l := range result.Lenses {
		if l.Profile != nil {
			found = true
			kept = slices.DeleteFunc(kept, func(old lens.Profile) bool { return old.Same(l.Profile.Key) })
			kept = append(kept, *l.Profile)
		}
	}
	if !found {
		return result, nil
	}
	slices.SortFunc(kept, func(a, b lens.Profile) int { return strings.Compare(a.Key.String(), b.Key.String()) })
	return result, store.WriteWhole(filepath.Join(dir, plan.LensesName), reading.JSONWriter(plan.Lenses{Lenses: kept}))
}

// lensPhotos lists photos, by name within each folder.
func lensPhotos(dir string, paths []string) (files []string, err error) {
	if len(paths) == 0 {
		paths = []string{filepath.Join(dir, lensFolder)}
		if _, err := os.Stat(paths[0]); errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s has no folder %s: create it and copy a dozen photos of the card there, or list the photos on the command line", dir, lensFolder)
		}
	}
	for _, at := range paths {
		info, err := os.Stat(at)
		if err != nil {
			return nil, fmt.Errorf("cannot open %s: %w", at, trialdir.PlainCause(err))
		}
		if !info.IsDir() {
			files = append(files, at)
			continue
		}
		err = filepath.WalkDir(at, func(name string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.Type().IsRegular() && !strings.HasPrefix(d.Name(), ".") && (trialdir.NamedLikePhoto(d.Name()) || trialdir.HoldsPicture(name)):
				files = append(files, name)
			}
			return nil
		})
		if err != nil {
			return nil, fmt.Errorf("cannot list %s: %w", at, trialdir.PlainCause(err))
		}
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("there are no photos in %s: copy a dozen photos of the card there", strings.Join(paths, ", "))
	}
	return files, nil
}

// lensSet gathers views of the card by lens.
type lensSet struct {
	shots  []LensShot
	groups []*lensGroup
	seen   map[string]string // first file by its bytes' hash
}

type lensGroup struct {
	key   lens.Key
	views []vision.CardView
	shots []int // of each view
}

// look takes one photo.
func (f *lensSet) look(name string) {
	f.shots = append(f.shots, LensShot{File: name})
	shot := &f.shots[len(f.shots)-1]
	view, err := f.view(name)
	if err != nil {
		concern := concernOf(err)
		shot.Concern = &concern
		return
	}
	shot.Lens = view.Lens.String()
	for _, g := range f.groups {
		if g.key.Same(view.Lens) {
			g.views, g.shots = append(g.views, view), append(g.shots, len(f.shots)-1)
			return
		}
	}
	f.groups = append(f.groups, &lensGroup{view.Lens, []vision.CardView{view}, []int{len(f.shots) - 1}})
}

func (f *lensSet) view(name string) (v vision.CardView, err error) {
	raw, err := vision.ReadFile(name)
	if err != nil {
		return v, err
	}
	sha := trialdir.HashOf(raw)
	if before, twice := f.seen[sha]; twice {
		return v, &vision.Refusal{Kind: reading.SamePhotoTwice, Words: "is the same photo as " + before, Remedy: "take another one from a different direction"}
	}
	f.seen[sha] = name
	photo, err := vision.Decode(raw)
	if err != nil {
		return v, err
	}
	defer photo.Close()
	if v, err = vision.SeeCard(photo); err != nil {
		return v, err
	}
	if !v.Lens.Named() {
		return v, &vision.Refusal{Kind: reading.CameraNotNamed, Words: "does not record its camera and focal length",
			Remedy: "copy the original photo from the phone, because messengers and editors remove these"}
	}
	return v, nil
}

// fit fits each lens.
func (f *lensSet) fit() LensResult {
	r := LensResult{}
	for _, g := range f.groups {
		found := FoundLens{Lens: g.key.String(), Photos: len(g.views)}
		p, odd, err := vision.FitLens(g.views)
		for _, i := range odd {
			f.shots[g.shots[i]].Concern = &reading.Concern{Kind: reading.DoesNotFit, Words: "does not fit the other photos",
				Remedy: "lay the card flat, keep the phone still and take this photo again"}
		}
		if err != nil {
			concern := concernOf(err)
			found.Concern = &concern
		} else {
			found.Profile = &p
		}
		r.Lenses = append(r.Lenses, found)
	}
	r.Shots = f.shots
	return r
}
