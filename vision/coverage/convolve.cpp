#include "convolve.h"

#define LANES 4
#define BLOCKS 1
#define PIXELS 4
#include "kernel.h"

#if defined(__x86_64__)
void tg_convolve_avx2(const tg_convolution *c);
void tg_convolve_avx512(const tg_convolution *c);
#endif

static int widest = 16;

extern "C" void tg_widest(int floats) { widest = floats > 0 ? floats : 16; }

extern "C" void tg_convolve(const tg_convolution *c) {
#if defined(__x86_64__)
	if (widest >= 16 && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl")) return tg_convolve_avx512(c);
	if (widest >= 8 && __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return tg_convolve_avx2(c);
#endif
	convolve(*c);
}

extern "C" void tg_add_doubled(float *to, const float *from, int blocks, int height, int width) {
	for (int b = 0; b < blocks; b++)
		for (int y = 0; y < 2 * height; y++)
			for (int x = 0; x < 2 * width; x++) {
				float *t = to + (((long)b * (2 * height + 2) + y + 1) * (2 * width + 2) + x + 1) * 16;
				const float *f = from + (((long)b * (height + 2) + y / 2 + 1) * (width + 2) + x / 2 + 1) * 16;
				for (int k = 0; k < 16; k++) t[k] += f[k];
			}
}

extern "C" void tg_pack(const float *from, int channels, int height, int width, float *to) {
	for (int b = 0; 16 * b < channels; b++)
		for (int y = 0; y < height; y++) {
			float *t = to + (((long)b * (height + 2) + y + 1) * (width + 2) + 1) * 16;
			for (int k = 0; k < 16; k++) {
				const float *f = 16 * b + k < channels ? from + ((long)(16 * b + k) * height + y) * width : nullptr;
				for (int x = 0; x < width; x++) t[16 * x + k] = f ? f[x] : 0;
			}
		}
}

extern "C" void tg_unpack(const float *from, int channels, int height, int width, float *to) {
	for (int b = 0; 16 * b < channels; b++)
		for (int y = 0; y < height; y++) {
			const float *f = from + (((long)b * (height + 2) + y + 1) * (width + 2) + 1) * 16;
			for (int k = 0; k < 16 && 16 * b + k < channels; k++) {
				float *t = to + ((long)(16 * b + k) * height + y) * width;
				for (int x = 0; x < width; x++) t[x] = f[16 * x + k];
			}
		}
}
