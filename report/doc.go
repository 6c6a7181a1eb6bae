// Package report turns a trial's quantities into a Trial, from which everything that people read is made.
//
// In come a plan and readings; out go the Trial, its tables as CSV with their data package, words for a terminal, and what the
// rooms share: columns, method, limits, cautions, crops of plugs, typical plugs. It must not know a page, a workbook or paper:
// html, xlsx and pdf do, and show one Trial through one list of columns, so that their numbers agree to the last digit.
package report
