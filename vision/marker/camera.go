package marker

/*
#include <stdlib.h>
#include "camera.h"
*/
import "C"

import (
	"errors"
	"math"
)

// View is one picture of a flat target: points of its plane and the pixels that show them.
type View struct{ Plane, Picture [][2]float64 }

// Camera is a pinhole with square pixels and radial distortion as OpenCV's calib3d has it: F, CX and CY in px.
type Camera struct{ F, CX, CY, K1, K2 float64 }

// Fitted is what FitCamera says of one view.
type Fitted struct {
	Turn     [3]float64 // the target's rotation vector as the camera sees it, radians
	MisfitPx float64    // root mean square distance of its points
}

// CameraModel says what is fitted beside the focal length and K1; the rest stays as guessed.
type CameraModel struct{ Middle, K2 bool }

// FitCamera fits one camera to views of flat targets in pictures of width × height px (cv::calibrateCamera, after Zhang 2000, IEEE TPAMI
// 22, 1330-1334), starting from guess. Views that do not determine the camera give an error or a camera that is no number;
// views hardly tilted leave the focal length undetermined, which the caller has to see to.
func FitCamera(views []View, width, height int, guess Camera, m CameraModel) (Camera, []Fitted, error) {
	var counts []C.int
	var plane, picture []C.float
	for _, v := range views {
		if len(v.Plane) != len(v.Picture) || len(v.Plane) < 4 {
			return Camera{}, nil, errors.New("marker: a view has fewer than four points, or not a pixel for each")
		}
		counts = append(counts, C.int(len(v.Plane)))
		for i := range v.Plane {
			plane = append(plane, C.float(v.Plane[i][0]), C.float(v.Plane[i][1]))
			picture = append(picture, C.float(v.Picture[i][0]), C.float(v.Picture[i][1]))
		}
	}
	if len(views) == 0 || width < 1 || height < 1 || !(guess.F > 0) {
		return Camera{}, nil, errors.New("marker: nothing to fit a camera to")
	}
	camera := [5]C.double{C.double(guess.F), C.double(guess.CX), C.double(guess.CY), C.double(guess.K1), C.double(guess.K2)}
	turns, misfits := make([]C.double, 3*len(views)), make([]C.double, len(views))
	msg := C.tg_fit_camera(C.int(len(views)), &counts[0], &plane[0], &picture[0], C.int(width), C.int(height),
		truth(m.Middle), truth(m.K2), &camera[0], &turns[0], &misfits[0])
	if err := takeMessage(msg); err != nil {
		return Camera{}, nil, err
	}
	got := Camera{float64(camera[0]), float64(camera[1]), float64(camera[2]), float64(camera[3]), float64(camera[4])}
	if sum := got.F + got.CX + got.CY + got.K1 + got.K2; math.IsNaN(sum) || math.IsInf(sum, 0) || !(got.F > 0) {
		return Camera{}, nil, errors.New("marker: the views do not determine a camera")
	}
	fitted := make([]Fitted, len(views))
	for i := range fitted {
		for k := range fitted[i].Turn {
			fitted[i].Turn[k] = float64(turns[3*i+k])
		}
		fitted[i].MisfitPx = float64(misfits[i])
	}
	return got, fitted, nil
}

func truth(yes bool) C.int {
	if yes {
		return 1
	}
	return 0
}
