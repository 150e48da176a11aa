/*
 * brewday_parts.h: the parts of the day, each in a file of its own and in the order in which they
 * are planned: each uses what those before it have found.
 */
#ifndef WF_BREWDAY_PARTS_H
#define WF_BREWDAY_PARTS_H

#include "wortfit/brewday.h"

struct wf_planning {
    struct wf_brewday *day; /* being filled */
    const struct wf_recipe *recipe;
    const struct wf_brewhouse *brewhouse; /* never NULL */
    const struct wf_yeast *yeast;         /* NULL: none was named, or its figures are not known */
    const struct wf_brewday_options *options;
    struct wf_error *e;
};

/* What boiling water loses on its way to the mash, and cold water from the tap: common practice. */
#define WF_POURED_C 2.0
#define WF_TAP_C    15.0

/* The hottest water that reaches the mash. */
double wf_hottest(const struct wf_brewday *d);

/* SG; weaker is water: no remedy strengthens it, and the volume of extract in it is not reckoned.
 */
#define WF_WORT_LEAST 1.002

/* How a fermentable gets into the wort. Sugars go in late, so that the boil does not darken them;
 * where there is neither grain nor extract, they are the wort. */
enum wf_way_in { WF_IN_MASH, WF_IN_EARLY, WF_IN_LATE };
enum wf_way_in wf_way_in(const struct wf_recipe *r, const struct wf_recipe_malt *m);

/* kg of extract in the wort that come this way. */
enum wf_status wf_extract_of(const struct wf_recipe *r, enum wf_way_in way, double *kg) WF_MUST_USE;

enum wf_status wf_plan_water(struct wf_planning *p) WF_MUST_USE;
enum wf_status wf_plan_mash(struct wf_planning *p) WF_MUST_USE;
enum wf_status wf_plan_run_off(struct wf_planning *p) WF_MUST_USE;
enum wf_status wf_plan_vessels(struct wf_planning *p) WF_MUST_USE;
enum wf_status wf_plan_boil(struct wf_planning *p) WF_MUST_USE;
enum wf_status wf_plan_yeast(struct wf_planning *p) WF_MUST_USE;
enum wf_status wf_plan_packaging(struct wf_planning *p) WF_MUST_USE;
enum wf_status wf_plan_points(struct wf_planning *p) WF_MUST_USE;

#endif
