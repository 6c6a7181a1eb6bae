package plan

import (
	"cmp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"traygauge/measure/finding"
	"traygauge/measure/plan/yamlfile"
)

// More of these than a trial can use are refused.
const (
	mostTreatments = MaxTray
	mostDoses      = 40
	mostControls   = 20
)

// treatments reads the block of treatments in its order. Whether the controls exist is seen later, when all are known.
func (r *reader) treatments(n *yaml.Node) []Treatment {
	var all []Treatment
	r.Pairs(n, "treatments", func(key, value *yaml.Node) {
		name, ok := r.Label(key, "a treatment’s name", 60)
		if !ok {
			return
		}
		if len(all) == mostTreatments {
			r.Fail(key, "there cannot be more treatments than trays", "more than %d treatments", mostTreatments)
		}
		if len(all) >= mostTreatments {
			return
		}
		t := Treatment{Name: name, Line: key.Line}
		if !yamlfile.IsNull(value) { // `water only:` with nothing after it gets nothing
			r.treatment(value, &t)
		}
		all = append(all, t)
	})
	if n.Kind == yaml.MappingNode && len(n.Content) == 0 {
		r.Fail(n, "add at least two: one to test and its control", "there are no treatments")
	}
	return all
}

// treatment reads one treatment's block into t.
func (r *reader) treatment(n *yaml.Node, t *Treatment) {
	r.Mapping(n, "treatment \""+finding.Short(t.Name)+"\"", map[string]func(*yaml.Node){
		"gets": func(n *yaml.Node) {
			if !yamlfile.IsNull(n) {
				t.Gets = r.doses(n, t.Name)
			}
		},
		"compare_with": func(n *yaml.Node) { t.CompareWith = r.controls(n) },
		"note":         func(n *yaml.Node) { t.Note, _ = r.Text(n, "note", 300) },
	})
}

// controls reads one name or a list of names.
func (r *reader) controls(n *yaml.Node) []string {
	if yamlfile.IsNull(n) {
		return nil
	}
	if n.Kind == yaml.ScalarNode {
		if name, ok := r.Text(n, "compare_with", 60); ok {
			return []string{name}
		}
		return nil
	}
	if len(n.Content) > mostControls {
		r.Fail(n, "list the one or two treatments that differ from it in one thing only", "more than %d controls", mostControls)
		return nil
	}
	var names []string
	r.Items(n, "compare_with", func(item *yaml.Node) {
		name, ok := r.Text(item, "a control’s name", 60)
		if !ok {
			return
		}
		if slices.Contains(names, name) {
			r.Fail(item, "name each control once", "compare_with has %q twice", finding.Short(name))
			return
		}
		names = append(names, name)
	})
	return names
}

// doses reads the list of what a treatment gets. A product may stand there again from a later day: the later strength
// then takes the place of the earlier one.
func (r *reader) doses(n *yaml.Node, treatment string) []Dose {
	if len(n.Content) > mostDoses {
		r.Fail(n, "list only what this treatment gets", "%q gets more than %d products", finding.Short(treatment), mostDoses)
		return nil
	}
	var doses []Dose
	r.Items(n, "gets", func(item *yaml.Node) {
		d := Dose{Line: item.Line}
		if at, err := doseInTwo(item); err != nil {
			r.failDose(at, err)
			return
		}
		at := r.Mapping(item, "a dose", map[string]func(*yaml.Node){
			"product":  func(n *yaml.Node) { d.Product, _ = r.Label(n, "product", 60) },
			"dose":     func(n *yaml.Node) { d.MLPerL, d.Written = r.dose(n), strings.TrimSpace(n.Value) },
			"additive": func(n *yaml.Node) { d.Additive, _ = r.YesNo(n, "additive") },
			"from_day": func(n *yaml.Node) { d.FromDay, _ = r.Whole(n, "from_day", 0, lastDay) },
		})
		if item.Kind != yaml.MappingNode {
			return
		}
		for _, need := range []string{"product", "dose"} {
			if at[need] == nil {
				r.Fail(item, "write {product: seaweed extract, dose: 2 mL/L}", "%q gets something without a %s", finding.Short(treatment), need)
			}
		}
		for _, other := range doses {
			switch {
			case d.Product != "" && d.Product == other.Product && d.FromDay == other.FromDay:
				r.Fail(at["product"], "keep one, or give the second a later from_day",
					"%q gets %q twice from day %d, first on line %d", finding.Short(treatment), finding.Short(d.Product), d.FromDay, other.Line)
				return
			case d.Product != "" && d.Product == other.Product && d.Additive != other.Additive:
				r.Fail(at["product"], "write additive the same on both lines", "%q is an additive on one line and not on line %d", finding.Short(d.Product), other.Line)
				return
			}
		}
		doses = append(doses, d)
	})
	return doses
}

// doseInTwo finds a strength that YAML took apart: in {dose: 2,5 mL/L} the comma ends the entry, and what follows it is one more without a value.
func doseInTwo(item *yaml.Node) (at *yaml.Node, err error) {
	for i := 0; i+3 < len(item.Content); i += 2 {
		name, value, rest, after := item.Content[i], item.Content[i+1], item.Content[i+2], item.Content[i+3]
		if whole := value.Value + "," + rest.Value; name.Value == "dose" && yamlfile.IsNull(after) && commaPattern.MatchString(whole) {
			_, err = ParseDose(whole)
			return value, err
		}
	}
	return nil, nil
}

// dose reads a strength with its unit.
func (r *reader) dose(n *yaml.Node) float64 {
	if n.Kind == yaml.ScalarNode && (n.ShortTag() == "!!int" || n.ShortTag() == "!!float") {
		r.Fail(n, "write 2 mL/L or 7.5 mL/gal", "the dose %s has no unit", finding.Short(n.Value))
		return 0
	}
	s, ok := r.Text(n, "dose", 60)
	if !ok {
		return 0
	}
	v, err := ParseDose(s)
	if err != nil {
		r.failDose(n, err)
		return 0
	}
	return v
}

// failDose reports what ParseDose said of a strength: what is wrong, a colon, and what to do.
func (r *reader) failDose(n *yaml.Node, err error) {
	message, remedy, _ := strings.Cut(err.Error(), ": ")
	r.Fail(n, remedy, "%s", message)
}

// On returns what the treatment gets on a day: of each product the strength with the latest from_day that has come,
// in the plan's order.
func (t *Treatment) On(day int) []Dose {
	var on []Dose
	for _, d := range t.Gets {
		if d.FromDay > day {
			continue
		}
		at := slices.IndexFunc(on, func(o Dose) bool { return o.Product == d.Product })
		switch {
		case at < 0:
			on = append(on, d)
		case cmp.Compare(d.FromDay, on[at].FromDay) > 0:
			on[at] = d
		}
	}
	return on
}
