#ifndef TRAYGAUGE_MARKER_H
#define TRAYGAUGE_MARKER_H

#ifdef __cplusplus
extern "C" {
#endif

// Both return NULL, or a message that the caller frees. No exception leaves them.

// Finds DICT_5X5_250 markers in mat, an 8-bit grey cv::Mat. ids takes max_markers ints,
// corners eight floats a marker (x, y from the marker's own top-left corner clockwise).
// Where more than max_quads outlines have four corners, *found is -1 and nothing was looked for; 0: however many.
char *tg_find_markers(void *mat, int min_perimeter_px, int max_quads, int max_markers, int *ids, float *corners, int *found);

// The 25 inner modules of marker id, row by row, first module in the highest bit, 1 = white.
char *tg_marker_code(int id, unsigned *code);

void tg_quiet(void);

// From here on each call into OpenCV works on the thread that makes it.
void tg_one_thread(void);

#ifdef __cplusplus
}
#endif

#endif
