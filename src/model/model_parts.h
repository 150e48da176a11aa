/*
 * model_parts.h: what a model is made of, for the files of the model itself (model*.c) only.
 *
 * The terms of a row are kept merged and in order of column from the first, so that walking all
 * rows costs one step a term and const models may be read by several threads.
 */
#ifndef WF_MODEL_PARTS_H
#define WF_MODEL_PARTS_H

#include "model/model.h"

#define WF_MODEL_COEFFICIENT_LEAST 1e-12 /* a smaller sum counts as no term */

struct wf_model_term {
    int column;
    double value;
};

struct wf_model_row {
    double low, high;
    const char *label;
    struct wf_model_term *terms;
    int count, capacity;
};

struct wf_model_column {
    double low, high, cost;
    const char *label;
    bool integer;
};

struct wf_model {
    struct wf_model_column *columns; /* there is always room for one: index 0 is safe to use */
    struct wf_model_row *rows;       /* likewise */
    int column_count, column_capacity;
    int row_count, row_capacity;
    double offset;
    struct wf_arena *labels;
    bool failed;    /* memory ran out: nothing is added any more */
    bool misplaced; /* a call named a row or a column that is not there */
};

static inline bool wf_model_term_counts(const struct wf_model_term *t)
{
    return !(t->value > -WF_MODEL_COEFFICIENT_LEAST && t->value < WF_MODEL_COEFFICIENT_LEAST);
}

#endif
