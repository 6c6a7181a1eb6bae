package report

// Cautions that go wherever someone mixes, or reads results.
var (
	mixingCautions = []string{
		"Follow each product’s label and do not exceed it.",
		"Gloves and eye protection. Add concentrate to water; never mix concentrates with each other.",
		"Keep mains gear dry and behind a residual-current device. Carbon dioxide enrichment needs ventilation and an alarm.",
	}
	resultCautions = []string{
		"Follow each product’s label; do not exceed it because a number here looks good. Local rules decide what may be sold, used and claimed.",
		"A published result is one trial under one set of conditions. Fertiliser and pesticide claims are regulated in most places: " +
			"have claims checked before publishing them.",
	}
)

// MixingCautions returns the cautions for whoever mixes.
func MixingCautions() []string { return mixingCautions }

// ResultCautions returns the cautions for whoever reads results.
func ResultCautions() []string { return resultCautions }
