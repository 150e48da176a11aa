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
    for (size_t i = 0; i < (count + 1) / 2; i++) {
        z[i] = normal_quantile(((double)i + 0.5) / (double)count);
        z[count - 1 - i] = -z[i]; /* of the middle one, 0 */
    }
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

/* Puts at x[k] what would be there in ascending order, nothing greater before it and nothing less
 * after it (C. Hoare, Algorithm 65: FIND, 1961; as N. Wirth gives it, 1976). */
static void put_in_place(double *x, ptrdiff_t count, ptrdiff_t k)
{
    ptrdiff_t low = 0, high = count - 1;
    while (low < high) {
        double pivot = x[k];
        ptrdiff_t i = low, j = high;
        while (i <= j) {
            while (x[i] < pivot)
                i++;
            while (pivot < x[j])
                j--;
            if (i > j)
                break;
            double swapped = x[i];
            x[i++] = x[j];
            x[j--] = swapped;
        }
        if (j < k)
            low = i;
        if (k < i)
            high = j;
    }
}

double wf_draws_quantile(double *x, size_t count, double q)
{
    double at = fmin(fmax(q * (double)count - 0.5, 0), (double)count - 1);
    size_t i = (size_t)at;
    put_in_place(x, (ptrdiff_t)count, (ptrdiff_t)i);
    double above = i + 1 < count ? (double)INFINITY : x[i];
    for (size_t k = i + 1; k < count; k++)
        above = fmin(above, x[k]);
    return x[i] + (at - (double)i) * (above - x[i]);
}
