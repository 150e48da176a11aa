/* report_survey_json.c: the survey for programs: see survey.schema.json beside this file. */
#include "wortfit/report.h"

#include "base/try.h"
#include "pantry/words.h"
#include "report/json_put.h"
#include "report/report_parts.h"
#include "wortfit/survey.h"

#include <math.h>

static void put_clean(struct wf_json_put *j, const char *key, double value)
{
    wf_put_number(j, key, round(value * 1e9) / 1e9);
}

static const struct {
    const char *kind, *amount, *used, *pack;
} kind_rows[] = {
    [WF_KIND_MALT] = {"malt", "kg", "used_kg", "pack_kg"},
    [WF_KIND_HOP] = {"hop", "g", "used_g", "pack_g"},
    [WF_KIND_YEAST] = {"yeast", "packs", "used_packs", "pack"},
};
_Static_assert(WF_COUNT_OF(kind_rows) == WF_KIND_COUNT, "one row a kind");

static void put_purchase(struct wf_json_put *j, const struct wf_purchase *p)
{
    wf_put_open(j, NULL, '{', true);
    wf_put_string(j, "kind", kind_rows[p->kind].kind);
    wf_put_string(j, "id", p->id);
    wf_put_string(j, "name", p->name);
    put_clean(j, kind_rows[p->kind].amount, p->amount);
    if (isfinite(p->pack)) {
        put_clean(j, kind_rows[p->kind].used, p->used);
        put_clean(j, kind_rows[p->kind].pack, p->pack);
    }
    put_clean(j, "cost", p->cost);
    wf_put_close(j, '}');
}

static void put_misses(struct wf_json_put *j, const struct wf_recipe *r)
{
    wf_put_open(j, "misses", '[', false);
    for (size_t i = 0; r != NULL && i < r->wish_count; i++) {
        const struct wf_wish_result *w = &r->wishes[i];
        if (w->met)
            continue;
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "wish", w->wish);
        wf_put_string(j, "kind", wf_dimension_words[w->dimension]);
        put_clean(j, "low", w->wanted.low);
        put_clean(j, "high", w->wanted.high);
        put_clean(j, "got", w->got);
        put_clean(j, "missed_by", w->missed_by);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_figures(struct wf_json_put *j, const struct wf_beer *b)
{
    wf_put_open(j, "predicted", '{', true);
    put_clean(j, "og", b->og);
    put_clean(j, "fg", b->fg);
    put_clean(j, "abv", b->abv);
    put_clean(j, "srm", b->srm);
    put_clean(j, "ibu", b->ibu);
    put_clean(j, "ratio", b->ratio);
    wf_put_close(j, '}');
}

static void put_proof(struct wf_json_put *j, const struct wf_proof *p)
{
    wf_put_open(j, "proof", '{', true);
    wf_put_string(j, "goal", p->goal);
    put_clean(j, "value", p->value);
    put_clean(j, "bound", p->bound);
    put_clean(j, "gap", p->gap);
    wf_put_close(j, '}');
}

static void put_found(struct wf_json_put *j, const struct wf_surveyed *b)
{
    put_clean(j, b->verdict == WF_VERDICT_NOW ? "cost" : "spent", b->recipe->cost);
    put_clean(j, "off_aims", b->off_aims);
    put_figures(j, &b->recipe->predicted);
    if (b->recipe->proof_count > 0)
        put_proof(j, &b->recipe->proofs[0]);
}

static void put_best_buy(struct wf_json_put *j, const struct wf_best_buy *b)
{
    if (b->id == NULL)
        return;
    wf_put_open(j, "best_buy", '{', true);
    wf_put_string(j, "kind", kind_rows[b->kind].kind);
    wf_put_string(j, "id", b->id);
    wf_put_string(j, "name", b->name);
    wf_put_bool(j, "at_least", b->at_least);
    wf_put_open(j, "beers", '[', true);
    for (size_t i = 0; i < b->count; i++)
        wf_put_string(j, NULL, b->beers[i]->id);
    wf_put_close(j, ']');
    wf_put_close(j, '}');
}

static void put_beer(struct wf_json_put *j, const struct wf_surveyed *b)
{
    wf_put_open(j, NULL, '{', false);
    wf_put_string(j, "beer", b->target->id);
    wf_put_string(j, "name", b->target->name);
    wf_put_string(j, "group", b->target->group);
    wf_put_string(j, "verdict", wf_verdict_word(b->verdict));
    if (b->verdict == WF_VERDICT_NOW || b->verdict == WF_VERDICT_BUY)
        put_found(j, b);
    if (b->verdict == WF_VERDICT_BUY) {
        wf_put_open(j, "buy", '[', false);
        for (size_t i = 0; i < b->basket_count; i++)
            put_purchase(j, &b->basket[i]);
        wf_put_close(j, ']');
    }
    if (b->verdict == WF_VERDICT_NOT)
        put_misses(j, b->recipe);
    wf_put_close(j, '}');
}

enum wf_status wf_report_survey_json(const struct wf_survey *v, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "survey", v->store);
    wf_put_string(&j, "currency", v->currency);
    wf_put_string(&j, "price_note", v->note);
    wf_put_string(&j, "shop", v->shop);
    wf_put_string(&j, "shop_currency", v->shop_currency);
    wf_put_string(&j, "shop_price_note", v->shop_note);
    if (v->shop != NULL)
        wf_put_count(&j, "not_for_sale", v->not_for_sale);
    wf_put_bool(&j, "yeast_asked", !v->no_yeasts);
    put_best_buy(&j, &v->best_buy);
    wf_put_open(&j, "beers", '[', false);
    for (size_t i = 0; i < v->count; i++)
        put_beer(&j, &v->beers[i]);
    wf_put_close(&j, ']');
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
