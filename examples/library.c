/*
 * library.c: a beer from a store, by libwortfit: a built-in target, the lots of a store file, and
 * what can be brewed from them, in three lines.
 *
 *     cc -std=c17 library.c -lwortfit -lglpk -lcjson -lm -o library
 *     ./library amber-ale alder-lane-cellar.json
 *
 * The pattern is always the same: `T **out` is yours to free, a status says how it went, and the
 * error holds what to tell a person. The library itself prints nothing.
 */
#include <wortfit/wortfit.h>

#include <stdio.h>

struct beer {
    struct wf_catalogue *catalogue;
    struct wf_target *target;
    struct wf_store *store;
    struct wf_recipe *recipe;
};

/* Of each step only if those before it went well. */
static enum wf_status work_out(struct beer *b, const char *target, const char *store,
                               struct wf_error *e)
{
    struct wf_brewhouse brewhouse;
    const struct wf_solve_options options = {.goals = {WF_GOAL_COST},
                                             .goal_count = 1,
                                             .today = WF_NO_DATE}; /* hops are as on their labels */
    enum wf_status status = wf_catalogue_read(&b->catalogue, e);
    if (status == WF_OK)
        status = wf_target_find(target, b->catalogue, &b->target, e);
    if (status == WF_OK)
        status = wf_store_read(store, b->catalogue, &b->store, e);
    if (status != WF_OK)
        return status;
    wf_brewhouse_default(WF_UNITS_METRIC, &brewhouse);
    status = wf_solve(b->target, b->store, &brewhouse, &options, &b->recipe, e);
    if (status == WF_OK)
        status =
            wf_recipe_add_ranges(b->recipe, b->target, &brewhouse.spread, WF_SURE_PROBABILITY, e);
    return status;
}

static void print(const struct wf_recipe *r)
{
    const struct wf_beer *low = &r->ranges->low, *high = &r->ranges->high;
    double kg = 0, grams = 0;
    for (size_t i = 0; i < r->malt_count; i++)
        kg += r->malts[i].kg;
    for (size_t i = 0; i < r->hop_count; i++)
        grams += r->hops[i].grams;
    printf("%s: %.2f kg of %zu malts, %.0f g of hops, %s\n", r->name, kg, r->malt_count, grams,
           r->yeast.name != NULL ? r->yeast.name : "no yeast");
    printf("gravity %.3f (9 brews in 10: %.3f..%.3f), %.1f SRM, %.0f IBU\n", r->predicted.og,
           low->og, high->og, r->predicted.srm, r->predicted.ibu);
    printf("%.2f %s, and no recipe costs less than %.2f\n", r->cost, r->currency,
           r->proofs[0].bound);
}

int main(int argc, char **argv)
{
    static struct wf_error error;
    struct beer b = {0};
    if (argc != 3) {
        fprintf(stderr, "usage: library TARGET STORE\n");
        return 1;
    }
    enum wf_status status = work_out(&b, argv[1], argv[2], &error);
    if (status == WF_OK)
        print(b.recipe);
    else
        fprintf(stderr, "library: %s\n", error.text);
    wf_recipe_free(b.recipe);
    wf_store_free(b.store);
    wf_target_free(b.target);
    wf_catalogue_free(b.catalogue);
    return wf_status_exit(status);
}
