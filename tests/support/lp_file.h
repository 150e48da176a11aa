/*
 * lp_file.h: linear and integer programs as small text files, with what is published of their
 * optima.
 *
 * A line is a word and what belongs to it, separated by blanks; lines that start with # are
 * comments: source TEXT                  where data and optimum are printed min | max col NAME COST
 * [LOW HIGH]     0 to inf if not given int NAME COST LOW HIGH       likewise, whole row NAME LOW
 * HIGH [COEFFICIENT COLUMN]... outcome infeasible | unbounded optimum VALUE TOLERANCE x | dual |
 * reduced | activity NAME VALUE TOLERANCE Duals and reduced costs are printed in the sense of the
 * file: of a maximum in units of the maximum.
 */
#ifndef WF_LP_FILE_H
#define WF_LP_FILE_H

#include "solve/solver.h"

enum lp_kind { LP_X, LP_DUAL, LP_REDUCED, LP_ACTIVITY };

struct lp_want {
    enum lp_kind kind;
    int index; /* of the column or row */
    double value, tolerance;
};

#define LP_WANTS_MOST 64

struct lp_file {
    struct wf_model *model; /* always minimised */
    double sign;            /* 1, or -1 where the file says max */
    bool has_source;
    enum wf_outcome outcome;
    double optimum, tolerance; /* in the sense of the file */
    struct lp_want want[LP_WANTS_MOST];
    size_t count;
};

/* Prints what is wrong and returns false. *out must be freed in any case. */
bool lp_file_read(const char *path, struct lp_file *out);
void lp_file_free(struct lp_file *f);

#endif
