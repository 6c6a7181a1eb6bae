package wording

import "testing"

func TestListsInWords(t *testing.T) {
	for _, c := range [][2]string{
		{Counted(1, "plug was", "plugs were"), "1 plug was"},
		{Counted(0, "plug was", "plugs were"), "0 plugs were"},
		{List(nil), ""},
		{List([]string{"a"}), "a"},
		{List([]string{"a", "b", "c"}), "a, b and c"},
		{First([]string{"a", "b"}, 2), "a, b"},
		{First([]string{"a", "b", "c", "d"}, 2), "a, b and 2 more"},
		{Trays(nil), "no tray"},
		{Trays([]int{7}), "tray 7"},
		{Trays([]int{7, 3, 5}), "trays 3, 5 and 7"},
		{TraysDo([]int{3}, "is", "are"), "tray 3 is"},
		{TraysDo([]int{5, 3}, "is", "are"), "trays 3 and 5 are"},
		{Days([]int{17, 10}), "days 10 and 17"},
		{Upper("élan"), "Élan"},
		{Upper(""), ""},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
}

// U+202E turns the reading direction, U+001B begins a terminal's command, 0xff is no UTF-8.
func TestNamesThatDoNoHarm(t *testing.T) {
	for _, c := range [][2]string{
		{Printable("kale 5 °C"), "kale 5 °C"},
		{Printable("a\u202eb\x1b[2Jc\xff"), "a?b?[2Jc?"},
		{Printable("a\x1b[31m\nb\u202egpj.\u0085\xff Grünkohl 芥蓝"), "a?[31m?b?gpj.?? Grünkohl 芥蓝"},
		{Shown("día 1.jpg"), "día 1.jpg"},
		{Shown("a\u202eb"), `"a\u202eb"`},
		{Shown("a\xffb"), `"a\xffb"`},
		{OneLine(" late,\n\tit rained\u202e "), "late, it rained"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
	for text, want := range map[string]bool{"=1": true, " =1": true, "\t=1": true, "＝1": true, "@a": true, "-5 °C": true, "a=1": false, "'=1": false, "": false} {
		if FormulaLike(text) != want {
			t.Errorf("%q: %v", text, !want)
		}
	}
}
