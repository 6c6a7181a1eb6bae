package checks_test

import (
	"image"
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/synth"
)

// edited draws a photo, lets edit change the picture, writes it as a JPEG of that quality and measures it.
func edited(t *testing.T, s synth.Spec, quality int, edit func(*image.NRGBA) image.Image) reading.Reading {
	t.Helper()
	img, _, err := synth.Draw(s)
	if err != nil {
		t.Fatal(err)
	}
	return measure.One(asJPEG(t, edit(img), quality), time.Time{}, testtray.Plan(s.Tray, 0), reading.Given{}, nil)
}

// measured draws a scene, writes it as a JPEG and measures that as a user would, with all checks.
func measured(t *testing.T, spec synth.Spec, p *plan.Plan, namesFocal bool) reading.Reading {
	t.Helper()
	raw, _ := testtray.JPEG(t, spec, namesFocal)
	return measure.One(raw, time.Time{}, p, reading.Given{}, nil)
}
