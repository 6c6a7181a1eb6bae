#if defined(__x86_64__)
#include "convolve.h"

#pragma GCC target("avx2,fma")
#define LANES 8
#define BLOCKS 1
#define PIXELS 6
#include "kernel.h"

void tg_convolve_avx2(const tg_convolution *c) { convolve(*c); }
void tg_fill_margins_avx2(const tg_margin *m, const float *light, int height, int width, float *to, int each) { fill_margins(*m, light, height, width, to, each); }
#endif
