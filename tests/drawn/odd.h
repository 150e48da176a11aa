/*
 * odd.h: small problems, plain and odd ones: figures at the ends of what a file may hold, twins,
 * empty bags, windows of no width, jugs and tanks. An odd one may have no recipe.
 */
#ifndef WF_DRAWN_ODD_H
#define WF_DRAWN_ODD_H

#include "support/generate.h"
#include "wortfit/solve.h"

struct gen *odd_make(uint64_t seed);
/* The goal that goes with a seed. */
enum wf_goal odd_goal(uint64_t seed);

#endif
