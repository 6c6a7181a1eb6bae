package checks_test

import (
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
	"traygauge/vision/synth"
)

// measured draws a scene, writes it as a JPEG and measures that as a user would, with all checks.
func measured(t *testing.T, spec synth.Spec, p *plan.Plan, namesFocal bool) reading.Reading {
	t.Helper()
	raw, _ := testtray.JPEG(t, spec, namesFocal)
	return measure.One(raw, time.Time{}, p, reading.Given{}, nil)
}
