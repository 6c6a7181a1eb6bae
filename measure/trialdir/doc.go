// Package trialdir is a trial's folder: what its folders are called, which photos are in it, and what a photo named by hand means.
//
//	in    the path of a trial's folder, and names as people or shells write them
//	out   photos by path, name and SHA-256; where a photo's overlay lies; which part of the photos is one computer's
//
// It must not know what is in a photo, nor what was measured of it.
package trialdir
