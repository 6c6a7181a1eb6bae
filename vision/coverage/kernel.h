// The convolution, written once and compiled for each kind of processor: LANES is how many floats one of its registers holds, BLOCKS how many
// blocks of channels and PIXELS how many pixels are worked out together, so that all their sums stay in registers.

#include <math.h>
#if defined(__x86_64__)
#include <immintrin.h>
#endif
#include <stdlib.h> // nothing of C++'s library: what it compiled for one processor could be linked into the code for another

namespace {

typedef float vec __attribute__((vector_size(4 * LANES), aligned(4), may_alias));
const int parts = 16 / LANES;

// add_products adds to the sums of some pixels, so many floats apart, what channels of theirs give, at most 16, for blocks of channels whose weights are of_block
// apart.
template <int blocks, int pixels> inline __attribute__((always_inline)) void add_products(vec (&sum)[blocks][pixels][parts], const float *from, int apart, const float *weights, long of_block, int channels = 16) {
	for (int channel = 0; channel < channels; channel++, weights += 16) {
		vec w[blocks][parts];
#pragma GCC unroll 8
		for (int b = 0; b < blocks; b++)
#pragma GCC unroll 8
			for (int k = 0; k < parts; k++) w[b][k] = *(const vec *)(weights + of_block * b + LANES * k);
#pragma GCC unroll 32
		for (int p = 0; p < pixels; p++) {
			const float v = from[apart * p + channel];
#pragma GCC unroll 8
			for (int b = 0; b < blocks; b++)
#pragma GCC unroll 8
				for (int k = 0; k < parts; k++) sum[b][p][k] += v * w[b][k];
		}
	}
}

// keep writes what was worked out from pixel (x, y) of the result on, which is high × wide.
template <int blocks, int pixels> inline __attribute__((always_inline)) void keep(const tg_convolution &c, const vec (&sum)[blocks][pixels][parts], int block, int y, int x, int high, int wide) {
	const bool relu = c.relu;
	const float *plus = c.plus;
#pragma GCC unroll 8
	for (int b = 0; b < blocks; b++) {
		const long at = (((long)(block + b) * (high + 2) + y + 1) * (wide + 2) + x + 1) * 16;
		float *out = c.out + at;
#pragma GCC unroll 32
		for (int p = 0; p < pixels; p++)
#pragma GCC unroll 8
			for (int k = 0; k < parts; k++) {
				vec v = sum[b][p][k];
				if (relu) v = v > 0 ? v : v - v;
				if (plus) v += *(const vec *)(plus + at + 16 * p + LANES * k);
				*(vec *)(out + 16 * p + LANES * k) = v;
			}
	}
}

// add_doubled adds what was worked out to a result that is twice as high and wide, each pixel to four.
template <int blocks, int pixels> inline __attribute__((always_inline)) void add_doubled(const tg_convolution &c, const vec (&sum)[blocks][pixels][parts], int block, int y, int x) {
	const long row = 16L * (2 * c.width + 2);
	for (int b = 0; b < blocks; b++)
		for (int below = 0; below < 2; below++) {
			float *out = c.out + row * ((long)(block + b) * (2 * c.height + 2) + 2 * y + below + 1) + 16 * (2 * x + 1);
#pragma GCC unroll 32
			for (int p = 0; p < pixels; p++)
#pragma GCC unroll 8
				for (int k = 0; k < parts; k++) {
					*(vec *)(out + 32 * p + LANES * k) += sum[b][p][k];
					*(vec *)(out + 32 * p + 16 + LANES * k) += sum[b][p][k];
				}
		}
}

// keep_plain writes what was worked out as plain values, pixel by pixel.
template <int blocks, int pixels> inline __attribute__((always_inline)) void keep_plain(const tg_convolution &c, const vec (&sum)[blocks][pixels][parts], int block, int y, int x) {
	const long each = c.plain;
	float *out = c.out + ((long)y * c.width + x) * each + 16 * block;
#pragma GCC unroll 8
	for (int b = 0; b < blocks; b++, out += 16) {
		const long used = each - 16 * (block + b);
#pragma GCC unroll 32
		for (int p = 0; p < pixels; p++) {
			if (used >= 16) {
#pragma GCC unroll 8
				for (int k = 0; k < parts; k++) *(vec *)(out + each * p + LANES * k) = sum[b][p][k];
			} else {
				for (long k = 0; k < used; k++) out[each * p + k] = sum[b][p][k / LANES][k % LANES];
			}
		}
	}
}

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
				add_products(sum, from, 16 * stride, weights, of_block);
				weights += 256;
			}

	if (c.plain)
		keep_plain(c, sum, block, y, x);
	else if (c.doubled)
		add_doubled(c, sum, block, y, x);
	else
		keep(c, sum, block, y, x, c.height / stride, c.width / stride);
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

