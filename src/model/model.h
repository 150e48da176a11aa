/*
 * model.h: a mixed-integer linear model of our own; it knows no solver.
 *
 *     minimise  offset + sum cost[j] x[j]
 *     subject to  row_low[i] <= sum a[i][j] x[j] <= row_high[i],  low[j] <= x[j] <= high[j],
 *                 x[j] whole where integer[j]
 *
 * Columns and rows are counted from 0. Terms of one row and column add up. Infinite bounds are
 * +-INFINITY. Labels are for people (the legend of a written model) and are copied into the model.
 */
#ifndef WF_MODEL_H
#define WF_MODEL_H

#include "wortfit/status.h"

#include <stdbool.h>
#include <stddef.h>

struct wf_model; /* opaque: grows by doubling; out of memory is sticky, told by wf_model_check */

struct wf_model *wf_model_new(void); /* NULL: out of memory */
void wf_model_free(struct wf_model *m);
struct wf_model *wf_model_copy(const struct wf_model *m); /* NULL: out of memory */

/* Adds a column or a row and returns its index (on failure an index that is safe to use). */
int wf_model_column(struct wf_model *m, double low, double high, double cost, bool integer,
                    const char *label);
int wf_model_row(struct wf_model *m, double low, double high, const char *label);
/* Adds a to the coefficient of column `column` in row `row`. |a| below 1e-12 in sum is dropped. */
void wf_model_term(struct wf_model *m, int row, int column, double a);

int wf_model_columns(const struct wf_model *m);
int wf_model_rows(const struct wf_model *m);
int wf_model_terms(const struct wf_model *m); /* of all rows, as wf_model_row_terms counts them */
double wf_model_low(const struct wf_model *m, int column);
double wf_model_high(const struct wf_model *m, int column);
double wf_model_cost(const struct wf_model *m, int column);
bool wf_model_integer(const struct wf_model *m, int column);
double wf_model_row_low(const struct wf_model *m, int row);
double wf_model_row_high(const struct wf_model *m, int row);
const char *wf_model_column_label(const struct wf_model *m, int column);
const char *wf_model_row_label(const struct wf_model *m, int row);
double wf_model_offset(const struct wf_model *m);

void wf_model_set_bounds(struct wf_model *m, int column, double low, double high);
void wf_model_set_row(struct wf_model *m, int row, double low, double high);
void wf_model_set_cost(struct wf_model *m, int column, double cost);
void wf_model_set_integer(struct wf_model *m, int column, bool integer);
void wf_model_set_offset(struct wf_model *m, double offset);
void wf_model_clear_costs(struct wf_model *m); /* all costs and the offset 0 */

/* The terms of a row, merged, in order of column: fills columns[] and values[] (room for as many as
 * it has, never more than the model's columns) and returns how many. */
int wf_model_row_terms(const struct wf_model *m, int row, int *columns, double *values);
double wf_model_row_value(const struct wf_model *m, int row, const double *x);
double wf_model_value(const struct wf_model *m, const double *x); /* offset + cost . x */

/* Greatest violation of rows and bounds by x, each in units of max(1, |the bound|); integers are
 * checked too. *row gets the worst row, or -1 if a bound or an integer is worst; may be NULL.
 * Infinite where a number is NaN. */
double wf_model_violation(const struct wf_model *m, const double *x, int *row);
/* Likewise, but a column need not be whole. */
double wf_model_violation_relaxed(const struct wf_model *m, const double *x, int *row);

/*
 * Refuses what a solver must never meet: no rows or no columns, numbers that are not finite (but
 * for infinite bounds), low > high, integer columns whose bounds are not whole numbers within
 * +-1e6, coefficients, costs or finite bounds beyond 1e9, and rows or columns that were named but
 * are not there. All are internal errors: the builder's fault. WF_MEMORY where memory ran out while
 * it was built.
 */
enum wf_status wf_model_check(const struct wf_model *m, struct wf_error *e) WF_MUST_USE;

/* CPLEX LP text: columns x0.., rows r0.., with a legend of labels as comments. *text is the
 * caller's to wf_free. */
enum wf_status wf_model_write_lp(const struct wf_model *m, const char *title, char **text,
                                 struct wf_error *e) WF_MUST_USE;

#endif
