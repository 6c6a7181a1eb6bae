package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"traygauge/measure"
	"traygauge/measure/correct"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
)

// assignments reads what --assign and --assign-day say.
func (o measureOptions) assignments() ([]measure.Assignment, error) {
	var list []measure.Assignment
	add := func(flag string, what correct.Kind, texts []string, why string) error {
		for _, text := range texts {
			at := strings.LastIndexByte(text, '=') // a photo's name may hold one
			n, err := strconv.Atoi(strings.TrimSpace(text[at+1:]))
			if at < 1 || err != nil {
				return fmt.Errorf("--%s %s: give a photo and a number, such as IMG_0412.HEIC=7", flag, wording.Shown(text))
			}
			if o.Why != "" {
				why = o.Why
			}
			list = append(list, measure.Assignment{Photo: text[:at], What: what, Number: n, Who: o.who(), Why: why})
		}
		return nil
	}
	if err := add("assign", correct.Tray, o.Trays, "the photo’s own tag is wrong or missing"); err != nil {
		return nil, err
	}
	if err := add("assign-day", correct.Day, o.Days, "the photo’s own date is wrong or missing"); err != nil {
		return nil, err
	}
	return list, nil
}

// who returns the name for assignments: --who, or this computer's user.
func (o measureOptions) who() string {
	if o.Who != "" {
		return o.Who
	}
	if name := userName(); name != "" {
		return name
	}
	return "an unnamed user at the command line"
}

// completeFolder completes the trial's folder with folders only.
func completeFolder(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return nil, cobra.ShellCompDirectiveFilterDirs
}

// completePhoto completes --assign with the names of the trial's photos.
func completePhoto(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) != 1 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var names []string
	for _, name := range trialdir.PhotoNames(args[0]) {
		names = append(names, name+"=")
	}
	return names, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}