// What follows works 2 × 2 pixels of a 3 × 3 convolution out of 4 × 4 with 16 products instead of 36: F(2 × 2, 3 × 3) of Lavin & Gray 2016, Fast algorithms for
// convolutional neural networks (CVPR), after Winograd. The 4 × 4 pixels are turned into 16 places, each place of all channels is multiplied like a 1 × 1
// convolution, and the places are turned into 2 × 2 pixels. PIXELS squares are worked on together, row by row.
struct squares {
	const tg_convolution &c;
	const long row, block_size; // floats in a map's row and block; the result's are as many
	const int wide;            // squares in a row
	long corner[PIXELS];       // where each square begins in a map
	float *places;             // in_blocks × 16 × PIXELS squares × 16 channels
	float *products;           // BLOCKS × 16 × PIXELS × 16

	squares(const tg_convolution &c) : c(c), row(16L * (c.width + 2)), block_size(row * (c.height + 2)), wide(c.width / 2) {
		const long n = 256L * PIXELS;
		places = tg_zeros(n * (c.in_blocks + BLOCKS));
		products = places + n * c.in_blocks;
	}

	~squares() { free(places); }

	// find works out the corners of n squares.
	void find(int first, int n) {
		int y = first / wide * 2, x = first % wide * 2;
		for (int t = 0; t < n; t++) {
			corner[t] = row * y + 16L * x;
			if ((x += 2) == c.width) x = 0, y += 2;
		}
	}

	// column is one column of a square's four rows of pixels, turned.
	struct column {
		vec a, b, d, e;

		inline __attribute__((always_inline)) void read(const float *from, long row) {
			const vec p = *(const vec *)from, q = *(const vec *)(from + row), r = *(const vec *)(from + 2 * row), s = *(const vec *)(from + 3 * row);
			a = p - r, b = q + r, d = r - q, e = q - s;
		}
	};

	// spread turns n squares, each with the pixels around it, into places. Squares side by side share two columns.
	void spread(int n) {
		const long row = this->row;
		for (int in = 0; in < c.in_blocks; in++)
			for (int k = 0; k < parts; k++) {
				const float *map = c.in + block_size * in + LANES * k;
				float *to = &places[256L * PIXELS * in + LANES * k];
				column first, second, third, fourth;
				for (int t = 0; t < n; t++, to += 16) {
					const float *from = map + corner[t];
					if (t == 0 || corner[t] != corner[t - 1] + 32) first.read(from, row), second.read(from + 16, row);
					third.read(from + 32, row), fourth.read(from + 48, row);
					across(to, first.a, second.a, third.a, fourth.a);
					across(to + 64L * PIXELS, first.b, second.b, third.b, fourth.b);
					across(to + 128L * PIXELS, first.d, second.d, third.d, fourth.d);
					across(to + 192L * PIXELS, first.e, second.e, third.e, fourth.e);
					first = third, second = fourth;
				}
			}
	}

	// across turns one row of a square's columns into four places.
	static inline __attribute__((always_inline)) void across(float *to, vec p, vec q, vec r, vec s) {
		const long next = 16L * PIXELS;
		*(vec *)to = p - r, *(vec *)(to + next) = q + r, *(vec *)(to + 2 * next) = r - q, *(vec *)(to + 3 * next) = q - s;
	}

	// multiply works the products of all places out, for blocks of channels from one on.
	template <int blocks> void multiply(int block) {
		for (int p = 0; p < 16; p++) {
			vec sum[blocks][PIXELS][parts] = {};
			const long of_block = 256L * c.in_blocks * 16;
			const float *weights = c.squares + of_block * block + 256L * c.in_blocks * p;
			for (int in = 0; in < c.in_blocks; in++) {
				const float *from = &places[16L * PIXELS * (16 * in + p)];
				if (in + 1 < c.in_blocks || c.last_channels == 16)
					add_products(sum, from, 16, weights, of_block);
				else
					add_products(sum, from, 16, weights, of_block, c.last_channels);
				weights += 256;
			}
#pragma GCC unroll 8
			for (int b = 0; b < blocks; b++)
#pragma GCC unroll 32
				for (int t = 0; t < PIXELS; t++)
#pragma GCC unroll 8
					for (int k = 0; k < parts; k++) *(vec *)&products[16L * ((b * 16 + p) * PIXELS + t) + LANES * k] = sum[b][t][k];
		}
	}

	// gather turns the products of n squares, of the block that is b behind the first multiplied, into pixels.
	void gather(int block, int b, int n) {
		const long next = 16L * PIXELS, of_block = (block + b) * block_size, row = this->row; // next place
		const bool relu = c.relu;
		const float *plus = c.plus ? c.plus + of_block : nullptr;
		float *out = c.out + of_block;
		for (int k = 0; k < parts; k++) {
			const vec bias = *(const vec *)(c.bias + 16 * (block + b) + LANES * k);
			for (int t = 0; t < n; t++) {
				const float *from = &products[next * (b * 16) + 16 * t + LANES * k];
				vec r[2][4];
#pragma GCC unroll 4
				for (int j = 0; j < 4; j++) {
					const vec a = *(const vec *)(from + next * j), d = *(const vec *)(from + next * (4 + j)), e = *(const vec *)(from + next * (8 + j)),
							  f = *(const vec *)(from + next * (12 + j));
					r[0][j] = a + d + e, r[1][j] = d - e - f;
				}
#pragma GCC unroll 2
				for (int i = 0; i < 2; i++) {
					vec v[2] = {r[i][0] + r[i][1] + r[i][2] + bias, r[i][1] - r[i][2] - r[i][3] + bias};
#pragma GCC unroll 2
					for (int j = 0; j < 2; j++) {
						const long at = corner[t] + row * (i + 1) + 16L * (j + 1) + LANES * k;
						if (relu) v[j] = v[j] > 0 ? v[j] : v[j] - v[j];
						if (plus) v[j] += *(const vec *)(plus + at);
						*(vec *)(out + at) = v[j];
					}
				}
			}
		}
	}

