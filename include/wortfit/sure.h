/*
 * sure.h: how far a beer may end from what is predicted, and recipes whose whole range meets the
 * wishes.
 *
 * What a prediction rests on is off by some factor, as often too low as too high: a spread s says
 * that two times in three the truth lies between 1/(1 + s) and 1 + s times the figure (a log-normal
 * error, ln(1 + s) its standard deviation), cut off where a share would pass 1.
 *
 *     efficiency   of the mash, from brew to brew: all mashed malts alike            3 %
 *     extract      of each lot of malt, apart from the others; sugars have none      1 %
 *     colour       of the law of colour: the whole beer                              8 %
 *     alpha        of each lot of hops, apart from the others                       10 %
 *     utilisation  of the law of bitterness: all additions alike                    10 %
 *     attenuation  of the yeast                                                      3 %
 *
 * The defaults stand for a practised brewer who knows the brewhouse. Where they are from:
 *  - utilisation: J.-P. Hosom's brews with one addition of 20 min or more (brewing research blog,
 *    article 12 and his series on age): laboratory IBU over Tinseth's 0.89, 1.01 and 1.10 (60, 40,
 * 20 min), and 0.90, 0.93, 0.91 (20 min): a mean of 0.96 with a standard deviation of 0.08.
 * Additions of 10 min and less, and stands, gave up to half as much again: they are surer to be
 * more bitter than said than this spread tells;
 *  - colour: for one grist of 20 to 50 MCU the laws of Morey (1995), Mosher and Daniels (1996) lie
 *    apart with a standard deviation of 6 to 9 %;
 *  - efficiency, extract, alpha and attenuation: our assumption. A variety's usual range of alpha
 *    acid is twice as wide; 10 % is for a lot with a figure of its own.
 *
 * Method: WF_DRAWS brews of the recipe, each with its own errors, go through wf_beer_predict. Each
 * error takes the middle of each of WF_DRAWS equally likely strata once, in a shuffled order (Latin
 * hypercube: M. McKay, R. Beckman, W. Conover, Technometrics 21(2), 1979). The seed is fixed and
 * each lot's errors hang on its id alone, so that the same recipe always has the same ranges, and
 * two recipes from the same lots differ by their weights only. Weights, volumes and evaporation are
 * taken to be as said. Ends of a 90 % range are known to about 2 % of its width.
 */
#ifndef WORTFIT_SURE_H
#define WORTFIT_SURE_H

#include "wortfit/pantry.h"
#include "wortfit/solve.h"

#define WF_DRAWS            2000
#define WF_SURE_PROBABILITY 0.9 /* of the ranges that a report shows unless told otherwise */

struct wf_ranges {
    double probability; /* that each figure lies between its own low and high: the central range */
    /* NaN: not reckoned. Boil gravity and diastatic power have no range. */
    struct wf_beer low, high;
    /* Of the wishes for gravity, colour, bitterness, final gravity and alcohol; NaN: there is none.
     * The greatest probability whose central ranges each lie within their wish, and the share of
     * brews that meet all of these wishes at once. */
    double each, all;
};

/* Reckons r->ranges (in the recipe's arena). `t` NULL: no wishes. probability within 0..1, ends
 * excluded. WF_OUT_OF_RANGE: some brews would leave the range of the laws; r->ranges is then NULL.
 */
enum wf_status wf_recipe_add_ranges(struct wf_recipe *r, const struct wf_target *t,
                                    const struct wf_spread *s, double probability,
                                    struct wf_error *e) WF_MUST_USE;

/*
 * A recipe whose ranges, not only their middles, lie within the wishes for gravity, colour, ratio
 * or bitterness, final gravity and alcohol: each within its own. The brewhouse holds the spreads.
 *
 * Method: these wishes are narrowed by how far the ranges of the last recipe reach past its
 * predictions, and it is solved again, until the ranges fit. So what comes out is checked by its
 * own ranges, but is not proved to be the best of all recipes that are so sure: its proof is for
 * the first goal, against all recipes that meet the wishes as they stand. Results have ranges, and
 * a wish for each ("colour, 90 % range"; got: the end that is nearest to its wish, or furthest
 * past).
 *
 * WF_NO_RECIPE: no recipe meets the wishes (see wf_solve), or none this sure was found, most often
 * since a wish is narrower than the range of its figure; *out is then the surest one that was
 * found, as one that misses the wishes for its ranges. Not a proof that there is none.
 */
enum wf_status wf_solve_sure(const struct wf_target *t, const struct wf_store *s,
                             const struct wf_brewhouse *b, const struct wf_solve_options *o,
                             double probability, struct wf_recipe **out,
                             struct wf_error *e) WF_MUST_USE;

#endif
