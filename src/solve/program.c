/* program.c: a linear program as plain arrays, and what points and duals prove about it. */
#include "solve/program.h"

#include "base/alloc.h"

#include <math.h>

#define NOISE 1e-8 /* a d that is rounding and no more, where it meets an infinite bound */
#define SURE  1e-9 /* of the size of its terms: a sum above it is not 0 by rounding */

/* ---- Life ------------------------------------------------------------------------------------ */

static bool allocate(struct wf_program *p, size_t terms)
{
    size_t rows = (size_t)p->rows, columns = (size_t)p->columns;
    p->cost = wf_alloc(columns, sizeof *p->cost);
    p->low = wf_alloc(columns, sizeof *p->low);
    p->high = wf_alloc(columns, sizeof *p->high);
    p->row_low = wf_alloc(rows, sizeof *p->row_low);
    p->row_high = wf_alloc(rows, sizeof *p->row_high);
    p->start = wf_alloc(rows + 1, sizeof *p->start);
    p->index = wf_alloc(terms, sizeof *p->index);
    p->value = wf_alloc(terms, sizeof *p->value);
    return p->cost && p->low && p->high && p->row_low && p->row_high && p->start && p->index &&
           p->value;
}

bool wf_program_init(struct wf_program *p, const struct wf_model *m)
{
    *p = (struct wf_program){
        .rows = wf_model_rows(m), .columns = wf_model_columns(m), .offset = wf_model_offset(m)};
    if (!allocate(p, (size_t)wf_model_terms(m))) {
        wf_program_clear(p);
        return false;
    }
    for (int j = 0; j < p->columns; j++) {
        p->cost[j] = wf_model_cost(m, j);
        p->low[j] = wf_model_low(m, j);
        p->high[j] = wf_model_high(m, j);
    }
    for (int i = 0; i < p->rows; i++) {
        int at = p->start[i];
        p->row_low[i] = wf_model_row_low(m, i);
        p->row_high[i] = wf_model_row_high(m, i);
        p->start[i + 1] = at + wf_model_row_terms(m, i, &p->index[at], &p->value[at]);
    }
    return true;
}

void wf_program_clear(struct wf_program *p)
{
    wf_free(p->cost);
    wf_free(p->low);
    wf_free(p->high);
    wf_free(p->row_low);
    wf_free(p->row_high);
    wf_free(p->start);
    wf_free(p->index);
    wf_free(p->value);
    *p = (struct wf_program){0};
}

/* ---- Points ---------------------------------------------------------------------------------- */

/* Infinite for NaN. */
static double outside(double v, double low, double high)
{
    if (v >= low && v <= high)
        return 0;
    if (v < low)
        return (low - v) / fmax(1, fabs(low));
    return v > high ? (v - high) / fmax(1, fabs(high)) : HUGE_VAL;
}

double wf_program_violation(const struct wf_program *p, const double *x)
{
    double worst = 0;
    for (int j = 0; j < p->columns; j++)
        worst = fmax(worst, outside(x[j], p->low[j], p->high[j]));
    for (int i = 0; i < p->rows; i++) {
        double sum = 0;
        for (int k = p->start[i]; k < p->start[i + 1]; k++)
            sum += p->value[k] * x[p->index[k]];
        worst = fmax(worst, outside(sum, p->row_low[i], p->row_high[i]));
    }
    return worst;
}

/* ---- What duals prove ------------------------------------------------------------------------ */

/* A sum, and how large its terms were: what is left after they cancel may be rounding. */
struct sum {
    double value, size;
};

static void add(struct sum *s, double term)
{
    s->value += term;
    s->size += fabs(term);
}

/* Adds the least that the rows allow, and takes them off d. */
static void add_rows(const struct wf_program *p, double *dual, double *d, struct sum *s)
{
    for (int i = 0; i < p->rows; i++) {
        double at = dual[i] > 0 ? p->row_low[i] : p->row_high[i];
        if (dual[i] == 0 || isinf(at)) {
            dual[i] = 0;
            continue;
        }
        add(s, dual[i] * at);
        for (int k = p->start[i]; k < p->start[i + 1]; k++)
            d[p->index[k]] -= dual[i] * p->value[k];
    }
}

/* Adds the least that the columns' bounds allow. */
static void add_columns(const struct wf_program *p, const double *d, double noise, struct sum *s)
{
    for (int j = 0; j < p->columns; j++) {
        double at = d[j] > 0 ? p->low[j] : p->high[j];
        if (!isinf(at))
            add(s, d[j] * at);
        else if (fabs(d[j]) > noise)
            s->value = -HUGE_VAL;
    }
}

double wf_program_bound(const struct wf_program *p, double *dual, double *reduced)
{
    struct sum s = {p->offset, 0};
    for (int j = 0; j < p->columns; j++)
        reduced[j] = p->cost[j];
    add_rows(p, dual, reduced, &s);
    add_columns(p, reduced, NOISE, &s);
    return s.value;
}

bool wf_program_refuted(const struct wf_program *p, double *dual, double *scratch)
{
    struct sum s = {0, 0};
    double most = 0;
    for (int i = 0; i < p->rows; i++)
        most = fmax(most, fabs(dual[i]));
    for (int j = 0; j < p->columns; j++)
        scratch[j] = 0;
    add_rows(p, dual, scratch, &s);
    add_columns(p, scratch, NOISE * most, &s);
    return s.value > SURE * s.size;
}
