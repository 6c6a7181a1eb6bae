// Package report turns a trial's quantities into what people read: spreadsheet, CSV, printed sheets, and the picture of
// what was counted. CSV, workbook and terminal all print from one Trial through one list of columns, so their numbers
// agree to the last digit.
package report
