/*
 * drawn_day.h: recipes and brewhouses for tests of the brew day: drawn from a seed, or one plain
 * one that can be reckoned by hand.
 */
#ifndef WF_DRAWN_DAY_H
#define WF_DRAWN_DAY_H

#include "wortfit/brewday.h"

struct drawn {
    struct wf_recipe recipe;
    struct wf_recipe_malt malts[6];
    struct wf_recipe_hop hops[4];
    struct wf_brewhouse brewhouse;
    struct wf_brewday_options options;
};

/* The next recipe of the seed; false where the laws cover no such beer. */
bool drawn_day_draw(struct drawn *d);
/* 5 kg of malt and 500 g of sugar in 20 L. */
void drawn_day_plain(struct drawn *d);
enum wf_status drawn_day_plan(const struct drawn *d, const struct wf_catalogue *c,
                              struct wf_brewday **day, struct wf_error *e);
/* kg of extract in a litre; the gravity is of the laws' range. */
double extract_per_l(double sg);

#endif
