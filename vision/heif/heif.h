#ifndef TRAYGAUGE_HEIF_H
#define TRAYGAUGE_HEIF_H

#include <stddef.h>
#include <stdint.h>

/* What is known of an opened picture before it is decoded. */
typedef struct {
	int width, height;
	int primaries, transfer; /* of the nclx box, ITU-T H.273; 0 where there is none */
	size_t icc_size;
} tg_heif_about;

/* Each returns NULL, or a message that the caller frees. */
char *tg_heif_load(void);
char *tg_heif_open(const void *data, size_t size, void **opened, tg_heif_about *about);
char *tg_heif_icc(void *opened, void *out);
char *tg_heif_decode(void *opened, uint8_t *bgr, int width, int height);

void tg_heif_close(void *opened);

#endif
