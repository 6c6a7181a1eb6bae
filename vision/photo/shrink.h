#ifndef TRAYGAUGE_SHRINK_H
#define TRAYGAUGE_SHRINK_H

#include <stdint.h>

/* Writes the means of squares of k × k pixels, three bytes each, into width × height pixels. across is how many pixels the picture is wide, columns has
 * room for 3·k·width sums, and mean has the mean of each sum of k × k bytes. k is at most 257. */
void tg_shrink(const uint8_t *picture, int across, int k, int width, int height, uint16_t *columns, const uint8_t *mean, uint8_t *small);

#endif
