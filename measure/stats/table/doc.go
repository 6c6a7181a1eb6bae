// Package table reads tables of labels and numbers that people bring, and compares their groups. It guesses no more than it can be sure of.
//
//	in    comma-, semicolon- or tab-separated text with a header, decimal points or decimal commas
//	out   rows; what the statistics find in them; notes for their reader. What is not sure is an error that names the line
//
// It must not know trials or photos.
package table
