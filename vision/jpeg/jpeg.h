#ifndef TRAYGAUGE_JPEG_H
#define TRAYGAUGE_JPEG_H

#include <stddef.h>

/* As many bytes as libjpeg's longest message takes. */
enum { TG_JPEG_ROOM = 200 };

/* A picture of 4 bytes a pixel, red, green and blue first, row by row. */
typedef struct {
	const unsigned char *rgba;
	int height;
} tg_picture;

/* Both return NULL, or a message that the caller frees. */

/* Decodes a file of width × height pixels into as many of 3 bytes each, blue, green and red. warning is TG_JPEG_ROOM bytes and takes the first word of damage
 * that was gone over; it is empty for none. */
char *tg_jpeg_decode(const unsigned char *file, size_t bytes, int width, int height, unsigned char *bgr, char *warning);

/* Encodes pictures of one width, one below the other. The caller frees the file. */
char *tg_jpeg_encode(const tg_picture *pictures, int n, int width, int quality, unsigned char **file, size_t *bytes);

#endif
