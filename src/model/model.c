/* model.c: building, changing and reading a model, and what a point is worth in it. */
#include "model/model_parts.h"

#include "base/alloc.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define CAPACITY_LEAST 8

/* Items with room for one more; NULL: out of memory, and the old ones stand. */
static void *with_room(void *items, int count, int *capacity, size_t size)
{
    if (count < *capacity)
        return items;
    if (*capacity > INT_MAX / 2)
        return NULL;
    int more = *capacity > 0 ? 2 * *capacity : CAPACITY_LEAST;
    void *grown = wf_realloc(items, (size_t)more, size);
    if (grown)
        *capacity = more;
    return grown;
}

/* ---- Life ------------------------------------------------------------------------------------ */

struct wf_model *wf_model_new(void)
{
    struct wf_model *m = wf_alloc(1, sizeof *m);
    if (!m)
        return NULL;
    m->labels = wf_arena_new();
    m->columns = wf_alloc(CAPACITY_LEAST, sizeof *m->columns);
    m->rows = wf_alloc(CAPACITY_LEAST, sizeof *m->rows);
    m->column_capacity = m->row_capacity = CAPACITY_LEAST;
    if (m->labels && m->columns && m->rows)
        return m;
    wf_model_free(m);
    return NULL;
}

void wf_model_free(struct wf_model *m)
{
    if (!m)
        return;
    for (int i = 0; m->rows && i < m->row_count; i++)
        wf_free(m->rows[i].terms);
    wf_free(m->rows);
    wf_free(m->columns);
    wf_arena_free(m->labels);
    wf_free(m);
}

static bool copy_terms(struct wf_model *to, int row, const struct wf_model_row *from)
{
    if (from->count == 0)
        return true;
    struct wf_model_row *r = &to->rows[row];
    r->terms = wf_alloc((size_t)from->count, sizeof *r->terms);
    if (!r->terms)
        return false;
    memcpy(r->terms, from->terms, (size_t)from->count * sizeof *r->terms);
    r->count = r->capacity = from->count;
    return true;
}

struct wf_model *wf_model_copy(const struct wf_model *m)
{
    struct wf_model *copy = wf_model_new();
    if (!copy)
        return NULL;
    copy->offset = m->offset;
    copy->misplaced = m->misplaced;
    for (int j = 0; j < m->column_count; j++) {
        const struct wf_model_column *c = &m->columns[j];
        wf_model_column(copy, c->low, c->high, c->cost, c->integer, c->label);
    }
    for (int i = 0; i < m->row_count && !copy->failed; i++) {
        const struct wf_model_row *r = &m->rows[i];
        int row = wf_model_row(copy, r->low, r->high, r->label);
        if (!copy->failed && !copy_terms(copy, row, r))
            copy->failed = true;
    }
    if (copy->failed && !m->failed) {
        wf_model_free(copy);
        return NULL;
    }
    copy->failed = m->failed;
    return copy;
}

/* ---- Building -------------------------------------------------------------------------------- */

/* The model's own copy of a label; NULL text is an empty one. */
static const char *own_label(struct wf_model *m, const char *label)
{
    const char *own = wf_arena_string(m->labels, label ? label : "");
    if (!own)
        m->failed = true;
    return own;
}

int wf_model_column(struct wf_model *m, double low, double high, double cost, bool integer,
                    const char *label)
{
    if (m->failed)
        return 0;
    void *columns = with_room(m->columns, m->column_count, &m->column_capacity, sizeof *m->columns);
    const char *own = own_label(m, label);
    if (columns)
        m->columns = columns;
    if (!columns || !own) {
        m->failed = true;
        return 0;
    }
    m->columns[m->column_count] = (struct wf_model_column){
        .low = low, .high = high, .cost = cost, .label = own, .integer = integer};
    return m->column_count++;
}

int wf_model_row(struct wf_model *m, double low, double high, const char *label)
{
    if (m->failed)
        return 0;
    void *rows = with_room(m->rows, m->row_count, &m->row_capacity, sizeof *m->rows);
    const char *own = own_label(m, label);
    if (rows)
        m->rows = rows;
    if (!rows || !own) {
        m->failed = true;
        return 0;
    }
    m->rows[m->row_count] = (struct wf_model_row){.low = low, .high = high, .label = own};
    return m->row_count++;
}

/* True where the model can be changed there; notes calls that name what is not there. */
static bool has_column(struct wf_model *m, int column)
{
    bool has = column >= 0 && column < m->column_count;
    m->misplaced |= !has && !m->failed;
    return has;
}

static bool has_row(struct wf_model *m, int row)
{
    bool has = row >= 0 && row < m->row_count;
    m->misplaced |= !has && !m->failed;
    return has;
}

