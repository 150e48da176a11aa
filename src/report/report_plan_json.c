/* report_plan_json.c: a plan for programs: see plan.schema.json beside this file. */
#include "wortfit/report.h"

#include "report/report_parts.h"
#include "wortfit/plan.h"

#include <math.h>

static const char *const kind_words[WF_KIND_COUNT] = {
    [WF_KIND_MALT] = "malt", [WF_KIND_HOP] = "hop", [WF_KIND_YEAST] = "yeast"};
static const char *const unit_words[WF_KIND_COUNT] = {
    [WF_KIND_MALT] = "kg", [WF_KIND_HOP] = "g", [WF_KIND_YEAST] = "packs"};

/* Without the noise of sums. */
static double clean(double value)
{
    return round(value * 1e9) / 1e9;
}

static void put_beers(struct wf_json_put *j, const struct wf_plan *p)
{
    wf_put_open(j, "beers", '[', false);
    for (size_t b = 0; b < p->beer_count; b++) {
        const struct wf_plan_place *beer = &p->beers[b];
        wf_put_open(j, NULL, '{', false);
        wf_put_string(j, "beer", beer->name);
        wf_put_number(j, "batch_l", beer->batch_l);
        wf_put_bool(j, "possible_alone", beer->possible);
        if (beer->recipe != NULL) {
            wf_put_open(j, "recipe", '{', false);
            wf_put_recipe(j, beer->recipe);
            wf_put_close(j, '}');
        }
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_lots(struct wf_json_put *j, const struct wf_plan *p)
{
    wf_put_open(j, "lots", '[', false);
    for (size_t l = 0; l < p->lot_count; l++) {
        const struct wf_plan_lot *lot = &p->lots[l];
        wf_put_open(j, NULL, '{', false);
        wf_put_string(j, "kind", kind_words[lot->kind]);
        wf_put_string(j, "id", lot->id);
        wf_put_string(j, "name", lot->name);
        wf_put_string(j, "unit", unit_words[lot->kind]);
        wf_put_bool(j, "from_shop", lot->new_lot);
        wf_put_number(j, "in_hand", clean(lot->hand));
        wf_put_number(j, "used", clean(lot->used));
        wf_put_number(j, "left", clean(lot->hand + lot->buy - lot->used));
        wf_put_open(j, "by_beer", '[', true);
        for (size_t b = 0; b < p->beer_count; b++)
            wf_put_number(j, NULL, clean(lot->by_beer[b]));
        wf_put_close(j, ']');
        if (lot->buy > 0) {
            wf_put_number(j, "buy", clean(lot->buy));
            wf_put_number(j, "pack", lot->pack);
            wf_put_number(j, "packs", lot->packs);
            wf_put_number(j, "money", clean(lot->money));
        }
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_lacks(struct wf_json_put *j, const struct wf_plan *p)
{
    wf_put_open(j, "lacks", '[', false);
    for (size_t i = 0; i < p->lack_count; i++) {
        const struct wf_plan_lack *k = &p->lacks[i];
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "kind", kind_words[k->kind]);
        wf_put_string(j, "id", k->id);
        wf_put_string(j, "name", k->name);
        wf_put_string(j, "unit", unit_words[k->kind]);
        wf_put_number(j, "more", clean(k->amount));
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_proofs(struct wf_json_put *j, const struct wf_plan *p)
{
    wf_put_open(j, "proofs", '[', false);
    for (size_t i = 0; i < p->proof_count; i++) {
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "goal", p->proofs[i].goal);
        wf_put_number(j, "value", clean(p->proofs[i].value));
        wf_put_number(j, "bound", p->proofs[i].bound);
        wf_put_number(j, "gap", p->proofs[i].gap);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

enum wf_status wf_report_plan_json(const struct wf_plan *p, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    bool none = p->status == WF_RECIPE_NONE;
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "status", wf_recipe_status_name(p->status));
    wf_put_bool(&j, "as_many_as_can", p->as_many);
    wf_put_count(&j, "brewed", p->brewed);
    if (!none) {
        wf_put_number(&j, "money", clean(p->money));
        wf_put_number(&j, "worth", clean(p->worth));
        wf_put_string(&j, "currency", p->currency);
        wf_put_count(&j, "unpriced", p->unpriced);
    }
    put_beers(&j, p);
    if (none) {
        put_lacks(&j, p);
    } else {
        put_lots(&j, p);
        put_proofs(&j, p);
    }
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
