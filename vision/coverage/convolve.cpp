#include "convolve.h"

#include <string.h>

#define LANES 4
#define BLOCKS 1
#define PIXELS 4
#include "kernel.h"

#if defined(__x86_64__)
void tg_convolve_avx2(const tg_convolution *c);
void tg_convolve_avx512(const tg_convolution *c);
#endif

extern "C" float *tg_zeros(long n) {
	const long line = 64, bytes = (n * (long)sizeof(float) + line - 1) / line * line;
	float *zeros = (float *)aligned_alloc(line, bytes);
	if (!zeros) abort();
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

// A few pixels at a time, so that the 16 channels that they are read from stay in the nearest cache.
static const int at_once = 16;

extern "C" void tg_pack(const float *from, int channels, int height, int width, float *to) {
	for (int b = 0; 16 * b < channels; b++)
		for (int y = 0; y < height; y++)
			for (int x0 = 0; x0 < width; x0 += at_once) {
				const int n = width - x0 < at_once ? width - x0 : at_once;
				float *t = to + (((long)b * (height + 2) + y + 1) * (width + 2) + x0 + 1) * 16;
				const int used = channels - 16 * b < 16 ? channels - 16 * b : 16;
				if (used < 16) memset(t, 0, 64L * n);
				for (int k = 0; k < used; k++) {
					const float *f = from + ((long)(16 * b + k) * height + y) * width + x0;
					for (int x = 0; x < n; x++) t[16 * x + k] = f[x];
				}
			}
}
