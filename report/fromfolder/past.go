package fromfolder

import (
	"fmt"
	"io"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/compare/planning"
)

// Variations reads how much trays varied in past trials; without any it is what is usual.
func Variations(past []string, version string, tell io.Writer) ([]planning.Variation, error) {
	var results []*outcome.Result
	for _, dir := range past {
		trial, err := Read(dir, version, tell)
		if err != nil {
			return nil, err
		}
		r, err := trial.Compare(compare.Options{}, tell)
		if err != nil {
			return nil, err
		}
		results = append(results, r)
	}
	if len(past) == 0 {
		return []planning.Variation{planning.UsualVariation}, nil
	}
	variations := planning.PastVariation(results...)
	if len(variations) == 0 {
		fmt.Fprintln(tell, "None of the past trials has two measured trays of one treatment. The usual values are used instead.")
		return []planning.Variation{planning.UsualVariation}, nil
	}
	return variations, nil
}