/* Where the column's term is, or belongs. Rows are mostly filled from left to right. */
static int place_of(const struct wf_model_row *r, int column)
{
    int low = 0, high = r->count;
    if (high > 0 && r->terms[high - 1].column < column)
        return high;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (r->terms[middle].column < column)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

void wf_model_term(struct wf_model *m, int row, int column, double a)
{
    if (!has_row(m, row) || !has_column(m, column) || m->failed)
        return;
    struct wf_model_row *r = &m->rows[row];
    int at = place_of(r, column);
    if (at < r->count && r->terms[at].column == column) {
        r->terms[at].value += a;
        return;
    }
    struct wf_model_term *terms = with_room(r->terms, r->count, &r->capacity, sizeof *terms);
    if (!terms) {
        m->failed = true;
        return;
    }
    r->terms = terms;
    memmove(&terms[at + 1], &terms[at], (size_t)(r->count - at) * sizeof *terms);
    terms[at] = (struct wf_model_term){column, a};
    r->count++;
}

/* ---- Changing -------------------------------------------------------------------------------- */

void wf_model_set_bounds(struct wf_model *m, int column, double low, double high)
{
    if (!has_column(m, column))
        return;
    m->columns[column].low = low;
    m->columns[column].high = high;
}

void wf_model_set_row(struct wf_model *m, int row, double low, double high)
{
    if (!has_row(m, row))
        return;
    m->rows[row].low = low;
    m->rows[row].high = high;
}

void wf_model_set_cost(struct wf_model *m, int column, double cost)
{
    if (has_column(m, column))
        m->columns[column].cost = cost;
}

void wf_model_set_integer(struct wf_model *m, int column, bool integer)
{
    if (has_column(m, column))
        m->columns[column].integer = integer;
}

void wf_model_set_offset(struct wf_model *m, double offset)
{
    m->offset = offset;
}

void wf_model_clear_costs(struct wf_model *m)
{
    for (int j = 0; j < m->column_count; j++)
        m->columns[j].cost = 0;
    m->offset = 0;
}

/* ---- Reading --------------------------------------------------------------------------------- */

int wf_model_columns(const struct wf_model *m)
{
    return m->column_count;
}

int wf_model_rows(const struct wf_model *m)
{
    return m->row_count;
}

int wf_model_terms(const struct wf_model *m)
{
    int count = 0;
    for (int i = 0; i < m->row_count; i++)
        for (int k = 0; k < m->rows[i].count; k++)
            count += wf_model_term_counts(&m->rows[i].terms[k]);
    return count;
}

double wf_model_low(const struct wf_model *m, int column)
{
    return m->columns[column].low;
}

double wf_model_high(const struct wf_model *m, int column)
{
    return m->columns[column].high;
}

double wf_model_cost(const struct wf_model *m, int column)
{
    return m->columns[column].cost;
}

bool wf_model_integer(const struct wf_model *m, int column)
{
    return m->columns[column].integer;
}

double wf_model_row_low(const struct wf_model *m, int row)
{
    return m->rows[row].low;
}

double wf_model_row_high(const struct wf_model *m, int row)
{
    return m->rows[row].high;
}

const char *wf_model_column_label(const struct wf_model *m, int column)
{
    return m->columns[column].label;
}

const char *wf_model_row_label(const struct wf_model *m, int row)
{
    return m->rows[row].label;
}

double wf_model_offset(const struct wf_model *m)
{
    return m->offset;
}

int wf_model_row_terms(const struct wf_model *m, int row, int *columns, double *values)
{
    const struct wf_model_row *r = &m->rows[row];
    int count = 0;
    for (int k = 0; k < r->count; k++) {
        if (!wf_model_term_counts(&r->terms[k]))
            continue;
        columns[count] = r->terms[k].column;
        values[count] = r->terms[k].value;
        count++;
    }
    return count;
}

/* ---- What a point is worth ------------------------------------------------------------------- */

double wf_model_row_value(const struct wf_model *m, int row, const double *x)
{
    const struct wf_model_row *r = &m->rows[row];
    double sum = 0;
    for (int k = 0; k < r->count; k++)
        if (wf_model_term_counts(&r->terms[k]))
            sum += r->terms[k].value * x[r->terms[k].column];
    return sum;
}

double wf_model_value(const struct wf_model *m, const double *x)
{
    double sum = m->offset;
    for (int j = 0; j < m->column_count; j++)
        if (m->columns[j].cost != 0)
            sum += m->columns[j].cost * x[j];
    return sum;
}

/* How far v is outside low..high, in units of max(1, |the bound it passes|); infinite for NaN. */
static double outside(double v, double low, double high)
{
    if (isnan(v))
        return HUGE_VAL;
    if (v < low)
        return (low - v) / fmax(1, fabs(low));
    if (v > high)
        return (v - high) / fmax(1, fabs(high));
    return 0;
}

static double column_violation(const struct wf_model_column *c, double x, bool whole)
{
    double worst = outside(x, c->low, c->high);
    if (whole && c->integer && isfinite(x))
        worst = fmax(worst, fabs(x - round(x)));
    return worst;
}

static double violation(const struct wf_model *m, const double *x, bool whole, int *row)
{
    double worst = 0;
    int worst_row = -1;
    for (int j = 0; j < m->column_count; j++)
        worst = fmax(worst, column_violation(&m->columns[j], x[j], whole));
    for (int i = 0; i < m->row_count; i++) {
        double v = outside(wf_model_row_value(m, i, x), m->rows[i].low, m->rows[i].high);
        if (v > worst) {
            worst = v;
            worst_row = i;
        }
    }
    if (row)
        *row = worst_row;
    return worst;
}

double wf_model_violation(const struct wf_model *m, const double *x, int *row)
{
    return violation(m, x, true, row);
}

double wf_model_violation_relaxed(const struct wf_model *m, const double *x, int *row)
{
    return violation(m, x, false, row);
}