	void all() {
		const int count = c.height / 2 * wide;
		for (int first = 0; first < count; first += PIXELS) {
			const int n = count - first < PIXELS ? count - first : PIXELS;
			find(first, n);
			spread(n);
			int block = 0;
			for (; block + BLOCKS <= c.out_blocks; block += BLOCKS) {
				multiply<BLOCKS>(block);
				for (int b = 0; b < BLOCKS; b++) gather(block, b, n);
			}
			for (; block < c.out_blocks; block++) {
				multiply<1>(block);
				gather(block, 0, n);
			}
		}
	}
};

void convolve(const tg_convolution &c) {
	if (c.squares && c.stride == 1 && c.height % 2 == 0 && c.width % 2 == 0)
		squares(c).all();
	else if (c.stride == 1)
		all<1>(c);
	else
		all<2>(c);
}

// square_root takes the roots of a register's floats at once where there is an instruction for it, which compilers do not find by themselves.
inline __attribute__((always_inline)) vec square_root(vec v) {
#if LANES == 16
	return (vec)_mm512_sqrt_ps((__m512)v);
#elif LANES == 8
	return (vec)_mm256_sqrt_ps((__m256)v);
#elif defined(__x86_64__)
	return (vec)_mm_sqrt_ps((__m128)v);
#else
	for (int k = 0; k < LANES; k++) v[k] = sqrtf(v[k]);
	return v;
#endif
}

typedef int whole_numbers __attribute__((vector_size(4 * LANES), aligned(4), may_alias));

// lab_curve is CIELAB's curve from X, Y or Z over white's to what a* and b* are differences of (CIE 15:2004, 8.2.1.1). The cube root is two of Halley's steps from
// a third of the logarithm, which a float's bits are nearly; what is added is two thirds of 1's bits, a little less so that the steps start near by.
inline __attribute__((always_inline)) vec lab_curve(vec v) {
	const float bend = 216.0f / 24389, slope = 841.0f / 108;
	vec root = (vec)(__builtin_convertvector(__builtin_convertvector((whole_numbers)v, vec) * (1.0f / 3), whole_numbers) + 709921077);
	for (int step = 0; step < 2; step++) {
		const vec cube = root * root * root;
		root *= (cube + v + v) / (cube + cube + v);
	}
	return v > bend ? root : slope * v + 4.0f / 29;
}

// fill_row works out the margins of one row of n pixels whose colours lie apart, and puts them in red's place. All have room for whole registers.
void fill_row(const tg_margin &m, int n, float *red, float *green, float *blue) {
	const float *const w = m.over_white, per_unit = 1 / m.unit;
	const vec most = vec{} + m.most;
	for (int x = 0; x < n; x += LANES) {
		const vec r = *(const vec *)(red + x), g = *(const vec *)(green + x), b = *(const vec *)(blue + x);
		const vec fx = lab_curve(w[0] * r + w[1] * g + w[2] * b), fy = lab_curve(w[3] * r + w[4] * g + w[5] * b), fz = lab_curve(w[6] * r + w[7] * g + w[8] * b);
		const vec a_star = 500 * (fx - fy), b_star = 200 * (fy - fz);
		const vec below = a_star * m.sin_hue - b_star * m.cos_hue, above = square_root(a_star * a_star + b_star * b_star) - m.least_chroma;
		const vec margin = (below < above ? below : above) * per_unit, capped = margin < most ? margin : most;
		*(vec *)(red + x) = capped > -most ? capped : -most;
	}
}

void fill_margins(const tg_margin &m, const float *light, int height, int width, float *to, int each) {
	const int n = 2 * width, room = (n + LANES - 1) / LANES * LANES;
	float *red = tg_zeros(3L * room), *green = red + room, *blue = green + room;
	for (int y = 0; y < 2 * height; y++, light += 3 * n) {
		for (int x = 0; x < n; x++) red[x] = light[3 * x], green[x] = light[3 * x + 1], blue[x] = light[3 * x + 2];
		fill_row(m, n, red, green, blue);
		float *out = to + (long)(y / 2) * width * each + 2 * (y % 2);
		for (int x = 0; x < width; x++, out += each) out[0] = red[2 * x], out[1] = red[2 * x + 1];
	}
	free(red);
}

} // namespace
