/*
 * robust.h: estimates that a few wild figures do not move.
 *
 * Figures are finite; functions that fail do so for want of memory alone.
 */
#ifndef WF_ROBUST_H
#define WF_ROBUST_H

#include <stdbool.h>
#include <stddef.h>

/* The median; sorts x. n > 0. */
double wf_median(double *x, size_t n);

/* Where figures lie: the median of the means of all pairs, each figure with itself included. It is
 * nearly as sure as the mean (95 % on normal errors), and bears 29 % of wild ones (J. Hodges, E.
 * Lehmann, Annals of Mathematical Statistics 34, 1963). n > 0. */
bool wf_hodges_lehmann(const double *x, size_t n, double *out);

/* How far they lie apart, on normal errors their standard deviation: Qn, the first quartile of the
 * distances of pairs, with its factors for small n (P. Rousseeuw, C. Croux, Journal of the American
 * Statistical Association 88, 1993; factors: C. Croux, P. Rousseeuw, COMPSTAT 1992). It bears 50 %
 * of wild ones and is sure to 82 % on normal errors; the median of absolute deviations to 37 %.
 * 0 for n < 2. */
bool wf_qn(const double *x, size_t n, double *out);

/* How y grows with x: the median of the slopes of all pairs (H. Theil, 1950), and the ends of its
 * 90 % interval by Kendall's rank correlation (P. Sen, Journal of the American Statistical
 * Association 63, 1968). It bears 29 % of wild ones. NaN: all x are alike; ends infinite: too few
 * pairs to tell. */
struct wf_slope {
    double slope, low, high;
};
bool wf_theil_sen(const double *x, const double *y, size_t n, struct wf_slope *out);

#endif
