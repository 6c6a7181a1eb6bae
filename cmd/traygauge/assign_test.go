package main

import "testing"

// Without --why, the reason saved must be true whether the photo shows no tag or the wrong one: reasons are published.
func TestReasonOfAnAssignment(t *testing.T) {
	list, err := measureOptions{Trays: []string{"tray-03.jpg=7"}, Days: []string{"tray-03.jpg=14"}}.assignments()
	if err != nil || len(list) != 2 {
		t.Fatalf("%+v, %v", list, err)
	}
	for i, want := range []string{"the photo’s own tag is wrong or missing", "the photo’s own date is wrong or missing"} {
		if list[i].Why != want {
			t.Errorf("%v: reason %q, want %q", list[i].What, list[i].Why, want)
		}
	}
	if list, err = (measureOptions{Trays: []string{"a.jpg=7"}, Why: "trays swapped"}).assignments(); err != nil || list[0].Why != "trays swapped" {
		t.Errorf("%+v, %v", list, err)
	}
}
