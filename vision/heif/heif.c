#include "heif.h"

#include <dlfcn.h>
#include <stdlib.h>
#include <string.h>

/* The few pieces of libheif's binary interface that are used. They have stood since version 1.7; the library is opened when
 * the first HEIC file comes, so that the program builds and runs without it. */

typedef struct {
	int code, subcode;
	const char *message;
} heif_error;

typedef struct {
	uint8_t version, ignore_transformations;
	void (*start_progress)(int, int, void *);
	void (*on_progress)(int, int, void *);
	void (*end_progress)(int, void *);
	void *progress_user_data;
	uint8_t convert_hdr_to_8bit; /* version 2 */
	uint8_t strict_decoding;     /* version 3 */
} heif_decoding_options;

typedef struct {
	uint8_t version;
	int color_primaries, transfer_characteristics, matrix_coefficients;
	uint8_t full_range_flag;
} heif_nclx;

enum { HEVC = 1, COLORSPACE_RGB = 1, INTERLEAVED_RGB = 10, CHANNEL_INTERLEAVED = 10 };

static struct {
	heif_error (*init)(void *);
	int (*have_decoder)(int);
	void *(*context_alloc)(void);
	void (*context_free)(void *);
	heif_error (*read)(void *, const void *, size_t, const void *);
	heif_error (*primary)(void *, void **);
	void (*handle_release)(const void *);
	int (*handle_width)(const void *);
	int (*handle_height)(const void *);
	size_t (*icc_size)(const void *);
	heif_error (*icc)(const void *, void *);
	heif_error (*nclx)(const void *, heif_nclx **);
	void (*nclx_free)(heif_nclx *);
	heif_decoding_options *(*options_alloc)(void);
	void (*options_free)(heif_decoding_options *);
	heif_error (*decode)(const void *, void **, int, int, const heif_decoding_options *);
	int (*image_width)(const void *, int);
	int (*image_height)(const void *, int);
	const uint8_t *(*plane)(const void *, int, int *);
	void (*image_release)(const void *);
} lib;

static char *words(heif_error e) { return strdup(e.message && *e.message ? e.message : "no reason given"); }

char *tg_heif_load(void) {
	void *so = dlopen("libheif.so.1", RTLD_NOW | RTLD_LOCAL);
	if (!so) so = dlopen("libheif.1.dylib", RTLD_NOW | RTLD_LOCAL);
	if (!so) return strdup("libheif is not installed");
	const struct {
		void *at;
		const char *name;
	} needed[] = {
		{&lib.have_decoder, "heif_have_decoder_for_format"},
		{&lib.context_alloc, "heif_context_alloc"},
		{&lib.context_free, "heif_context_free"},
		{&lib.read, "heif_context_read_from_memory_without_copy"},
		{&lib.primary, "heif_context_get_primary_image_handle"},
		{&lib.handle_release, "heif_image_handle_release"},
		{&lib.handle_width, "heif_image_handle_get_width"},
		{&lib.handle_height, "heif_image_handle_get_height"},
		{&lib.icc_size, "heif_image_handle_get_raw_color_profile_size"},
		{&lib.icc, "heif_image_handle_get_raw_color_profile"},
		{&lib.nclx, "heif_image_handle_get_nclx_color_profile"},
		{&lib.nclx_free, "heif_nclx_color_profile_free"},
		{&lib.options_alloc, "heif_decoding_options_alloc"},
		{&lib.options_free, "heif_decoding_options_free"},
		{&lib.decode, "heif_decode_image"},
		{&lib.image_width, "heif_image_get_width"},
		{&lib.image_height, "heif_image_get_height"},
		{&lib.plane, "heif_image_get_plane_readonly"},
		{&lib.image_release, "heif_image_release"},
	};
	for (size_t i = 0; i < sizeof needed / sizeof *needed; i++) {
		void *symbol = dlsym(so, needed[i].name);
		if (!symbol) {
			dlclose(so);
			return strdup("the installed libheif is too old");
		}
		memcpy(needed[i].at, &symbol, sizeof symbol);
	}
	void *init = dlsym(so, "heif_init"); /* since 1.13: it loads decoders that are packaged by themselves */
	if (init) {
		memcpy(&lib.init, &init, sizeof init);
		heif_error e = lib.init(NULL);
		if (e.code) return words(e);
	}
	if (!lib.have_decoder(HEVC)) return strdup("libheif is installed without its HEVC decoder");
	return NULL;
}

typedef struct {
	void *context, *handle;
} opened_file;

char *tg_heif_open(const void *data, size_t size, void **opened, tg_heif_about *about) {
	memset(about, 0, sizeof *about);
	*opened = NULL;
	if (!data || size < 12) return strdup("the file is too short");
	opened_file *o = calloc(1, sizeof *o);
	if (!o) return strdup("out of memory");
	o->context = lib.context_alloc();
	if (!o->context) {
		free(o);
		return strdup("out of memory");
	}
	heif_error e = lib.read(o->context, data, size, NULL);
	if (!e.code) e = lib.primary(o->context, &o->handle);
	if (e.code) {
		char *why = words(e); /* before the context goes, which owns the text */
		tg_heif_close(o);
		return why;
	}
	about->width = lib.handle_width(o->handle);
	about->height = lib.handle_height(o->handle);
	about->icc_size = lib.icc_size(o->handle);
	heif_nclx *nclx = NULL;
	if (!lib.nclx(o->handle, &nclx).code && nclx) {
		about->primaries = nclx->color_primaries;
		about->transfer = nclx->transfer_characteristics;
		lib.nclx_free(nclx);
	}
	*opened = o;
	return NULL;
}

char *tg_heif_icc(void *opened, void *out) {
	heif_error e = lib.icc(((opened_file *)opened)->handle, out);
	return e.code ? words(e) : NULL;
}

/* Fills bgr with height rows of width pixels. */
char *tg_heif_decode(void *opened, uint8_t *bgr, int width, int height) {
	heif_decoding_options *how = lib.options_alloc();
	if (!how) return strdup("out of memory");
	if (how->version >= 2) how->convert_hdr_to_8bit = 1;
	if (how->version >= 3) how->strict_decoding = 1; /* a hole in a picture is an error, not a guess */
	void *image = NULL;
	heif_error e = lib.decode(((opened_file *)opened)->handle, &image, COLORSPACE_RGB, INTERLEAVED_RGB, how);
	lib.options_free(how);
	if (e.code) return words(e);
	int stride = 0;
	const uint8_t *rgb = lib.plane(image, CHANNEL_INTERLEAVED, &stride);
	char *why = NULL;
	if (!rgb || lib.image_width(image, CHANNEL_INTERLEAVED) != width || lib.image_height(image, CHANNEL_INTERLEAVED) != height ||
	    stride < 3 * width) {
		why = strdup("the picture is not of the size that the file claims");
	} else {
		for (int y = 0; y < height; y++) {
			const uint8_t *from = rgb + (size_t)y * stride;
			uint8_t *to = bgr + (size_t)y * width * 3;
			for (int x = 0; x < width; x++, from += 3, to += 3) {
				to[0] = from[2];
				to[1] = from[1];
				to[2] = from[0];
			}
		}
	}
	lib.image_release(image);
	return why;
}

void tg_heif_close(void *opened) {
	opened_file *o = opened;
	if (!o) return;
	if (o->handle) lib.handle_release(o->handle);
	lib.context_free(o->context);
	free(o);
}
