// Package table reads tables of labels and numbers that people bring: comma-, semicolon- or tab-separated text with a header, decimal points or
// decimal commas. It guesses no more than it can be sure of; what it cannot be sure of is an error that names the line.
package table
