#include "jpeg.h"

#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>

#ifndef JCS_EXTENSIONS
#error "libjpeg-turbo is needed: the original libjpeg does not lay pixels out as blue, green, red"
#endif

// reporter takes libjpeg's messages: an error ends the call, and of the warnings the first is kept.
typedef struct {
	struct jpeg_error_mgr base; // first, so that its address is the reporter's
	jmp_buf failed;
	char error[TG_JPEG_ROOM], warning[TG_JPEG_ROOM];
} reporter;

_Static_assert(TG_JPEG_ROOM >= JMSG_LENGTH_MAX, "libjpeg's messages do not fit");

static void take_error(j_common_ptr codec) {
	reporter *r = (reporter *)codec->err;
	r->base.format_message(codec, r->error);
	longjmp(r->failed, 1);
}

static void take_warning(j_common_ptr codec, int level) {
	reporter *r = (reporter *)codec->err;
	if (level < 0 && r->base.num_warnings++ == 0) r->base.format_message(codec, r->warning);
}

static struct jpeg_error_mgr *errors_to(reporter *r) {
	jpeg_std_error(&r->base);
	r->base.error_exit = take_error;
	r->base.emit_message = take_warning;
	r->warning[0] = 0;
	return &r->base;
}

char *tg_jpeg_decode(const unsigned char *file, size_t bytes, int width, int height, unsigned char *bgr, char *warning) {
	struct jpeg_decompress_struct d;
	reporter r;
	d.err = errors_to(&r);
	jpeg_create_decompress(&d);
	if (setjmp(r.failed)) {
		jpeg_destroy_decompress(&d);
		return strdup(r.error);
	}
	jpeg_mem_src(&d, file, bytes);
	jpeg_read_header(&d, TRUE);
	d.out_color_space = JCS_EXT_BGR;
	jpeg_start_decompress(&d);
	if (d.output_width != (JDIMENSION)width || d.output_height != (JDIMENSION)height || d.output_components != 3) {
		jpeg_destroy_decompress(&d);
		return strdup("the picture is of another size than expected");
	}
	while (d.output_scanline < d.output_height) {
		JSAMPROW row = bgr + (size_t)3 * width * d.output_scanline;
		jpeg_read_scanlines(&d, &row, 1);
	}
	jpeg_finish_decompress(&d);
	jpeg_destroy_decompress(&d);
	memcpy(warning, r.warning, TG_JPEG_ROOM);
	return NULL;
}

char *tg_jpeg_encode(const tg_picture *pictures, int n, int width, int quality, unsigned char **file, size_t *bytes) {
	struct jpeg_compress_struct c;
	reporter r;
	unsigned long size = 0;
	*file = NULL;
	c.err = errors_to(&r);
	jpeg_create_compress(&c);
	if (setjmp(r.failed)) {
		*file = NULL; // libjpeg does not say where its buffer is now
		jpeg_destroy_compress(&c);
		return strdup(r.error);
	}
	jpeg_mem_dest(&c, file, &size);
	c.image_width = width, c.image_height = 0;
	for (int i = 0; i < n; i++) c.image_height += pictures[i].height;
	c.in_color_space = JCS_EXT_RGBX, c.input_components = 4;
	jpeg_set_defaults(&c);
	jpeg_set_quality(&c, quality, TRUE);
	jpeg_start_compress(&c, TRUE);
	for (int i = 0; i < n; i++)
		for (int y = 0; y < pictures[i].height; y++) {
			JSAMPROW row = (JSAMPROW)pictures[i].rgba + (size_t)4 * width * y;
			jpeg_write_scanlines(&c, &row, 1);
		}
	jpeg_finish_compress(&c);
	*bytes = size;
	jpeg_destroy_compress(&c);
	return NULL;
}
