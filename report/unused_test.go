package report

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

// Each reason is given once, in words that go on from the photo's name.
func TestUnusedPhotosGiveTheReasonOnce(t *testing.T) {
	refused := func(name string, c ...reading.Concern) reading.Reading {
		return reading.Reading{Photo: name, Concerns: c}
	}
	excluded := testtrial.Reading("c.jpg", 1, "roots", testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 1, 1))
	excluded.Concerns = []reading.Concern{{Kind: reading.ExcludedPhoto, Words: "was excluded", Fatal: true}}
	excluded.Corrections = []correct.Correction{{ID: 1, Who: "Ana", What: correct.Exclude, Why: "the tray was dropped"}}
	list := UnusedPhotos(Collect(testtrial.Plan(), []reading.Reading{
		refused("a.jpg", reading.Concern{Kind: "blurred", Words: "the photo is blurred", Remedy: "take it again", Fatal: true}),
		refused("b.jpg", reading.Concern{Kind: "not a photo", Words: "is not a photo in a known format", Remedy: "remove it", Fatal: true}, reading.Concern{Kind: "tilted", Words: "the camera was tilted by 30°", Bias: "areas too large"}),
		excluded,
		testtrial.Reading("d.jpg", 0, "roots", testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 1, 1)),
	}))
	want := []UnusedPhoto{
		{"a.jpg", "the photo is blurred: take it again"},
		{"b.jpg", "is not a photo in a known format: remove it; the camera was tilted by 30°; areas too large"},
		{"c.jpg", "excluded by Ana: the tray was dropped"},
		{"d.jpg", "no tray tag was found: put the tray’s tag beside the card and take the photo again"},
	}
	if len(list) != len(want) {
		t.Fatalf("%+v, want %+v", list, want)
	}
	for i, w := range want {
		if list[i] != w {
			t.Errorf("%+v, want %+v", list[i], w)
		}
	}
}

// Who reads a published page cannot take a photo again: what to do is left out there, and why the photo was not used stays.
func TestUnusedPhotosInPublic(t *testing.T) {
	trial, _ := CollectPublic(testtrial.Plan(), []reading.Reading{
		{Photo: "a.jpg", SHA256: "0123456789abcdef", Concerns: []reading.Concern{{Kind: "blurred", Words: "the photo is blurred", Remedy: "take it again", Fatal: true}}},
	})
	if list := UnusedPhotos(trial); len(list) != 1 || list[0].Why != "the photo is blurred" {
		t.Errorf("%+v", list)
	}
}

// The doubts that only all photos together raise are published as the others are: with their reason, without what to do, and without the names that photos have at home.
func TestDoubtsOfAllPhotosInPublic(t *testing.T) {
	var plugs []reading.Plug
	for i := range 12 {
		plugs = append(plugs, testtrial.LeafPlug(fmt.Sprintf("A%d", i+1), 100*math.Pow(1.2, float64(i)), 0))
	}
	first := testtrial.Reading("ours/o\u200bne.jpg", 1, reading.Shoots, testtrial.Taken(10, 9, 0), plugs...)
	copied := testtrial.Reading("ours/day 9/two.jpg", 7, reading.Shoots, testtrial.Taken(17, 9, 0), plugs...)
	for _, r := range []*reading.Reading{&first, &copied} {
		r.TakenFrom, r.PlugsAt = reading.FromPhoto, &correct.Corners{{200, 900}, {3800, 900}, {3800, 2800}, {200, 2800}}
	}
	first.SHA256, copied.SHA256 = strings.Repeat("a1", 32), strings.Repeat("b2", 32)
	trial, _ := CollectPublic(testtrial.Plan(), []reading.Reading{first, copied})
	var photos bytes.Buffer
	if err := WritePhotosCSV(&photos, trial); err != nil {
		t.Fatal(err)
	}
	for words, want := range map[string]bool{"looks like the same picture as photo ": true, "its name says day 9": true, "--assign": false, "remove the one": false, "ne.jpg": false} {
		if strings.Contains(photos.String(), words) != want {
			t.Errorf("%q: want %v in\n%s", words, want, photos.String())
		}
	}
}
