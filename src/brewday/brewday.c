/* brewday.c: a brew day, part by part. */
#include "brewday/brewday_parts.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/try.h"

#include <math.h>
#include <string.h>

void wf_brewday_usual(struct wf_brewday_options *o)
{
    *o = (struct wf_brewday_options){
        .volumes = (double)NAN,
        .priming = WF_DEXTROSE,
        .beer_celsius = (double)NAN,
        .grain_celsius = (double)NAN,
        .mash_celsius = (double)NAN,
        .volume_step_l = 0.01,
    };
}

/* ---- What the recipe's lines are ------------------------------------------------------------- */

static const struct wf_yeast *yeast_of(const struct wf_recipe *r, const struct wf_store *s,
                                       const struct wf_catalogue *c)
{
    const struct wf_yeast *y = r->yeast.id ? wf_store_yeast(s, r->yeast.id) : NULL;
    if (!y && r->yeast.of)
        y = wf_catalogue_yeast(c, r->yeast.of);
    return y || !r->yeast.id ? y : wf_catalogue_yeast(c, r->yeast.id);
}

static const struct wf_malt *malt_of(const struct wf_recipe_malt *m, const struct wf_store *s,
                                     const struct wf_catalogue *c)
{
    const struct wf_malt *found = wf_store_malt(s, m->id);
    if (!found && m->of)
        found = wf_catalogue_malt(c, m->of);
    return found ? found : wf_catalogue_malt(c, m->id);
}

/* Whether a list "gluten, oats" has the word of that length. */
static bool has_word(const char *list, const char *word, size_t length)
{
    for (const char *at = list; *at; at += strspn(at, ", ")) {
        size_t bytes = strcspn(at, ",");
        if (bytes == length && memcmp(at, word, length) == 0)
            return true;
        at += bytes;
    }
    return false;
}

/* Each word once, in the order in which the grist names them. */
static void add_allergens(struct wf_brewday *d, const char *list)
{
    for (const char *at = list; at && *at; at += strspn(at, ", ")) {
        size_t bytes = strcspn(at, ","), used = strlen(d->allergens);
        if (!has_word(d->allergens, at, bytes))
            wf_snprintf(d->allergens + used, sizeof d->allergens - used, "%s%.*s", used ? ", " : "",
                        (int)bytes, at);
        at += bytes;
    }
}

/* A malt of which nothing is known is taken for one of gluten: most are. */
static void list_allergens(struct wf_brewday *d, const struct wf_store *s,
                           const struct wf_catalogue *c)
{
    for (size_t i = 0; i < d->recipe->malt_count; i++) {
        const struct wf_recipe_malt *m = &d->recipe->malts[i];
        const struct wf_malt *known = malt_of(m, s, c);
        add_allergens(d, known && known->allergens ? known->allergens
                         : m->grain.mashed         ? "gluten"
                                                   : "");
    }
}

/* The target's wish for the gravity, where the recipe was held against one or found for one. */
static struct wf_range window_of(const struct wf_recipe *r)
{
    for (size_t i = 0; i < r->wish_count; i++)
        if (strcmp(r->wishes[i].wish, "original gravity") == 0)
            return r->wishes[i].wanted;
    return wf_range_any();
}

/* ---- Where it is ----------------------------------------------------------------------------- */

/* Water boils at 100 C at sea level by definition of what brewers reckon with; the law of its
 * vapour is a few thousandths off there. */
static enum wf_status plan_height(struct wf_planning *p)
{
    struct wf_brewday *d = p->day;
    d->altitude_m = p->brewhouse->altitude_m;
    d->air_bar = WF_AIR_BAR;
    d->boiling_celsius = 100;
    d->bitterness_less = 0;
    if (d->altitude_m == 0)
        return WF_OK;
    WF_TRY(wf_air_bar(d->altitude_m, &d->air_bar));
    WF_TRY(wf_height_bitterness(d->altitude_m, &d->bitterness_less));
    return wf_boiling_celsius(d->air_bar, &d->boiling_celsius);
}

double wf_hottest(const struct wf_brewday *d)
{
    return d->boiling_celsius - WF_POURED_C;
}

/* ---- The day --------------------------------------------------------------------------------- */

static enum wf_status plan_all(struct wf_planning *p)
{
    static enum wf_status (*const part[])(struct wf_planning *) = {
        plan_height,  wf_plan_water, wf_plan_mash,      wf_plan_run_off, wf_plan_vessels,
        wf_plan_boil, wf_plan_yeast, wf_plan_packaging, wf_plan_points,
    };
    for (size_t i = 0; i < WF_COUNT_OF(part); i++) {
        size_t told = p->e->count;
        enum wf_status status = part[i](p);
        if (status != WF_OK && p->e->count == told)
            return wf_error_add(p->e, status,
                                "recipe \"%s\": no brew day that the laws of brewing cover",
                                p->recipe->name ? p->recipe->name : "");
        WF_TRY(status);
    }
    return WF_OK;
}

enum wf_status wf_brewday_plan(const struct wf_recipe *r, const struct wf_brewhouse *b,
                               const struct wf_store *s, const struct wf_catalogue *c,
                               const struct wf_brewday_options *o, struct wf_brewday **out,
                               struct wf_error *e)
{
    struct wf_error own = {0};
    struct wf_brewhouse usual;
    struct wf_arena *arena = wf_arena_new();
    struct wf_brewday *d = arena ? wf_arena_alloc(arena, 1, sizeof *d) : NULL;
    struct wf_planning p = {d, r, b ? b : &usual, yeast_of(r, s, c), o, e ? e : &own};
    *out = NULL;
    if (!d) {
        wf_arena_free(arena);
        return wf_error_add(p.e, WF_MEMORY, "out of memory while planning a brew day");
    }
    wf_brewhouse_default(WF_UNITS_METRIC, &usual);
    d->arena = arena;
    d->recipe = r;
    d->brewhouse = b ? b->name : NULL;
    d->shrinkage = p.brewhouse->shrinkage;
    d->og_window = window_of(r);
    list_allergens(d, s, c);
    enum wf_status status = plan_all(&p);
    if (status != WF_OK) {
        wf_arena_free(arena);
        return status;
    }
    *out = d;
    return WF_OK;
}

void wf_brewday_free(struct wf_brewday *d)
{
    if (d)
        wf_arena_free(d->arena);
}
