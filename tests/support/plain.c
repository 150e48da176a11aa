/* plain.c: the lots of the plain problem, and its target. */
#include "support/plain.h"

#include "support/generate_parts.h"

#include <math.h>
#include <string.h>

#define COUNT_OF(array) (sizeof(array) / sizeof((array)[0]))

static const struct wf_malt plain_malts[] = {
    [PALE] = {.id = "pale",
              .class = WF_CLASS_BASE,
              .price_per_kg = 1.5,
              .usual_most = 1,
              .grain = {0.78, 2, 100, 1, false, true}},
    [OLD_SACK] = {.id = "old-sack",
                  .class = WF_CLASS_BASE,
                  .price_per_kg = 1.7,
                  .usual_most = 1,
                  .grain = {0.78, 2, 100, 1, false, true}},
    [CRYSTAL] = {.id = "crystal",
                 .class = WF_CLASS_CARAMEL,
                 .price_per_kg = 2.8,
                 .usual_most = 0.15,
                 .grain = {0.72, 60, 0, 0.74, false, true}},
    [ROASTED] = {.id = "roasted",
                 .class = WF_CLASS_ROAST,
                 .price_per_kg = 2.6,
                 .usual_most = 0.1,
                 .grain = {0.68, 450, 0, 0.65, false, true}},
};
static const struct wf_hop plain_hops[] = {
    [BITTER] = {.id = "bitter", .alpha = 0.1, .six_month_loss = 0.35, .price_per_kg = 40},
    [AROMATIC] = {.id = "aromatic", .alpha = 0.05, .six_month_loss = 0.5, .price_per_kg = 45},
};
static const struct wf_yeast plain_yeasts[] = {
    [SWEET] = {.id = "sweet",
               .family = "ale",
               .attenuation_low = 0.63,
               .attenuation_high = 0.67,
               .price = 4},
    [DRY] = {.id = "dry",
             .family = "lager",
             .attenuation_low = 0.78,
             .attenuation_high = 0.82,
             .price = 5},
};
const struct wf_slot plain_slots[2] = {
    {.use = WF_HOP_BOIL, .minutes = 60, .most = 1, .at = "60 min"},
    {.use = WF_HOP_DRY, .days = 4, .most = 1, .at = "dry 4 days"},
};

/* ---- The plain problem ----------------------------------------------------------------------- */

static void set_lots(struct gen *g)
{
    memcpy(g->store.malts, plain_malts, sizeof plain_malts);
    memcpy(g->store.hops, plain_hops, sizeof plain_hops);
    memcpy(g->store.yeasts, plain_yeasts, sizeof plain_yeasts);
    for (size_t i = 0; i < g->store.malt_count; i++) {
        struct wf_malt *m = &g->store.malts[i];
        m->name = m->id;
        m->have_kg = (double)INFINITY;
        m->fine_dry = m->moisture = m->pack_kg = m->step_kg = m->most = (double)NAN;
        m->packed = m->opened = WF_NO_DATE;
    }
    for (size_t i = 0; i < g->store.hop_count; i++) {
        struct wf_hop *h = &g->store.hops[i];
        h->name = h->id;
        h->have_g = (double)INFINITY;
        h->pack_kg = h->step_kg = (double)NAN;
        h->packed = h->opened = WF_NO_DATE;
        h->kept_celsius = 20;
    }
    for (size_t i = 0; i < g->store.yeast_count; i++) {
        struct wf_yeast *y = &g->store.yeasts[i];
        y->name = y->id;
        y->have = (double)INFINITY;
        y->packed = y->opened = WF_NO_DATE;
    }
}

struct gen *plain_make(void)
{
    const struct gen_options o = {.seed = 1,
                                  .malts = COUNT_OF(plain_malts),
                                  .hops = COUNT_OF(plain_hops),
                                  .yeasts = COUNT_OF(plain_yeasts),
                                  .slots = 2,
                                  .scale = GEN_COARSE,
                                  .planted = true};
    struct gen *g = gen_make(&o);
    struct wf_slot *slots = gen_room(g, COUNT_OF(plain_slots), sizeof *slots);
    memcpy(slots, plain_slots, sizeof plain_slots);
    for (size_t i = 0; i < COUNT_OF(plain_slots); i++)
        slots[i].dose = wf_range_any();
    set_lots(g);
    wf_brewhouse_default(WF_UNITS_METRIC, &g->brewhouse);
    g->brewhouse.batch_given = g->brewhouse.boil_given = true;
    struct wf_range any = wf_range_any();
    g->target = (struct wf_target){.id = "plain",
                                   .name = "plain",
                                   .batch_l = (double)NAN,
                                   .boil_minutes = (double)NAN,
                                   .og = {1.048, 1.052, (double)NAN},
                                   .colour = {6, 10, (double)NAN},
                                   .ratio = {0.45, 0.55, (double)NAN},
                                   .bitterness = any,
                                   .fg = any,
                                   .abv = any,
                                   .attenuation = any,
                                   .only = {.all = true},
                                   .diastatic = 35,
                                   .slots = slots,
                                   .slot_count = COUNT_OF(plain_slots)};
    g->drawn = gen_recipe_new(g);
    return g;
}
