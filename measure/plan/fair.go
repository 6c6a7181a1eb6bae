package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"traygauge/measure/finding"
	"traygauge/measure/plan/yamlfile"
)

// crossCheck checks what needs more than one part of the plan: names that have to exist, fair controls, replication.
func (r *reader) crossCheck(p *Plan, at yamlfile.Keys, treatments, trays *yaml.Node) {
	if treatments == nil || treatments.Kind != yaml.MappingNode {
		return
	}
	lines := controlLines(treatments)
	r.controlsExist(p, lines)
	r.noCycle(p, lines)
	r.traysExist(p)
	if finding.HasErrors(r.Found) {
		return // what follows would repeat in other words what is already an error
	}
	for i := range p.Treatments {
		r.fair(p, &p.Treatments[i], lines)
		r.additiveAlone(p, &p.Treatments[i])
	}
	r.baseline(p, at, treatments)
	r.spelling(p)
	r.fromDays(p)
	r.replication(p, at.Line("trays", trays))
	r.drawnPlaces(p, at.Line("places_seed", trays))
}

// place is where a control is named.
type place struct{ treatment, control string }

// controlLines finds where each control is named in the block of treatments.
func controlLines(treatments *yaml.Node) map[place]*yaml.Node {
	lines := map[place]*yaml.Node{}
	for i := 0; i+1 < len(treatments.Content); i += 2 {
		name, block := strings.TrimSpace(treatments.Content[i].Value), treatments.Content[i+1]
		if block.Kind != yaml.MappingNode {
			continue
		}
		for j := 0; j+1 < len(block.Content); j += 2 {
			if value := block.Content[j+1]; block.Content[j].Value == "compare_with" {
				for _, n := range append([]*yaml.Node{value}, value.Content...) {
					lines[place{name, strings.TrimSpace(n.Value)}] = n
				}
			}
		}
	}
	return lines
}

// failAt adds an error where t names control.
func (r *reader) failAt(lines map[place]*yaml.Node, t *Treatment, control, remedy, format string, args ...any) {
	if n := lines[place{t.Name, control}]; n != nil {
		r.Fail(n, remedy, format, args...)
		return
	}
	r.Add(finding.Error, t.Line, 0, fmt.Sprintf(format, args...), remedy)
}

func (r *reader) controlsExist(p *Plan, lines map[place]*yaml.Node) {
	for i := range p.Treatments {
		t := &p.Treatments[i]
		for _, c := range t.CompareWith {
			if r.Full() { // looking for what was meant takes time
				return
			}
			switch {
			case c == t.Name:
				r.failAt(lines, t, c, "choose another treatment as its control", "%q is compared with itself", finding.Short(c))
			case p.Treatment(c) == nil:
				r.failAt(lines, t, c, finding.Suggest(c, without(p.names(), t.Name)), "%q is compared with %q, which is not among the treatments", finding.Short(t.Name), finding.Short(c))
			}
		}
	}
}

// noCycle follows each treatment's controls; coming back to where it has been on this way is an error, told once.
func (r *reader) noCycle(p *Plan, lines map[place]*yaml.Node) {
	const onTheWay, done = 1, 2
	state := map[string]int{}
	var visit func(t *Treatment, way []string)
	visit = func(t *Treatment, way []string) {
		state[t.Name] = onTheWay
		way = append(way, t.Name)
		for _, c := range t.CompareWith {
			next := p.Treatment(c)
			if next == nil || c == t.Name {
				continue
			}
			switch state[c] {
			case onTheWay:
				circle := append(slices.Clone(way[slices.Index(way, c):]), c)
				r.failAt(lines, t, c, "remove compare_with from the simplest of them",
					"the controls form a circle: %s", strings.Join(circle, " → "))
			case 0:
				visit(next, way)
			}
		}
		state[t.Name] = done
	}
	for i := range p.Treatments {
		if t := &p.Treatments[i]; state[t.Name] == 0 {
			visit(t, nil)
		}
	}
}

func (r *reader) traysExist(p *Plan) {
	for _, t := range p.Trays {
		if t.Treatment != "" && p.Treatment(t.Treatment) == nil {
			r.Add(finding.Error, t.Line, 0, fmt.Sprintf("tray %d gets %q, which is not among the treatments", t.Number, finding.Short(t.Treatment)),
				finding.Suggest(t.Treatment, p.names()))
		}
	}
}

