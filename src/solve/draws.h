/*
 * draws.h: errors drawn for many brews at once, the same on every run.
 *
 * A source of error has as many values as there are brews, one from each of that many equally
 * likely strata, in an order that hangs on the source's name alone.
 */
#ifndef WF_DRAWS_H
#define WF_DRAWS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The middles, by probability, of `count` strata of the standard normal law, ascending. */
void wf_draws_normal(size_t count, double *z);

/* Names a source: the kind of error, and the lot that it is of (NULL: none). */
uint64_t wf_draws_source(const char *kind, const char *id);

/* Factors (1 + spread)^z for the strata z, shuffled as the source has it. */
void wf_draws_factors(uint64_t source, double spread, const double *z, size_t count,
                      double *factor);

/* What a share `q` of the values x lies below: in ascending order they are the middles of strata,
 * between which it is interpolated. They are put in another order. */
double wf_draws_quantile(double *x, size_t count, double q);

#endif
