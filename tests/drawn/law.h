/*
 * law.h: every law of brewing as a function of an array, with its range and which way it goes along
 * each input.
 */
#ifndef WF_DRAWN_LAW_H
#define WF_DRAWN_LAW_H

#include "wortfit/brewing.h"
#include "wortfit/process.h"

#include <math.h>

#define LAW_INPUTS_MOST 5

struct law_input {
    double least, most, inside;
    int slope;   /* +1, -1: nowhere the other way; 0: no claim */
    double join; /* where the law changes its form; NaN: nowhere known */
    bool jumps;  /* on purpose, just above `join` or at it: see brewing.h */
};

struct law {
    const char *name;
    enum wf_status (*law)(const double *in, double *out);
    size_t inputs;
    struct law_input in[LAW_INPUTS_MOST];
    double rounding; /* of terms that cancel, in the law's unit */
};

extern const struct law laws[]; /* ended by a row without a name */

#endif
