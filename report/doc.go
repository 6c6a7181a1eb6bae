// Package report turns the quantities of a trial into a Trial, the source of all reports.
//
//	in    a plan and readings
//	out   the Trial, its tables as CSV with their data package, text for a terminal, and what reports share: columns, method, limitations,
//	      cautions, crops of plugs, typical plugs
//
// It must not depend on the page, the workbook or the sheets. Packages html, xlsx and pdf show one Trial through one list of
// columns, so their numbers agree to the last digit.
package report
