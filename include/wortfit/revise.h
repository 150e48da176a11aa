/*
 * revise.h: from a recipe to the nearest other one: what stays of it as a target, and how far one
 * recipe is from another.
 *
 *     wf_recipe_target(recipe, &holds, &target, &error);      what the recipe is
 *     ... change the target's wishes, or the store ...
 *     options.goals[0] = WF_GOAL_CHANGE; options.from = recipe;
 *     wf_solve(target, store, brewhouse, &options, &revised, &error);
 */
#ifndef WORTFIT_REVISE_H
#define WORTFIT_REVISE_H

#include "wortfit/choices.h"
#include "wortfit/pantry.h"

/* ---- How far one recipe is from another ------------------------------------------------------ */

/*
 * The sum of the changes in weight, in steps that weigh about the same with a brewer (the project's
 * own measure): 1 % of the recipe's grist, 0.1 g/L of a late hop; of an early hop the dose counts
 * for WF_CHANGE_EARLY, since what it leaves is its bitterness. An ingredient that comes or goes is
 * WF_CHANGE_INGREDIENT more, so that nobody gets a pinch of six new malts; of hops each addition is
 * one. Another yeast is WF_CHANGE_YEAST, the difference of the attenuations in per cent,
 * WF_CHANGE_AROMA times that of the scores for esters and phenols, and WF_CHANGE_FAMILY if it is of
 * another family.
 *
 * What comes is weighed by how unlike it is to the nearest of the recipe's malts, or hops, that
 * are gone (`gone`), and where none is, of all: WF_CHANGE_ALIKE, and the difference of their
 * scores, summed over the words, by WF_CHANGE_SCORES, and of malts of another class
 * WF_CHANGE_CLASS; at most WF_CHANGE_UNLIKE, and at least 1 where none is gone. The charge for one
 * that comes is weighed so too, but is no more than that. So Vienna stands in for Munich before
 * sugar does, and what is there is taken more of before another comes.
 *
 * Lots of the same catalogue entry, or with the same figures, are one ingredient, whatever their
 * ids. The recipe's weights are taken at the other one's batch.
 */
#define WF_CHANGE_SHARE      0.01 /* of the grist */
#define WF_CHANGE_DOSE       0.1  /* g/L */
#define WF_CHANGE_EARLY      0.3
#define WF_CHANGE_INGREDIENT 5.0
#define WF_CHANGE_ALIKE      0.25
#define WF_CHANGE_SCORES     8.0
#define WF_CHANGE_CLASS      0.5
#define WF_CHANGE_UNLIKE     2.0
#define WF_CHANGE_YEAST      5.0
#define WF_CHANGE_AROMA      2.0
#define WF_CHANGE_FAMILY     10.0
double wf_recipe_change(const struct wf_recipe *from, const struct wf_recipe *to);

/* ---- What a recipe is, as a target ----------------------------------------------------------- */

/*
 * How closely a figure is held (common practice: what a hydrometer, an eye and a tongue miss);
 * each is an aim at the recipe's own figure with this much either way. Colour and the ratio: or
 * that part of the figure, if that is more. A late hop may be more or less by WF_HOLD_DOSE and that
 * part of its dose; early ones are held by the ratio alone. Diastatic power: what it is, or 35
 * Lintner if that is less.
 */
#define WF_HOLD_GRAVITY       0.001
#define WF_HOLD_FINAL_GRAVITY 0.002
#define WF_HOLD_COLOUR        1.0 /* SRM */
#define WF_HOLD_COLOUR_PART   0.05
#define WF_HOLD_RATIO         0.02
#define WF_HOLD_RATIO_PART    0.05
#define WF_HOLD_INDEX         0.3 /* of character */
#define WF_HOLD_DOSE          0.3 /* g/L */
#define WF_HOLD_DOSE_PART     0.25

/*
 * A target that the recipe meets: its figures, held `loose` times as loosely as above (1: as
 * above), its character words, and its additions as slots, which take one variety more than they
 * hold. A malt that is more of the grist than is usual may be a tenth more again. The batch and the
 * boil are the recipe's. It names no yeast: the goal of least change keeps it. *out points to
 * nothing of the recipe; it is yours to wf_target_free.
 */
enum wf_status wf_recipe_target(const struct wf_recipe *r, double loose, struct wf_target **out,
                                struct wf_error *e) WF_MUST_USE;

/* A store of what the recipe has, as much as is wanted, with its figures, and, if `shop` is not
 * NULL, what that sells beside. It points into both, which must outlive it. */
enum wf_status wf_recipe_lots(const struct wf_recipe *r, const struct wf_store *shop,
                              struct wf_store **out, struct wf_error *e) WF_MUST_USE;

/* ---- Revised recipes ------------------------------------------------------------------------- */

/* What is wished otherwise; all else is held. Words go together: where one of the malts' is wished
 * otherwise, the malts' others are held WF_HOLD_OTHER_WORDS times and the colour WF_HOLD_WITH_WORDS
 * times as loosely, and where one of the late hops' is, their others so and their doses freely. */
#define WF_HOLD_OTHER_WORDS 2.0
#define WF_HOLD_WITH_WORDS  3.0
struct wf_revision {
    struct wf_range og, colour, ratio, bitterness, fg, abv; /* any: held */
    struct wf_range words[WF_WORD_COUNT];                   /* any: held */
    const char *const *use, *const *avoid;                  /* NULL-terminated; NULL: none */
    const struct wf_rule *rules;                            /* hold beside the recipe's figures */
    size_t rule_count;
    const struct wf_target *also; /* its rules, `only`, `use` and `avoid` hold too; NULL */
};
void wf_revision_none(struct wf_revision *v);

/* The figures that are held are tried at these multiples of their tolerances, one after the other,
 * until there is a recipe. */
#define WF_LOOSER_LIST                                                                             \
    {                                                                                              \
        1, 2, 4, 8                                                                                 \
    }

struct wf_revised {
    struct wf_alternatives *found; /* the nearest first */
    double loose;                  /* the multiple that gave them; of the nearest of all: 1 */
    /* Of WF_NO_RECIPE: what was wished, of which reasons.h tells why it cannot be. It points into
     * the revision. */
    struct wf_target *target;
};

/*
 * The recipes that change least, the nearest first, and up to `wanted` more, each unlike those
 * before it. Options: goals and `from` are not looked at. WF_NO_RECIPE: not at any multiple;
 * *out then holds the nearest for the first, or nothing.
 * *out is yours to wf_revised_clear.
 */
enum wf_status wf_recipe_revise(const struct wf_recipe *r, const struct wf_revision *v,
                                const struct wf_store *s, const struct wf_brewhouse *b,
                                const struct wf_solve_options *o, size_t wanted,
                                struct wf_revised *out, struct wf_error *e) WF_MUST_USE;
void wf_revised_clear(struct wf_revised *v);

/* A figure that the recipe `is` does not hold as closely as at first: what is lost. False: held. */
bool wf_wish_lost(const struct wf_wish_result *w, double loose);

#endif
