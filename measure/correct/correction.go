// Package correct stores corrections to a trial's results: what, who, when and why. A correction is a line in an append-only
// file; undoing one adds another line. Photos are identified by their SHA-256, so a renamed photo keeps its corrections.
//
//	in    corrections.jsonl, a new correction
//	out   the valid corrections of a photo, each checked on its own; invalid lines with the reason
//
// It must not depend on readings or the plan; measure.Corrections checks whether a plug exists.
package correct

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// Kind says what a correction does.
type Kind string

// The kinds of correction.
const (
	Exclude Kind = "exclude" // a plug, or without one the whole photo: values stay in the list, but count nowhere
	Empty   Kind = "empty"   // nothing grows in this plug (roots: no plug is there)
	Planted Kind = "planted" // something does grow there
	Include Kind = "include" // nothing covers this plug: what was measured of it counts
	Move    Kind = "move"    // the plugs lie where Corners says
	Tray    Kind = "tray"    // the photo shows the tray numbered Number
	Day     Kind = "day"     // the photo was taken on day Number after sowing
	Undo    Kind = "undo"    // the correction numbered Undoes no longer counts
)

// Correction is one line of the file.
type Correction struct {
	ID   int       `json:"id"` // 1, 2, 3 … in the order in which they were made
	When time.Time `json:"when"`
	Who  string    `json:"who"` // a name or nickname
	What Kind      `json:"what"`
	Why  string    `json:"why"`

	SHA256  string   `json:"sha256,omitempty"`
	Photo   string   `json:"photo,omitempty"`   // its path below photos/ at the time, for people
	Plug    string   `json:"plug,omitempty"`    // such as B7; "" is the whole photo
	Corners *Corners `json:"corners,omitempty"` // of Move
	Number  int      `json:"number,omitempty"`  // of Tray and Day
	Undoes  int      `json:"undoes,omitempty"`  // of Undo
}

// Corners are the outer corners of the block of plugs' cells in pixels of the upright photo, x to the right and y down from
// the middle of the top left pixel. They go around the tray: of the first row the first and the last plug's, then of the last
// row the last and the first plug's (A1, A10, E10, E1 on a tray of 5 × 10). They lie in the card's plane.
type Corners [4][2]float64

// The longest texts that are taken, in bytes.
const (
	MostWho   = 100
	mostWhy   = 1000
	mostPhoto = 4096
)

