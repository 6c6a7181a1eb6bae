#if defined(__x86_64__)
#include "convolve.h"

#pragma GCC target("avx512f,avx512vl,avx2,fma")
#define LANES 16
#define BLOCKS 2
#define PIXELS 12
#include "kernel.h"

void tg_convolve_avx512(const tg_convolution *c) { convolve(*c); }
void tg_fill_margins_avx512(const tg_margin *m, const float *light, int height, int width, float *to, int each) { fill_margins(*m, light, height, width, to, each); }
#endif
