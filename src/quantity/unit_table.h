/*
 * unit_table.h: every unit that the grammar knows, one row each, with its way to the dimension's
 * internal unit and back; and what a dimension allows.
 */
#ifndef WF_UNIT_TABLE_H
#define WF_UNIT_TABLE_H

#include "wortfit/quantity.h"
#include "wortfit/status.h"

typedef enum wf_status wf_unit_law(double figure, double *out);

struct wf_unit {
    enum wf_dimension dimension;
    const char *symbol; /* ASCII case is ignored; a blank in it, and blanks round "/", are free */
    bool common;        /* named in messages */
    double scale;       /* internal = scale x figure + offset, unless there are laws */
    double offset;
    wf_unit_law *to, *from; /* to the internal unit and back; both or neither */
    const char *source;
};

extern const struct wf_unit wf_unit_table[];
extern const size_t wf_unit_count;

struct wf_dimension_row {
    const char *unit, *called, *example; /* as in quantity.h */
    bool bare;                           /* may be written without a unit */
    bool sum;                            /* may be a sum of units: "9 lb 9.5 oz", "1 h 30 min" */
    double least, most;                  /* internal unit: what is past them is a slip */
    const char *hint;                    /* said after "no known unit", or "" */
};

extern const struct wf_dimension_row wf_dimension_table[];

/* The unit of this dimension that the whole of text names, or NULL. */
const struct wf_unit *wf_unit_find(enum wf_dimension d, const char *text);
/* The same in any dimension, the first in the table's order. */
const struct wf_unit *wf_unit_find_any(const char *text);
/* True for two spellings of one unit. */
bool wf_unit_same(const struct wf_unit *a, const struct wf_unit *b);

/* False where a law has no value for the figure. */
bool wf_unit_to_internal(const struct wf_unit *u, double figure, double *out);
bool wf_unit_from_internal(const struct wf_unit *u, double internal, double *out);

#endif
