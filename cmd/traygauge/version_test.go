package main

import (
	"regexp"
	"testing"
)

func TestVersionTellsProgramsApart(t *testing.T) {
	digest := func() string { return "0123456789ab" }
	for version, want := range map[string]string{
		"v1.2.0":                                   "v1.2.0",
		"v0.0.0-20260302101500-0123456789ab":       "v0.0.0-20260302101500-0123456789ab",
		"v0.0.0-20260302101500-0123456789ab+dirty": "v0.0.0-20260302101500-0123456789ab+dirty 0123456789ab",
		"0~20260302.0123456":                       "0~20260302.0123456",
		"0~20260302.0123456+changed":               "0~20260302.0123456+changed 0123456789ab",
		"(devel)":                                  "(devel) 0123456789ab",
	} {
		if got := named(version, digest); got != want {
			t.Errorf("%s: %q, want %q", version, got, want)
		}
	}
	if got := programDigest(); !regexp.MustCompile(`^[0-9a-f]{12}$`).MatchString(got) {
		t.Errorf("this program's digest is %q", got)
	}
}
