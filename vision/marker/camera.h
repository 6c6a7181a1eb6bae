#ifndef TRAYGAUGE_CAMERA_H
#define TRAYGAUGE_CAMERA_H

#ifdef __cplusplus
extern "C" {
#endif

// Fits one camera to views of flat targets. Returns NULL, or a message that the caller frees. No exception leaves it.
//
// View i has points[i] points, one after the other in plane (two floats a point) and in picture (two floats, px). camera holds f,
// cx, cy, k1, k2, first guesses going in. free_middle and free_k2 tell whether cx, cy and k2 are fitted. turns takes three
// doubles a view, the rotation vector of the target as the camera sees it; misfits the root mean square distance in px of each view.
char *tg_fit_camera(int views, const int *points, const float *plane, const float *picture, int width, int height,
	int free_middle, int free_k2, double *camera, double *turns, double *misfits);

#ifdef __cplusplus
}
#endif

#endif
