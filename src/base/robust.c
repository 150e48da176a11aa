/* robust.c: see robust.h. All pairs are gone through: for some hundred figures that takes
 * milliseconds. */
#include "base/robust.h"

#include "base/alloc.h"

#include <math.h>
#include <stdlib.h>

static int by_size(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

static void sort(double *x, size_t n)
{
    qsort(x, n, sizeof *x, by_size);
}

double wf_median(double *x, size_t n)
{
    sort(x, n);
    return n % 2 == 1 ? x[n / 2] : (x[n / 2 - 1] + x[n / 2]) / 2;
}

bool wf_hodges_lehmann(const double *x, size_t n, double *out)
{
    double *means = wf_alloc(n * (n + 1) / 2, sizeof *means);
    size_t count = 0;
    if (!means)
        return false;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i; k < n; k++)
            means[count++] = x[i] + (x[k] - x[i]) / 2;
    *out = wf_median(means, count);
    wf_free(means);
    return true;
}

/* ---- Spread ---------------------------------------------------------------------------------- */

#define QN_NORMAL 2.2219 /* makes it a standard deviation on normal errors */

static double qn_factor(size_t n)
{
    static const double small[] = {0, 0, 0.399, 0.994, 0.512, 0.844, 0.611, 0.857, 0.669, 0.872};
    if (n < sizeof small / sizeof *small)
        return small[n];
    return (double)n / ((double)n + (n % 2 == 1 ? 1.4 : 3.8));
}

bool wf_qn(const double *x, size_t n, double *out)
{
    size_t count = 0, half = n / 2 + 1, rank = half * (half - 1) / 2;
    *out = 0;
    if (n < 2)
        return true;
    double *apart = wf_alloc(n * (n - 1) / 2, sizeof *apart);
    if (!apart)
        return false;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            apart[count++] = fabs(x[i] - x[k]);
    sort(apart, count);
    *out = QN_NORMAL * qn_factor(n) * apart[rank - 1];
    wf_free(apart);
    return true;
}

/* ---- Slope ----------------------------------------------------------------------------------- */

#define NORMAL_90 1.6448536269514722 /* of a standard deviation: 90 % lie within */

/* Variance of Kendall's S: n (n - 1) (2n + 5) / 18, less as much for each group of like x. */
static double kendall_variance(const double *x, size_t n)
{
    double sum = (double)n * ((double)n - 1) * (2 * (double)n + 5);
    for (size_t i = 0; i < n; i++) {
        size_t like = 0, before = 0;
        for (size_t k = 0; k < n; k++) {
            like += x[k] == x[i];
            before += k < i && x[k] == x[i];
        }
        if (before == 0)
            sum -= (double)like * ((double)like - 1) * (2 * (double)like + 5);
    }
    return sum / 18;
}

/* The slope at a rank from 0, or an infinite one where there is none of that rank. */
static double at_rank(const double *slopes, size_t count, double rank)
{
    if (rank < 0)
        return (double)-INFINITY;
    return rank >= (double)count ? (double)INFINITY : slopes[(size_t)rank];
}

bool wf_theil_sen(const double *x, const double *y, size_t n, struct wf_slope *out)
{
    size_t count = 0;
    double *slopes = wf_alloc(n * n / 2 + 1, sizeof *slopes);
    if (!slopes)
        return false;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            if (x[i] != x[k])
                slopes[count++] = (y[k] - y[i]) / (x[k] - x[i]);
    *out = (struct wf_slope){(double)NAN, (double)NAN, (double)NAN};
    if (count > 0) {
        double width = NORMAL_90 * sqrt(kendall_variance(x, n));
        out->slope = wf_median(slopes, count);
        out->low = at_rank(slopes, count, floor(((double)count - width) / 2) - 1);
        out->high = at_rank(slopes, count, ceil(((double)count + width) / 2));
    }
    wf_free(slopes);
    return true;
}
