// Package trialdir handles the folder of a trial: the names of its subfolders, its photos, and finding a photo by a name that a user typed.
//
//	in    the path of a trial's folder, and names as people or shells write them
//	out   photos by path, name and SHA-256; the path of a photo's overlay; the part of the photos for one computer
//
// It must not depend on what a photo shows or what was measured in it.
package trialdir
