// The convolution, written once and compiled for each kind of processor: LANES is how many floats one of its registers holds, BLOCKS how many
// blocks of channels and PIXELS how many pixels are worked out together, so that all their sums stay in registers.

namespace {

typedef float vec __attribute__((vector_size(4 * LANES), aligned(4), may_alias));
const int parts = 16 / LANES;

template <int blocks, int pixels, int stride> inline __attribute__((always_inline)) void tile(const tg_convolution &c, int block, int y, int x) {
	vec sum[blocks][pixels][parts];
#pragma GCC unroll 8
	for (int b = 0; b < blocks; b++)
#pragma GCC unroll 32
		for (int p = 0; p < pixels; p++)
#pragma GCC unroll 8
			for (int k = 0; k < parts; k++) sum[b][p][k] = *(const vec *)(c.bias + 16 * (block + b) + LANES * k);

	const long row = 16L * (c.width + 2), map = row * (c.height + 2), of_block = 256L * c.in_blocks * c.size * c.size;
	const int shift = c.size == 1 ? 1 : 0;
	const float *weights = c.weights + of_block * block;
	for (int in = 0; in < c.in_blocks; in++)
		for (int dy = 0; dy < c.size; dy++)
			for (int dx = 0; dx < c.size; dx++) {
				const float *from = c.in + map * in + row * (y * stride + dy + shift) + 16L * (x * stride + dx + shift);
				for (int channel = 0; channel < 16; channel++, weights += 16) {
					vec w[blocks][parts];
#pragma GCC unroll 8
					for (int b = 0; b < blocks; b++)
#pragma GCC unroll 8
						for (int k = 0; k < parts; k++) w[b][k] = *(const vec *)(weights + of_block * b + LANES * k);
#pragma GCC unroll 32
					for (int p = 0; p < pixels; p++) {
						const float v = from[16 * stride * p + channel];
#pragma GCC unroll 8
						for (int b = 0; b < blocks; b++)
#pragma GCC unroll 8
							for (int k = 0; k < parts; k++) sum[b][p][k] += v * w[b][k];
					}
				}
			}

	const int high = c.height / stride, wide = c.width / stride;
#pragma GCC unroll 8
	for (int b = 0; b < blocks; b++)
#pragma GCC unroll 32
		for (int p = 0; p < pixels; p++)
#pragma GCC unroll 8
			for (int k = 0; k < parts; k++) {
				const long at = (((long)(block + b) * (high + 2) + y + 1) * (wide + 2) + x + p + 1) * 16 + LANES * k;
				vec v = sum[b][p][k];
				if (c.relu) v = v > 0 ? v : v - v;
				if (c.plus) v += *(const vec *)(c.plus + at);
				*(vec *)(c.out + at) = v;
			}
}

template <int blocks, int stride> void rows(const tg_convolution &c, int block) {
	const int high = c.height / stride, wide = c.width / stride;
	for (int y = 0; y < high; y++) {
		int x = 0;
		for (; x + PIXELS <= wide; x += PIXELS) tile<blocks, PIXELS, stride>(c, block, y, x);
		for (; x + 4 <= wide; x += 4) tile<blocks, 4, stride>(c, block, y, x);
		for (; x < wide; x++) tile<blocks, 1, stride>(c, block, y, x);
	}
}

template <int stride> void all(const tg_convolution &c) {
	int block = 0;
	for (; block + BLOCKS <= c.out_blocks; block += BLOCKS) rows<BLOCKS, stride>(c, block);
	for (; block < c.out_blocks; block++) rows<1, stride>(c, block);
}

void convolve(const tg_convolution &c) { c.stride == 1 ? all<1>(c) : all<2>(c); }

} // namespace
