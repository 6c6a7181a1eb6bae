package report

const labelCaution = "Follow each product’s label, and never exceed it because a number here looks good. Local rules decide what may be sold, used and claimed."

const claimsCaution = "Fertiliser and pesticide claims are regulated in most places. Have any claims checked before you publish them."

// Cautions for whoever mixes, and for whoever reads results.
var (
	mixingCautions = []string{
		"Follow each product’s label and do not exceed it.",
		"Gloves and eye protection. Add concentrate to water; never mix concentrates with each other.",
		"Keep mains gear dry and behind a residual-current device. Carbon dioxide enrichment needs ventilation and an alarm.",
	}
	resultCautions = []string{
		labelCaution,
		"A published result is one trial under one set of conditions. " + claimsCaution,
	}
	publicCautions = []string{ // for readers, who publish nothing
		labelCaution,
		"This is one trial under one set of conditions, not a claim for any product.",
	}
)

// MixingCautions returns the cautions for whoever mixes.
func MixingCautions() []string { return mixingCautions }

// ResultCautions returns the cautions beside a trial's results: for the readers of a public report, or for whoever may publish one.
func ResultCautions(public bool) []string {
	if public {
		return publicCautions
	}
	return resultCautions
}

// ClaimsCaution is for whoever is about to publish.
func ClaimsCaution() string { return claimsCaution }
