/* kitchen.c: lots and wishes of a problem made by hand. */
#include "support/kitchen.h"

#include <math.h>

struct wf_range kitchen_around(double aim, double half)
{
    return (struct wf_range){aim - half, aim + half, aim};
}

void kitchen_set_up(struct kitchen *k, double batch_l, double efficiency)
{
    const struct wf_range any = wf_range_any();
    *k = (struct kitchen){.store = {.name = "kitchen", .malts = k->malts, .hops = k->hops},
                          .target = {.id = "example",
                                     .name = "example",
                                     .batch_l = (double)NAN,
                                     .boil_minutes = (double)NAN,
                                     .og = any,
                                     .colour = any,
                                     .ratio = any,
                                     .bitterness = any,
                                     .fg = any,
                                     .abv = any,
                                     .attenuation = any,
                                     .only = {.all = true},
                                     .rules = k->rules}};
    wf_brewhouse_default(WF_UNITS_METRIC, &k->brewhouse);
    k->brewhouse.batch_l = batch_l;
    k->brewhouse.efficiency = efficiency;
    k->brewhouse.batch_given = k->brewhouse.boil_given = true;
    k->brewhouse.step_malt_kg = k->brewhouse.step_specialty_kg = batch_l / 20000; /* 1 g in 20 L */
    k->brewhouse.least_malt_kg = k->brewhouse.step_malt_kg;
    k->brewhouse.step_hop_g = k->brewhouse.least_hop_g = 0.1;
}

void kitchen_add_malt(struct kitchen *k, const char *id, double yield, bool mashed)
{
    struct wf_malt *m = &k->malts[k->store.malt_count++];
    *m = (struct wf_malt){
        .id = id,
        .name = id,
        .class = mashed ? WF_CLASS_BASE : WF_CLASS_OTHER,
        .grain = {.yield = yield, .lovibond = 2, .fermentability = 1, .mashed = mashed},
        .usual_most = 1,
        .have_kg = (double)INFINITY,
        .price_per_kg = 1,
        .pack_kg = (double)NAN,
        .step_kg = (double)NAN,
        .most = (double)NAN,
        .packed = WF_NO_DATE,
        .opened = WF_NO_DATE};
}

void kitchen_add_share(struct kitchen *k, const char *id, double share, double half)
{
    size_t i = k->target.rule_count++;
    k->ids[i][0] = id;
    k->rules[i] = (struct wf_rule){.who = {.ids = k->ids[i]},
                                   .share = kitchen_around(share, half),
                                   .words = id,
                                   .least = -1,
                                   .most = -1};
}

void kitchen_add_hop(struct kitchen *k, const char *id, double alpha)
{
    k->hops[k->store.hop_count++] = (struct wf_hop){.id = id,
                                                    .name = id,
                                                    .alpha = alpha,
                                                    .have_g = (double)INFINITY,
                                                    .price_per_kg = 30,
                                                    .pack_kg = (double)NAN,
                                                    .step_kg = (double)NAN,
                                                    .packed = WF_NO_DATE,
                                                    .opened = WF_NO_DATE,
                                                    .kept_celsius = 20};
}

void kitchen_add_slot(struct kitchen *k, double minutes)
{
    k->slot = (struct wf_slot){
        .use = WF_HOP_BOIL, .minutes = minutes, .dose = wf_range_any(), .most = 1, .at = "boil"};
    k->target.slots = &k->slot;
    k->target.slot_count = 1;
    k->brewhouse.boil_minutes = fmax(60, minutes);
}
