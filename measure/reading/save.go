package reading

import "traygauge/measure/store"

// Save writes a reading where LoadOne finds it.
func Save(dir string, reading Reading) error {
	return store.WriteWhole(Path(dir, reading.SHA256), sealed(reading))
}

// EmptyPlug is a plug of which nothing is measured yet.
func EmptyPlug(name string) Plug {
	return Plug{Name: name, State: Planted, RootAreaMM2: Missing, RootAreaUMM2: Missing, RootCoverPct: Missing, RootLengthMM: Missing,
		RootLengthUMM: Missing, RootBrowningPct: Missing, RootBrownUPct: Missing, PlugAreaMM2: Missing, PlugAreaUMM2: Missing,
		LeafAreaMM2: Missing, LeafAreaUMM2: Missing, ChloroticPct: Missing, ChlorUPct: Missing, LeafHueDeg: Missing, LeafHueUDeg: Missing,
		DGCI: Missing, DGCIU: Missing}
}
