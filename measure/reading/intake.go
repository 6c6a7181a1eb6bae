package reading

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// SettleTray settles which tray the photo shows: what was assigned by hand (0: nothing), else the tag in view, else what the
// name of the file or of a folder says.
func (r *Reading) SettleTray(byHand int) {
	r.Concerns = slices.DeleteFunc(r.Concerns, func(c Concern) bool { return AboutTag(c.Kind) })
	if r.TrayFrom == "" && r.Tray > 0 { // a reading from before tags were kept by themselves
		r.Tags = []int{r.Tray}
	}
	r.Tray, r.TrayFrom = 0, ""
	if r.View == "" {
		return // no card, no tray
	}
	named := TrayInName(r.Photo)
	switch {
	case byHand > 0:
		r.Tray, r.TrayFrom = byHand, FromHand
	case len(r.Tags) == 0 && named > 0:
		r.Tray, r.TrayFrom = named, FromName
	case len(r.Tags) == 0:
		r.Doubt(NoTag, "put the tray’s tag face up beside the card and take the photo again; or set the tray with --assign", "no tray tag found")
	case len(r.Tags) > 1 && slices.Contains(r.Tags, named):
		r.Tray, r.TrayFrom = named, FromTag
	case len(r.Tags) > 1:
		r.Tray, r.TrayFrom = r.Tags[0], FromTag
		r.Doubt(SeveralTags, "leave only the tag of this tray in view; or set the tray with --assign",
			"found %d tray tags; the one nearest to the card, tray %d, is used", len(r.Tags), r.Tray)
	default:
		r.Tray, r.TrayFrom = r.Tags[0], FromTag
		if named > 0 && named != r.Tray {
			r.Doubt(TagAgainstName, "check which tray it is, then rename the file or set the tray with --assign",
				"the tag says tray %d but the file name says tray %d; the tag is used", r.Tray, named)
		}
	}
}

// trayWords finds "tray 7", "tray-07", "Tray_7" and the like.
var trayWords = regexp.MustCompile(`(?i)tray[ _.-]?0*([1-9][0-9]{0,3})`)

// TrayInName returns the tray that a photo's name or one of its folders' names, such as day-14/tray-07.jpg, says that it shows; 0
// where none does. The file's own name goes before the folders', a nearer folder before a farther one. A name with
// two trays says nothing.
func TrayInName(photo string) int {
	parts := strings.Split(photo, "/")
	for _, part := range slices.Backward(parts) {
		found := map[int]bool{}
		for _, at := range trayWords.FindAllStringSubmatchIndex(part, -1) {
			before, _ := utf8.DecodeLastRuneInString(part[:at[0]])
			after, _ := utf8.DecodeRuneInString(part[at[1]:])
			if at[0] > 0 && unicode.IsLetter(before) || at[1] < len(part) && (unicode.IsLetter(after) || unicode.IsDigit(after)) {
				continue // "stray-7", "tray7b", "tray-12345"
			}
			n, _ := strconv.Atoi(part[at[2]:at[3]])
			found[n] = true
		}
		if len(found) == 1 {
			for n := range found {
				return n
			}
		}
		if len(found) > 1 {
			return 0
		}
	}
	return 0
}

// Doubt adds a concern that leaves the photo usable.
func (r *Reading) Doubt(kind Kind, remedy, words string, args ...any) {
	r.Concerns = append(r.Concerns, Concern{Kind: kind, Words: fmt.Sprintf(words, args...), Remedy: remedy})
}
