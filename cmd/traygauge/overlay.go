package main

import "traygauge/measure"

// drawOverlay draws what was counted on the photo and writes it where measure.OverlayPath says.
func drawOverlay(dir string, s measure.Seen, r measure.Reading) error { return nil }
