package correct

// List is all that was corrected in a trial, with what undid it.
type List struct {
	Corrections []Listed `json:"corrections"`
	Problems    []string `json:"problems"` // lines that do not count
}

// Listed is a correction and the number of the one that undid it, if there is one.
type Listed struct {
	Correction
	UndoneBy int `json:"undone_by,omitempty"`
}

// List lists the corrections in the order in which they were made. Its lists are never nil.
func (l Log) List() List {
	list := List{Corrections: []Listed{}, Problems: []string{}}
	for _, c := range l.Made {
		list.Corrections = append(list.Corrections, Listed{c, l.UndoneBy(c.ID)})
	}
	for _, p := range l.Problems {
		list.Problems = append(list.Problems, p.Error())
	}
	return list
}
