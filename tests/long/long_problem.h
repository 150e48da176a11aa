/*
 * long_problem.h: one problem of the long run: made from its number, solved, told, and forgotten.
 */
#ifndef WF_LONG_PROBLEM_H
#define WF_LONG_PROBLEM_H

#include <stdint.h>

/* How one went. */
enum long_end {
    LONG_RECIPE,
    LONG_NONE,      /* there is none */
    LONG_UNDECIDED, /* by the time that no user set: what came out depends on the machine */
    LONG_WRONG,     /* anything else */
    LONG_END_COUNT
};

struct long_answer {
    enum long_end end;
    uint64_t print;  /* of every byte that a program would be told: status, recipe, messages */
    double seconds;  /* processor time of this thread in wf_solve */
    double on_clock; /* seconds that the search took by the clock */
};

struct long_answer long_solve(uint64_t number);

#endif
