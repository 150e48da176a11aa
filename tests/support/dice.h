/*
 * dice.h: pseudo-random figures from a seed, the same on every machine.
 *
 * The generator is splitmix64 (G. Steele, D. Lea, C. Flood, "Fast Splittable Pseudorandom Number
 * Generators", OOPSLA 2014). Figures are whole numbers divided by a power of ten: correctly rounded
 * everywhere, and written in a file with few digits they read back identical.
 */
#ifndef WF_DICE_H
#define WF_DICE_H

#include <stdbool.h>
#include <stdint.h>

struct dice {
    uint64_t state;
};

static inline uint64_t dice_next(struct dice *d)
{
    uint64_t z = d->state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

/* A whole number from low to high, both included. */
static inline long dice_whole(struct dice *d, long low, long high)
{
    return low + (long)(dice_next(d) % (uint64_t)(high - low + 1));
}

static inline bool dice_chance(struct dice *d, long percent)
{
    return dice_whole(d, 1, 100) <= percent;
}

/* low/scale .. high/scale in steps of 1/scale. */
static inline double dice_decimal(struct dice *d, long low, long high, double scale)
{
    return (double)dice_whole(d, low, high) / scale;
}

#endif
