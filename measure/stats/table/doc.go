// Package table reads users' tables of labels and numbers, and compares their groups. It does not guess.
//
//	in    comma-, semicolon- or tab-separated text with a header, decimal points or decimal commas
//	out   rows, comparisons and notes for the reader; anything ambiguous is an error with its line number
//
// It must not depend on trials or photos.
package table
