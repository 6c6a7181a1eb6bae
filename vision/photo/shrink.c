#include "shrink.h"

#include <stddef.h>
#include <string.h>

// The rows of squares are added up for the whole width, which compilers turn into sums of whole registers, and then the columns.
void tg_shrink(const uint8_t *picture, int across, int k, int width, int height, uint16_t *columns, const uint8_t *mean, uint8_t *small) {
	const size_t row = (size_t)3 * across, used = (size_t)3 * k * width;
	for (int y = 0; y < height; y++) {
		memset(columns, 0, used * sizeof *columns);
		for (int j = 0; j < k; j++, picture += row)
			for (size_t i = 0; i < used; i++) columns[i] += picture[i];
		for (const uint16_t *at = columns; at < columns + used; at += 3 * k, small += 3) {
			uint32_t blue = 0, green = 0, red = 0;
			for (int i = 0; i < 3 * k; i += 3) blue += at[i], green += at[i + 1], red += at[i + 2];
			small[0] = mean[blue], small[1] = mean[green], small[2] = mean[red];
		}
	}
}
