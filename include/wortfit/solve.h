/*
 * solve.h: from a target, a store and a brewhouse to a recipe, proved.
 *
 *     enum wf_status s = wf_solve(target, store, brewhouse, &options, &recipe, &error);
 *
 * WF_OK: a recipe that meets every wish. WF_NO_RECIPE: none exists; *out then holds the nearest
 * recipe (status WF_RECIPE_NONE) with each wish it misses, or NULL where there is not even that;
 * the error says so. WF_UNDECIDED: none was found in the time, and none ruled out. Then, and for
 * anything else, *out is NULL.
 */
#ifndef WORTFIT_SOLVE_H
#define WORTFIT_SOLVE_H

#include "wortfit/pantry.h"

/* id, word, what is made small. These can be asked for by name. */
#define WF_GOAL_LIST(X)                                                                            \
    X(COST, "cost", "lowest cost")                                                                 \
    X(FEWEST, "fewest", "fewest ingredients")                                                      \
    X(CLOSEST, "closest", "closest to the aims")                                                   \
    X(USE_UP, "use-up", "most use of the oldest and opened lots")

enum wf_goal {
#define WF_X(id, word, text) WF_GOAL_##id,
    WF_GOAL_LIST(WF_X)
#undef WF_X
        WF_GOAL_CHANGE, /* "change": least change from `from`, alone; revise.h */
    WF_GOAL_COUNT
};
const char *wf_goal_word(enum wf_goal g);
const char *wf_goal_text(enum wf_goal g);

struct wf_solve_options {
    enum wf_goal goals[WF_GOAL_COUNT]; /* in order of rank, none twice */
    size_t goal_count;                 /* 0: cost */
    const struct wf_recipe *from;      /* for WF_GOAL_CHANGE; else not looked at */
    double seconds;                    /* about; 0: ended by work, at some 10 s */
    double gap;                        /* stop once proved this close; 0: 0.0001 */
    long today;                  /* days since 1970-01-01, for the ageing of hops and use-up */
    const volatile bool *cancel; /* polled; NULL: never. Set: WF_CANCELLED */
    /* Told now and then during long work: seconds so far, best value and bound (NaN: none yet). */
    void (*progress)(void *data, double seconds, double value, double bound);
    void *progress_data;
};

enum wf_status wf_solve(const struct wf_target *t, const struct wf_store *s,
                        const struct wf_brewhouse *b, const struct wf_solve_options *o,
                        struct wf_recipe **out, struct wf_error *e) WF_MUST_USE;

/* Writes the integer model of the first goal, whole recipe, as CPLEX LP text: what an independent
 * solver can be given. *text is the caller's to free with wf_text_release(). */
enum wf_status wf_solve_model_text(const struct wf_target *t, const struct wf_store *s,
                                   const struct wf_brewhouse *b, const struct wf_solve_options *o,
                                   char **text, struct wf_error *e) WF_MUST_USE;
void wf_text_release(char *text);

#endif
