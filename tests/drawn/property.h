/*
 * property.h: what is claimed of two problems, tried on one case; and what to do with a case that
 * fails. To be included after support/test.h.
 *
 * Answers carry a gap, so claims are made of bounds: where a recipe of one problem is surely one of
 * another (the judge says so, of the very weights), the other has a recipe, of a yeast that the
 * target likes no less, and its bound is no better than what those weights are worth there; and if
 * it was proved, its value is within the gap of that.
 */
#ifndef WF_DRAWN_PROPERTY_H
#define WF_DRAWN_PROPERTY_H

#include "drawn/change.h"
#include "support/solved.h"

enum property_outcome {
    PROPERTY_HELD,
    PROPERTY_NOT_ASKED, /* the change does not apply to the problem */
    PROPERTY_UNSURE,    /* a margin within the solver's tolerance, or undecided in its time */
    PROPERTY_FAILED
};

struct property_result {
    enum property_outcome end;
    const char *what; /* that is not so */
};

/* A problem, its goal and its answer, and the seed of the dice, so that it can be tried again. */
struct property_case {
    struct gen *g;
    enum wf_goal goal;
    uint64_t seed;
    struct solved answer;
};
typedef struct property_result property(struct property_case *p, const void *data);

void property_begin(struct property_case *p, struct gen *g, enum wf_goal goal, uint64_t seed);
void property_end(struct property_case *p); /* the problem stays */

property property_by_itself;  /* the judge agrees with the answer */
property property_of_change;  /* data: struct change */
property property_same_bytes; /* of the same problem solved twice */
property property_of_file;    /* data: enum file_form */

enum file_form {
    FILE_PLAIN,   /* written and read: the same problem */
    FILE_MEMBERS, /* members in another order, and other blanks: the same bytes come out */
    FILE_UNITS,   /* in pounds, gallons, EBC and degrees Plato: the same problem */
};

/* The claims above, forth and, where c->both, back. */
struct property_result property_judge(struct property_case *p, struct changed *c, bool never_more);

/* All that the library would tell of this problem; to be freed. */
char *property_told(const struct gen *g, enum wf_goal goal);

/* The problem of a case that fails made as small as it will go; the case stays as it is. */
struct gen property_shrink(const struct property_case *p, property *fails, const void *data);

/* Writes a failed case into a folder, as files, and tells the command that solves it. */
void property_keep(const struct gen *g, const char *name, enum wf_goal goal);

#endif
