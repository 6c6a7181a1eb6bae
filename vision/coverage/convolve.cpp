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

extern "C" void tg_convolve(const tg_convolution *c) {
#if defined(__x86_64__)
	if (widest >= 16 && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl")) return tg_convolve_avx512(c);
	if (widest >= 8 && __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return tg_convolve_avx2(c);
#endif
	convolve(*c);
}

// pack_four brings 4 channels of 4 pixels into a map. A plane is how far apart the channels' values are.
static inline void pack_four(const float *from, long plane, float *to) {
	const vec a = *(const vec *)from, b = *(const vec *)(from + plane), c = *(const vec *)(from + 2 * plane), d = *(const vec *)(from + 3 * plane);
	const vec ab = __builtin_shufflevector(a, b, 0, 4, 1, 5), cd = __builtin_shufflevector(c, d, 0, 4, 1, 5);
	*(vec *)to = __builtin_shufflevector(ab, cd, 0, 1, 4, 5), *(vec *)(to + 16) = __builtin_shufflevector(ab, cd, 2, 3, 6, 7);
	const vec ef = __builtin_shufflevector(a, b, 2, 6, 3, 7), gh = __builtin_shufflevector(c, d, 2, 6, 3, 7);
	*(vec *)(to + 32) = __builtin_shufflevector(ef, gh, 0, 1, 4, 5), *(vec *)(to + 48) = __builtin_shufflevector(ef, gh, 2, 3, 6, 7);
}

// pack_row brings a row of up to 16 channels into a map.
static void pack_row(const float *from, long plane, int channels, int width, float *to) {
	if (channels < 16) memset(to, 0, 64L * width);
	const int fours = channels & ~3, wide = width & ~3;
	for (int x = 0; x < wide; x += 4)
		for (int k = 0; k < fours; k += 4) pack_four(from + k * plane + x, plane, to + 16L * x + k);
	for (int k = 0; k < channels; k++)
		for (int x = k < fours ? wide : 0; x < width; x++) to[16L * x + k] = from[k * plane + x];
}

extern "C" void tg_pack(const float *from, int channels, int height, int width, float *to) {
	const long plane = (long)height * width;
	for (int b = 0; 16 * b < channels; b++)
		for (int y = 0; y < height; y++) {
			const int used = channels - 16 * b < 16 ? channels - 16 * b : 16;
			pack_row(from + 16 * b * plane + (long)y * width, plane, used, width, to + (((long)b * (height + 2) + y + 1) * (width + 2) + 1) * 16);
		}
}
