package terminal

import (
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/report"
)

// Measured is what `measure --json` prints.
type Measured struct {
	Photos   []photoVerdict         `json:"photos"`
	Trays    []map[string]any       `json:"trays"` // by the columns of trays.csv
	Concerns []reading.TrialConcern `json:"concerns"`
	Skipped  []trialdir.Skipped     `json:"skipped"`
	Measured int                    `json:"measured"`
	Kept     int                    `json:"kept"`
}

type photoVerdict struct {
	Photo    string          `json:"photo"`
	Verdict  reading.Verdict `json:"verdict"`
	Tray     int             `json:"tray,omitempty"`
	Day      *int            `json:"day"` // null: not known
	View     reading.View    `json:"view,omitempty"`
	TrayFrom reading.Source  `json:"trayfrom,omitempty"`  // "tag", "name" or "hand"
	Taken    *time.Time      `json:"taken"`               // null: not known
	From     reading.Source  `json:"takenfrom,omitempty"` // "photo", "file" or "hand"

	PxPerMM       reading.Number `json:"px_per_mm"`
	MTF50PerMM    reading.Number `json:"mtf50_per_mm"`
	TiltDeg       reading.Number `json:"tilt_deg"`
	ResidualMM    reading.Number `json:"residual_mm"`
	PaperLightPct reading.Number `json:"paper_light_pct"`
	ClippedPct    reading.Number `json:"clipped_pct"`

	Concerns []reading.Concern `json:"concerns"`
}

// MeasuredOf gathers what `measure --json` prints. Lists are never null.
func MeasuredOf(p *plan.Plan, result measure.Result, t *report.Trial) Measured {
	m := Measured{
		Photos: []photoVerdict{}, Trays: report.TrayRecords(t), Measured: result.Measured, Kept: result.Reused,
		Concerns: append([]reading.TrialConcern{}, result.Concerns...), Skipped: append([]trialdir.Skipped{}, result.Skipped...),
	}
	for _, r := range result.Readings {
		v := photoVerdict{Photo: r.Photo, Verdict: r.Verdict(), Tray: r.Tray, View: r.View, Concerns: append([]reading.Concern{}, r.Concerns...),
			TrayFrom: r.TrayFrom, From: r.TakenFrom, PxPerMM: r.PxPerMM, MTF50PerMM: r.MTF50PerMM, TiltDeg: r.TiltDeg,
			ResidualMM: r.ResidualMM, PaperLightPct: r.PaperLightPct, ClippedPct: r.ClippedPct}
		if !r.Taken.IsZero() {
			day := p.DayOf(r.Taken)
			v.Day, v.Taken = &day, &r.Taken
		}
		m.Photos = append(m.Photos, v)
	}
	return m
}
