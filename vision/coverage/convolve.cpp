#include "convolve.h"

#include <string.h>
#ifdef __linux__
#include <sys/mman.h>
#endif

#define LANES 4
#define BLOCKS 1
#define PIXELS 4
#include "kernel.h"

#if defined(__x86_64__)
void tg_convolve_avx2(const tg_convolution *c);
void tg_convolve_avx512(const tg_convolution *c);
void tg_fill_margins_avx2(const tg_margin *m, const float *light, int height, int width, float *to, int each);
void tg_fill_margins_avx512(const tg_margin *m, const float *light, int height, int width, float *to, int each);
#endif

extern "C" float *tg_zeros(long n) {
	const long line = 64, large = 2 << 20, size = n * (long)sizeof(float);
	const long whole = size < 2 * large ? line : large, bytes = (size + whole - 1) / whole * whole;
	float *zeros = (float *)aligned_alloc(whole, bytes);
	if (!zeros) abort();
#ifdef MADV_HUGEPAGE
	if (whole == large) madvise(zeros, bytes, MADV_HUGEPAGE); // a strip's maps in small pages are more than the processor keeps the places of
#endif
	memset(zeros, 0, bytes);
	return zeros;
}

static int widest = 16;

extern "C" void tg_widest(int floats) { widest = floats > 0 ? floats : 16; }

// lanes returns how many floats the widest registers hold that this processor has code for and that may be used.
static int lanes() {
#if defined(__x86_64__)
	if (widest >= 16 && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl")) return 16;
	if (widest >= 8 && __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return 8;
#endif
	return 4;
}

extern "C" void tg_convolve(const tg_convolution *c) {
	switch (lanes()) {
#if defined(__x86_64__)
	case 16: return tg_convolve_avx512(c);
	case 8: return tg_convolve_avx2(c);
#endif
	default: return convolve(*c);
	}
}

extern "C" void tg_fill_margins(const tg_margin *m, const float *light, int height, int width, float *to, int each) {
	switch (lanes()) {
#if defined(__x86_64__)
	case 16: return tg_fill_margins_avx512(m, light, height, width, to, each);
	case 8: return tg_fill_margins_avx2(m, light, height, width, to, each);
#endif
	default: return fill_margins(*m, light, height, width, to, each);
	}
}

// pack_light brings the light of a square, three colours of two pixels in each of two rows, into the first channels of a pixel.
static inline void pack_light(const float *top, const float *low, float *to) {
	const vec a = *(const vec *)top, b = *(const vec *)(top + 2), c = *(const vec *)low, d = *(const vec *)(low + 2); // red 0 to red 1, and blue 0 to blue 1
	const vec green_above = __builtin_shufflevector(a, b, 1, 6, 1, 6), green_below = __builtin_shufflevector(c, d, 1, 6, 1, 6);
	*(vec *)to = square_root(__builtin_shufflevector(a, c, 0, 3, 4, 7)) - 0.4f;
	*(vec *)(to + 4) = square_root(__builtin_shufflevector(green_above, green_below, 0, 1, 4, 5)) - 0.4f;
	*(vec *)(to + 8) = square_root(__builtin_shufflevector(b, d, 0, 3, 4, 7)) - 0.4f;
}

extern "C" void tg_pack(const float *light, const float *also, int also_each, int height, int width, float *to) {
	const long block = 16L * (height + 2) * (width + 2);
	const int channels = 12 + also_each, whole = (channels + 15) / 16 * 16;
	for (int y = 0; y < height; y++)
		for (int x = 0; x < width; x++, also += also_each) {
			const float *top = light + 6L * (2L * y * width + x);
			float *pixel = to + 16 * ((y + 1L) * (width + 2) + x + 1);
			pack_light(top, top + 6L * width, pixel);
			for (int k = 12; k < whole; k++) pixel[k / 16 * block + k % 16] = k < channels ? also[k - 12] : 0;
		}
}
