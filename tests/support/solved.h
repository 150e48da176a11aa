/*
 * solved.h: a generated problem solved and judged, and a check that prints the whole case when it
 * fails. To be included after support/test.h.
 */
#ifndef WF_SOLVED_H
#define WF_SOLVED_H

#include "support/judge.h"
#include "wortfit/solve.h"

#define SOLVED_GAP     1e-4 /* that wf_solve proves unless told otherwise */
#define SOLVED_SECONDS 10.0

struct solved {
    enum wf_status status;
    struct wf_recipe *recipe; /* NULL: none */
    struct gen_recipe weights;
    struct verdict verdict;
    double value, bound; /* of the first goal; NaN without a proof */
    bool proved;         /* the recipe's status is optimal */
    struct wf_error error;
};

/* Solves for these goals within the time, 0 for SOLVED_SECONDS, and judges what comes out. */
void solved_make(struct gen *g, const enum wf_goal *goals, size_t count, double seconds,
                 struct solved *out);
void solved_free(struct solved *s);

/* What is wrong with the answer; NULL: it is a recipe that the judge agrees with in every point:
 * wishes, weights, figures, values, and a bound that is none too high. */
const char *solved_wrong(const struct gen *g, const struct solved *s, enum wf_goal goal);
/* Fails the test, with the case and the answer, where something is. */
void solved_check(const struct gen *g, const struct solved *s, enum wf_goal goal, const char *file,
                  int line);
#define assert_solved(g, s, goal) solved_check((g), (s), (goal), __FILE__, __LINE__)

/* How much worse than the best a value may be and still be called proved: the gap; or, since nobody
 * could tell, 3 % of the way from an aim to its window's end, and 5 g of what could have waited. */
double solved_room(enum wf_goal goal, double value);

void solved_fail(const struct gen *g, const struct solved *s, const char *what, const char *file,
                 int line);
#define assert_case(g, s, condition)                                                               \
    ((condition) ? (void)0 : solved_fail((g), (s), #condition, __FILE__, __LINE__))

#endif
