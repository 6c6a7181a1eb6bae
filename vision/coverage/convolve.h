#ifndef TG_CONVOLVE_H
#define TG_CONVOLVE_H

#ifdef __cplusplus
extern "C" {
#endif

// A map is blocks of 16 channels, each (height + 2) × (width + 2) pixels of 16 values, whose border of one pixel is zero.

typedef struct {
	const float *in; // a map of in_blocks, height × width
	int in_blocks, height, width;
	int last_channels; // of the last of these blocks; those that fill it up are zero
	const float *weights; // out_blocks × in_blocks × size × size × 16 channels in × 16 channels out
	const float *squares; // the same of a 3 × 3 convolution for squares of 2 × 2 pixels: out_blocks × 16 places × in_blocks × 16 × 16; NULL for none
	const float *bias;    // 16 × out_blocks
	int size, stride;     // 1 or 3, 1 or 2
	int relu;             // 1: what is negative becomes 0
	const float *plus;    // a map as large as out that is added at the end; NULL for none
	float *out;           // a map of out_blocks, height/stride × width/stride
	int out_blocks;
	int doubled;          // 1, of a 1 × 1 convolution: out is a map twice as high and wide, and each pixel is added to four of it
	int plain;            // of a 1 × 1 convolution: out is so many channels of each pixel, one pixel after the other, instead of a map; 0 for a map
} tg_convolution;

void tg_convolve(const tg_convolution *c);

// tg_zeros returns so many zeros that begin where a line of the cache does, so that no register's worth lies across two. The caller frees them. It does not
// return where there is no memory.
float *tg_zeros(long n);

// tg_widest limits the registers that are used to so many floats, for tests; 0 means no limit.
void tg_widest(int floats);

// tg_pack brings height × width squares of 2 × 2 pixels into a map: the root of their light less 0.4, because that is how a camera's noise goes; red first, each
// colour in the pixels' reading order. Then come the values that there are also to each square. Channels that fill up the last block become 0.
void tg_pack(const float *light, const float *also, int also_each, int height, int width, float *to);

// How far within limits of hue and chroma a colour lies, see Margin.
typedef struct {
	float over_white[9], sin_hue, cos_hue, least_chroma, unit, most;
} tg_margin;

// tg_fill_margins works out the margins of height × width squares of 2 × 2 pixels. to is the first square's; the next one's is each values on.
void tg_fill_margins(const tg_margin *m, const float *light, int height, int width, float *to, int each);

#ifdef __cplusplus
}
#endif

#endif
