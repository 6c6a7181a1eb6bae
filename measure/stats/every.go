package stats

import "fmt"

// Procedures are all procedures on one scale, for whoever wants to see what another choice would have said. What could not be done is nil, and
// Undefined says why.
type Procedures struct {
	Dunnett        *Comparisons      `json:"dunnett"`
	WelchToControl *Comparisons      `json:"welch_to_control"`
	RanksToControl *Comparisons      `json:"ranks_to_control"`
	Tukey          *Comparisons      `json:"tukey"`
	GamesHowell    *Comparisons      `json:"games_howell"`
	RankPairs      *Comparisons      `json:"rank_pairs"`
	PairwiseT      []PairP           `json:"pairwise_t_pooled"`
	PairwiseWelch  []PairP           `json:"pairwise_t_welch"`
	Fieller        []MeanRatio       `json:"fieller_ratio_unadjusted"` // of values, not of logarithms
	Undefined      map[string]string `json:"undefined"`
}

// pairsUpTo is how many groups Every compares pair by pair: 435 pairs.
const pairsUpTo = 30

// Every runs all procedures on groups as they are; values have to pass Compare first.
func Every(groups []Group, o Options) Procedures {
	p := Procedures{Undefined: map[string]string{}}
	if o.Level == 0 {
		o.Level = 0.95
	}
	set := func(name string, to **Comparisons) func(Comparisons, error) {
		return func(c Comparisons, err error) {
			if err != nil {
				p.Undefined[name] = err.Error()
				return
			}
			*to = &c
		}
	}
	if o.Control != "" {
		set("dunnett", &p.Dunnett)(dunnett(groups, o.Control, o.Level))
		set("welch_to_control", &p.WelchToControl)(welchToControl(groups, o.Control, o.Level))
		set("ranks_to_control", &p.RanksToControl)(RanksToControl(groups, o.Control, o.Level))
	} else {
		p.Undefined["to_control"] = "no control was given"
	}
	if len(groups) > pairsUpTo {
		p.Undefined["pairs"] = fmt.Sprintf("%d groups have too many pairs to list; give a control, or leave groups out", len(groups))
		return p
	}
	set("tukey", &p.Tukey)(tukeyKramer(groups, o.Level))
	set("games_howell", &p.GamesHowell)(gamesHowell(groups, o.Level))
	set("rank_pairs", &p.RankPairs)(RankPairs(groups, o.Level))
	var err error
	if p.PairwiseT, err = pairwiseT(groups, false); err != nil {
		p.Undefined["pairwise_t_pooled"] = err.Error()
	}
	if p.PairwiseWelch, err = pairwiseT(groups, true); err != nil {
		p.Undefined["pairwise_t_welch"] = err.Error()
	}
	return p
}
