#include "solve/draws.h"

#include <math.h>

#define SEED UINT64_C(0x776f7274666974) /* "wortfit" */

/* Newton on the lower half of the distribution function, which is convex, from its right end: the
 * steps never pass the root, and erfc keeps its digits in that tail. */
static double normal_quantile(double p)
{
    const double half = 0.70710678118654752440, density = 0.39894228040143267794;
    if (p > 0.5)
        return -normal_quantile(1 - p);
    double z = 0;
    for (int i = 0; i < 60; i++) {
        double over = erfc(-z * half) / 2 - p;
        double step = over / (density * exp(-z * z / 2));
        z -= step;
        if (fabs(step) < 1e-13)
            break;
    }
    return z;
}

void wf_draws_normal(size_t count, double *z)
{
    for (size_t i = 0; i < count; i++)
        z[i] = normal_quantile(((double)i + 0.5) / (double)count);
}

/* FNV-1a, 64 bits (G. Fowler, L. Noll, K. Vo). */
static uint64_t mix(uint64_t hash, const char *text)
{
    for (; *text; text++)
        hash = (hash ^ (unsigned char)*text) * UINT64_C(0x100000001b3);
    return hash;
}

uint64_t wf_draws_source(const char *kind, const char *id)
{
    uint64_t hash = mix(UINT64_C(0xcbf29ce484222325) ^ SEED, kind);
    return id != NULL ? mix(mix(hash, " "), id) : hash;
}

/* splitmix64 (G. Steele, D. Lea, C. Flood, OOPSLA 2014). */
static uint64_t next(uint64_t *state)
{
    uint64_t z = *state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

void wf_draws_factors(uint64_t source, double spread, const double *z, size_t count, double *factor)
{
    double sigma = log1p(spread);
    uint64_t state = source;
    for (size_t i = 0; i < count; i++)
        factor[i] = exp(z[i] * sigma);
    for (size_t i = count; i > 1; i--) {
        size_t k = (size_t)(next(&state) % i);
        double swapped = factor[i - 1];
        factor[i - 1] = factor[k];
        factor[k] = swapped;
    }
}

double wf_draws_quantile(const double *x, size_t count, double q)
{
    double at = fmin(fmax(q * (double)count - 0.5, 0), (double)count - 1);
    size_t i = (size_t)at;
    double above = i + 1 < count ? x[i + 1] : x[i];
    return x[i] + (at - (double)i) * (above - x[i]);
}
