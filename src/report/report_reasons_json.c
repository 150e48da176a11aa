/* report_reasons_json.c: why there is no recipe, for programs: see recipe.schema.json. */
#include "report/reason_words.h"
#include "report/report_parts.h"

#include "base/number.h"
#include "base/try.h"
#include "pantry/words.h"

#include <math.h>

static void put_clean(struct wf_json_put *j, const char *key, double value)
{
    wf_put_number(j, key, round(value * 1e9) / 1e9);
}

/* Hands a text over to the file. */
static void put_words(struct wf_json_put *j, const char *key, struct wf_text *words)
{
    j->out->failed = j->out->failed || words->failed;
    wf_put_string(j, key, words->data);
    wf_text_free(words);
}

/* ---- Conflicts ------------------------------------------------------------------------------- */

static void put_members(struct wf_json_put *j, const struct wf_demand *d)
{
    static const char *const end[] = {
        [WF_END_NONE] = NULL, [WF_END_LEAST] = "low", [WF_END_MOST] = "high"};
    wf_put_string(j, "of", wf_demand_word(d->kind));
    wf_put_string(j, "what", d->subject);
    wf_put_string(j, "end", end[d->end]);
    if (d->end != WF_END_NONE)
        wf_put_string(j, "kind", wf_dimension_words[d->dimension]);
    put_clean(j, "bound", d->bound);
}

static void put_conflict(struct wf_json_put *j, const struct wf_conflict *c)
{
    wf_put_open(j, NULL, '{', false);
    wf_put_open(j, "demands", '[', false);
    for (size_t i = 0; i < c->demand_count; i++) {
        wf_put_open(j, NULL, '{', true);
        put_members(j, &c->demands[i]);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
    wf_put_bool(j, "irreducible", c->irreducible);
    wf_put_close(j, '}');
}

/* In words; where no conflict was settled, what the nearest recipe misses. */
static void put_reasons(struct wf_json_put *j, const struct wf_reasons *why,
                        const struct wf_recipe *nearest)
{
    if (why->conflict_count == 0 && nearest) {
        wf_put_misses(j, nearest);
        return;
    }
    wf_put_open(j, "reasons", '[', false);
    for (size_t i = 0; i < why->conflict_count; i++) {
        struct wf_text words = {0};
        wf_words_of_conflict(&words, &why->conflicts[i], WF_UNITS_METRIC);
        put_words(j, NULL, &words);
    }
    wf_put_close(j, ']');
}

/* ---- Changes --------------------------------------------------------------------------------- */

static void put_shift(struct wf_json_put *j, const struct wf_shift *s)
{
    bool packs = s->demand.kind == WF_DEMAND_YEASTS;
    wf_put_open(j, NULL, '{', true);
    put_members(j, &s->demand);
    wf_put_string(j, "id", s->id);
    wf_put_string(j, "name", s->name);
    if (!isnan(s->more))
        wf_put_bool(j, "in_store", !s->shop);
    put_clean(j, isnan(s->more) ? "to" : packs ? "packs" : "kg", s->to);
    put_clean(j, packs ? "more_packs" : "more_kg", s->more);
    put_clean(j, "cost", s->cost);
    if (!isnan(s->cost) && s->currency && *s->currency)
        wf_put_string(j, "currency", s->currency);
    wf_put_bool(j, "least", s->least);
    wf_put_close(j, '}');
}

static void put_change(struct wf_json_put *j, const struct wf_remedy *r)
{
    struct wf_text words = {0};
    wf_put_open(j, NULL, '{', false);
    wf_words_of_remedy(&words, r, WF_UNITS_METRIC);
    put_words(j, "words", &words);
    wf_put_open(j, "shifts", '[', false);
    for (size_t i = 0; i < r->shift_count; i++)
        put_shift(j, &r->shifts[i]);
    wf_put_close(j, ']');
    if (r->bought) {
        put_clean(j, "cost", r->cost);
        if (*r->currency)
            wf_put_string(j, "currency", r->currency);
        if (r->note && *r->note)
            wf_put_string(j, "price_note", r->note);
    }
    wf_put_close(j, '}');
}

/* ---- The whole ------------------------------------------------------------------------------- */

enum wf_status wf_report_none_json(const struct wf_reasons *why, const struct wf_recipe *nearest,
                                   char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "recipe", why->target);
    wf_put_string(&j, "status", wf_recipe_status_name(WF_RECIPE_NONE));
    put_reasons(&j, why, nearest);
    wf_put_open(&j, "conflicts", '[', false);
    for (size_t i = 0; i < why->conflict_count; i++)
        put_conflict(&j, &why->conflicts[i]);
    wf_put_close(&j, ']');
    wf_put_open(&j, "remedies", '[', false);
    for (size_t i = 0; i < why->remedy_count; i++)
        put_change(&j, &why->remedies[i]);
    wf_put_close(&j, ']');
    wf_put_bool(&j, "complete", why->complete);
    if (nearest)
        wf_put_closest(&j, nearest);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