// differences returns in what the two treatments differ: one line of words for each product that only one of them gets, or
// that they get at different strengths or from different days.
func differences(t, control *Treatment) []string {
	var d []string
	for _, product := range products(t, control) {
		a, b := t.doses(product), control.doses(product)
		switch {
		case len(b) == 0:
			d = append(d, product+" "+strength(a))
		case len(a) == 0:
			d = append(d, "no "+product)
		case !sameDoses(a, b):
			d = append(d, product+" "+strength(a)+" against "+strength(b))
		}
	}
	return d
}

// products returns the names of all that at least one of ts gets, each once, in the order met.
func products(ts ...*Treatment) []string {
	var names []string
	for _, t := range ts {
		for _, d := range t.Gets {
			if !slices.Contains(names, d.Product) {
				names = append(names, d.Product)
			}
		}
	}
	return names
}

// doses returns the strengths of product in the order of their first days.
func (t *Treatment) doses(product string) []Dose {
	var ds []Dose
	for _, d := range t.Gets {
		if d.Product == product {
			ds = append(ds, d)
		}
	}
	slices.SortStableFunc(ds, func(a, b Dose) int { return a.FromDay - b.FromDay })
	return ds
}

func sameDoses(a, b []Dose) bool {
	return slices.EqualFunc(a, b, func(x, y Dose) bool {
		// 7.5 mL/gal and 1.98 mL/L are the same spoonful: doses closer than 1 % are one.
		return x.FromDay == y.FromDay && math.Abs(x.MLPerL-y.MLPerL) <= 0.01*max(x.MLPerL, y.MLPerL)
	})
}

// strength puts the doses of one product into words.
func strength(ds []Dose) string {
	parts := make([]string, len(ds))
	for i, d := range ds {
		parts[i] = d.Words()
		if d.FromDay > 0 {
			parts[i] += fmt.Sprintf(" from day %d", d.FromDay)
		}
	}
	return strings.Join(parts, ", ")
}

// fair warns of a control that differs from t in nothing or in more than one thing: what then made the difference cannot
// be separated.
func (r *reader) fair(p *Plan, t *Treatment, lines map[place]*yaml.Node) {
	if len(t.CompareWith) == 0 && len(t.Gets) > 0 {
		r.Warn(t.Line, "add compare_with and name the treatment that differs from it in one thing only", "%q has no control", finding.Short(t.Name))
	}
	for _, name := range t.CompareWith {
		line := t.Line
		if n := lines[place{t.Name, name}]; n != nil {
			line = n.Line
		}
		switch d := differences(t, p.Treatment(name)); {
		case len(d) == 0:
			r.Warn(line, "correct what one of them gets, or give all their trays the same treatment", "%q gets the same as its control %q", finding.Short(t.Name), finding.Short(name))
		case len(d) > 1:
			r.Warn(line, "compare it with a treatment that lacks only one of these",
				"%q differs from its control %q in %d things (%s), so the trial cannot show which of them made a difference",
				finding.Short(t.Name), finding.Short(name), len(d), strings.Join(d, "; "))
		}
	}
}

// additiveAlone warns of a product that is given with an additive and not compared with the additive alone: the growth may
// then be the additive's doing.
//
// A treatment that others use as their additive-only control is none of these, whatever base feed it also gets.
func (r *reader) additiveAlone(p *Plan, t *Treatment) {
	additives, others := t.additives()
	if len(additives) == 0 || len(others) == 0 {
		return
	}
	lacksOne := func(c *Treatment) bool {
		return c != nil && slices.ContainsFunc(others, func(product string) bool { return isWithout(c, t, product) })
	}
	if slices.ContainsFunc(t.CompareWith, func(name string) bool { return lacksOne(p.Treatment(name)) }) || p.isAdditiveControl(t) {
		return
	}
	remedy := "add a treatment with trays that gets everything except the product, and name it in compare_with"
	for i := range p.Treatments {
		if c := &p.Treatments[i]; c != t && lacksOne(c) {
			remedy = fmt.Sprintf("add %q to its compare_with", finding.Short(c.Name))
			break
		}
	}
	r.Warn(t.Line, remedy, "%q gets %s together with the additive %s, but no control gets the additive alone",
		finding.Short(t.Name), strings.Join(others, " and "), strings.Join(additives, " and "))
}

