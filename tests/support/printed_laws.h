/*
 * printed_laws.h: the laws of brewing as the sources of tests/published/ state their figures: one
 * function a kind of figure, called by the name that stands in the files.
 */
#ifndef WF_PRINTED_LAWS_H
#define WF_PRINTED_LAWS_H

#include <stddef.h>

#define PRINTED_INPUTS_MOST 40

struct printed_law {
    const char *name;
    size_t inputs; /* exactly so many; 0: a list of any length */
    double (*value)(const double *in, size_t n);
};

/* NULL: there is none of this name. */
const struct printed_law *printed_law_find(const char *name);
/* The same of the brew day (printed_process.c). */
const struct printed_law *printed_process_find(const char *name);

#endif