var (
	plugName = regexp.MustCompile(`^[A-Z][1-9][0-9]?$`)
	digest   = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// mostID is more corrections than a file of MostBytes holds.
const mostID = 1_000_000

// check tells what is wrong with c, and what would be right.
func (c Correction) check() error {
	switch {
	case c.ID < 1 || c.ID > mostID:
		return fmt.Errorf("%d is not the number of a correction: numbers start at 1", c.ID)
	case c.When.IsZero():
		return errors.New("its time is missing")
	case strings.TrimSpace(c.Who) == "":
		return errors.New("the name is missing: give a name or nickname")
	case strings.TrimSpace(c.Why) == "":
		return errors.New("the reason is missing: give it in a few words")
	case len(c.Who) > MostWho:
		return fmt.Errorf("the name has %d bytes: the limit is %d", len(c.Who), MostWho)
	case len(c.Why) > mostWhy:
		return fmt.Errorf("the reason has %d bytes: the limit is %d", len(c.Why), mostWhy)
	case !utf8.ValidString(c.Who + c.Why + c.Photo):
		return errors.New("its text is not UTF-8")
	}
	if c.What == Undo {
		return c.checkUndo()
	}
	return c.checkPhoto()
}

func (c Correction) checkUndo() error {
	switch {
	case c.Undoes < 1:
		return errors.New("the number of the correction to undo is missing")
	case c.SHA256 != "" || c.Photo != "" || c.Plug != "" || c.Corners != nil || c.Number != 0:
		return errors.New("a line that undoes a correction cannot have a photo, plug, corners or number: remove them")
	}
	return nil
}

func (c Correction) checkPhoto() error {
	switch {
	case !slices.Contains([]Kind{Exclude, Include, Empty, Planted, Move, Tray, Day}, c.What):
		return fmt.Errorf("%q is not a kind of correction: use exclude, include, empty, planted, move, tray, day or undo", c.What)
	case c.Undoes != 0:
		return errors.New("it both undoes and makes a correction: split it into two lines")
	case !digest.MatchString(c.SHA256) || c.Photo == "" || len(c.Photo) > mostPhoto:
		return errors.New("the path or the SHA-256 of its photo is missing")
	case c.Plug != "" && !plugName.MatchString(c.Plug):
		return fmt.Errorf("%q is not the name of a plug: give the row letter and column number, such as B7", c.Plug)
	case c.Plug == "" && (c.What == Empty || c.What == Planted):
		return fmt.Errorf("the plug that is %s is missing", c.What)
	case c.Plug == "" && c.What == Include:
		return errors.New("the plug to include is missing")
	case c.Plug != "" && c.What == Move:
		return errors.New("only a whole grid can be moved: remove the plug")
	case c.Plug != "" && (c.What == Tray || c.What == Day):
		return fmt.Errorf("only a whole photo can have its %s set: remove the plug", c.What)
	case c.What == Tray && (c.Number < 1 || c.Number > mostTray):
		return fmt.Errorf("%d is not a tray number: give 1 to %d", c.Number, mostTray)
	case c.What == Day && (c.Number < 0 || c.Number > mostDay):
		return fmt.Errorf("%d is not a day after sowing: give 0 to %d", c.Number, mostDay)
	case c.What != Tray && c.What != Day && c.Number != 0:
		return errors.New("only the corrections tray and day can have a number")
	case (c.What == Move) != (c.Corners != nil):
		return errors.New("only the correction move can have four corners")
	}
	if c.Corners != nil {
		return c.Corners.check()
	}
	return nil
}

// More than any trial has.
const (
	mostTray = 9999
	mostDay  = 9999
)

// farthestPx is more pixels than any photo has along a side.
const farthestPx = 1e6

func (q Corners) check() error {
	for _, p := range q {
		for _, v := range p {
			if !(math.Abs(v) <= farthestPx) {
				return fmt.Errorf("a corner at %g is outside any photo: give pixels of the upright photo", v)
			}
		}
	}
	return nil
}

// sameAs reports whether two corrections do the same, whoever made them and why.
func (c Correction) sameAs(o Correction) bool {
	return c.What == o.What && c.SHA256 == o.SHA256 && c.Plug == o.Plug && c.Number == o.Number && (c.Corners == nil) == (o.Corners == nil) &&
		(c.Corners == nil || *c.Corners == *o.Corners)
}

// about names what c is about beside photo and plug: of two corrections about the same, the later one counts.
func (c Correction) about() Kind {
	switch c.What {
	case Move, Tray, Day:
		return c.What
	}
	return "state"
}

// Does says in words what c does, without who, when and why: "plug B7 excluded".
func (c Correction) Does() string {
	what := "plug " + c.Plug
	if c.Plug == "" {
		what = "photo"
	}
	switch c.What {
	case Exclude:
		return what + " excluded"
	case Include:
		return what + " included"
	case Empty:
		return what + " marked empty"
	case Planted:
		return what + " marked planted"
	case Move:
		return fmt.Sprintf("grid moved to (%g, %g), (%g, %g), (%g, %g), (%g, %g)", c.Corners[0][0], c.Corners[0][1],
			c.Corners[1][0], c.Corners[1][1], c.Corners[2][0], c.Corners[2][1], c.Corners[3][0], c.Corners[3][1])
	case Tray, Day:
		return fmt.Sprintf("%s set to %d", c.What, c.Number)
	case Undo:
		return fmt.Sprintf("correction %d undone", c.Undoes)
	}
	return string(c.What)
}