// additives returns the names of t's additives and of its other products.
func (t *Treatment) additives() (additives, others []string) {
	for _, product := range products(t) {
		if t.doses(product)[0].Additive {
			additives = append(additives, product)
		} else {
			others = append(others, product)
		}
	}
	return additives, others
}

// isWithout reports whether c gets all that t gets but product.
func isWithout(c, t *Treatment, product string) bool {
	for _, name := range products(c, t) {
		a, b := c.doses(name), t.doses(name)
		if name == product && len(a) > 0 || name != product && !sameDoses(a, b) {
			return false
		}
	}
	return true
}

// isAdditiveControl reports whether a treatment that is compared with t gets one product more than t.
func (p *Plan) isAdditiveControl(t *Treatment) bool {
	return slices.ContainsFunc(p.Treatments, func(o Treatment) bool {
		_, others := o.additives()
		return slices.Contains(o.CompareWith, t.Name) &&
			slices.ContainsFunc(others, func(product string) bool { return len(o.doses(product)) > 0 && isWithout(t, &o, product) })
	})
}

func (r *reader) baseline(p *Plan, at yamlfile.Keys, treatments *yaml.Node) {
	if !slices.ContainsFunc(p.Treatments, func(t Treatment) bool { return len(t.Gets) == 0 }) {
		r.Warn(at.Line("treatments", treatments), "add a treatment with `gets: []` and give it a tray",
			"no treatment gets water only, so the trial cannot show whether any product is better than none")
	}
}

// spelling warns of names that differ in capitals or spaces only: two products where one was meant.
func (r *reader) spelling(p *Plan) {
	seen := map[string]string{}
	check := func(name, what string, line int) {
		plain := what + strings.ToLower(strings.Join(strings.Fields(name), ""))
		if other, ok := seen[plain]; ok && other != name {
			r.Warn(line, "spell it the same way everywhere", "%s %q is also spelled %q, which counts as a different one", what, finding.Short(name), finding.Short(other))
			return
		}
		seen[plain] = name
	}
	for _, t := range p.Treatments {
		check(t.Name, "treatment", t.Line)
		for _, d := range t.Gets {
			check(d.Product, "product", d.Line)
		}
	}
}

// fromDays warns of a product that is never given: its first day is after the last feeding.
func (r *reader) fromDays(p *Plan) {
	if len(p.FeedDays) == 0 {
		return
	}
	last := p.FeedDays[len(p.FeedDays)-1]
	for _, t := range p.Treatments {
		for _, d := range t.Gets {
			if d.FromDay > last {
				r.Warn(d.Line, "give it an earlier from_day or add feeding days",
					"%q would get %s from day %d, but the last feeding is on day %d", finding.Short(t.Name), d.Product, d.FromDay, last)
			}
		}
	}
}

// replication says what one tray per treatment cannot show, and which trays have no place.
func (r *reader) replication(p *Plan, line int) {
	var single, none []string
	for _, t := range p.Treatments {
		switch len(p.TraysOf(t.Name)) {
		case 0:
			none = append(none, t.Name)
			r.Warn(t.Line, "give it a tray or remove it", "no tray gets %q", finding.Short(t.Name))
		case 1:
			single = append(single, t.Name)
		}
	}
	const remedy = "give each treatment at least two trays, or take the result only as a hint"
	const why = "plugs in one tray are not replicates, because they share the same water, place under the lamp and accidents"
	switch {
	case len(single) == 0:
	case len(single)+len(none) == len(p.Treatments):
		r.Warn(line, remedy, "every treatment has only one tray: %s", why)
	default:
		r.Warn(line, remedy, "only one tray for %s: %s", finding.Quoted(single), why)
	}
	var unplaced []string
	for _, t := range p.Trays {
		if t.Position == 0 && (t.Row == 0 || t.Column == 0) {
			unplaced = append(unplaced, fmt.Sprint(t.Number))
		}
	}
	if len(unplaced) > 0 {
		r.Warn(line, "`traygauge check --draw-places` assigns positions at random", "these trays have no position on the bench: %s", strings.Join(unplaced, ", "))
	}
}

func without(names []string, name string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == name })
}
