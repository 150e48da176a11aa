/*
 * report_json.c: a recipe as the file that every command reads: see src/pantry/recipe.schema.json.
 * All figures that the laws need are written, so that a recipe stands without the store it came
 * from.
 */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "pantry/words.h"
#include "report/json_put.h"
#include "report/report_parts.h"
#include "report/style.h"

#include <math.h>
#include <string.h>

/* A weight or a sum of money without the noise in its last bits: 82 steps of 50 g are 4.1 kg, not
 * 4.1000000000000005. No scale shows a millionth of a gram. */
static void write_clean(struct wf_json_put *j, const char *key, double value)
{
    wf_put_number(j, key, round(value * 1e9) / 1e9);
}

static void write_identity(struct wf_json_put *j, const char *id, const char *of, const char *name)
{
    wf_put_string(j, "id", id);
    if (of && strcmp(of, id) != 0)
        wf_put_string(j, "is", of);
    wf_put_string(j, "name", name);
}

/* The words that have a score, from `first` on. */
static void write_scores(struct wf_json_put *j, const double *scores, int first, int count)
{
    wf_put_open(j, "character", '{', true);
    for (int i = 0; i < count; i++)
        if (scores[i] > 0)
            wf_put_number(j, wf_word_name((enum wf_word)(first + i)), scores[i]);
    wf_put_close(j, '}');
}

/* ---- What goes in ---------------------------------------------------------------------------- */

static void write_kettle(struct wf_json_put *j, const struct wf_recipe *r)
{
    const struct wf_kettle *k = &r->kettle;
    wf_put_number(j, "batch_l", k->batch_l);
    wf_put_open(j, "kettle", '{', true);
    wf_put_number(j, "efficiency", k->efficiency);
    wf_put_number(j, "boil_min", k->boil_minutes);
    wf_put_number(j, "evaporation_l_h", k->evaporation_l_h);
    wf_put_string(j, "utilisation", wf_law_words[k->law]);
    if (k->bitterness_factor > 0 && k->bitterness_factor != 1)
        wf_put_number(j, "bitterness_factor", k->bitterness_factor);
    if (k->colour_factor > 0 && k->colour_factor != 1)
        wf_put_number(j, "colour_factor", k->colour_factor);
    wf_put_close(j, '}');
    if (isnan(r->stand_length) || isnan(r->stand_celsius))
        return;
    wf_put_open(j, "stand", '{', true);
    wf_put_number(j, "minutes", r->stand_length);
    wf_put_number(j, "temperature_c", r->stand_celsius);
    wf_put_close(j, '}');
}

static void write_malt(struct wf_json_put *j, const struct wf_recipe_malt *m)
{
    wf_put_open(j, NULL, '{', false);
    write_identity(j, m->id, m->of, m->name);
    wf_put_string(j, "class", wf_malt_class_name(m->class));
    write_clean(j, "kg", m->kg);
    wf_put_number(j, "share", m->share);
    wf_put_number(j, "yield", m->grain.yield);
    wf_put_number(j, "lovibond", m->grain.lovibond);
    wf_put_number(j, "lintner", m->grain.lintner);
    wf_put_number(j, "fermentability", m->grain.fermentability);
    wf_put_bool(j, "sugar", m->grain.sugar);
    wf_put_bool(j, "mashed", m->grain.mashed);
    wf_put_number(j, "usual_most", m->usual_most);
    write_scores(j, m->character, 0, WF_MALT_WORD_COUNT);
    write_clean(j, "cost", m->cost);
    wf_put_close(j, '}');
}

static void write_hop(struct wf_json_put *j, const struct wf_recipe_hop *h)
{
    const struct wf_addition *a = &h->addition;
    wf_put_open(j, NULL, '{', false);
    write_identity(j, h->id, h->of, h->name);
    write_clean(j, "g", h->grams);
    wf_put_number(j, "alpha", a->alpha);
    wf_put_string(j, "use", wf_hop_use_words[a->use]);
    if (a->use == WF_HOP_BOIL || a->use == WF_HOP_STAND)
        wf_put_number(j, "minutes", a->minutes);
    if (a->use == WF_HOP_STAND)
        wf_put_number(j, "temperature_c", a->celsius);
    if (a->use == WF_HOP_DRY)
        wf_put_number(j, "days", h->days);
    wf_put_string(j, "form", wf_form_words[h->whole]);
    wf_put_number(j, "ibu", h->ibu);
    write_scores(j, h->character, WF_MALT_WORD_COUNT, WF_WORD_COUNT - WF_MALT_WORD_COUNT);
    write_clean(j, "cost", h->cost);
    wf_put_close(j, '}');
}

static void write_yeast(struct wf_json_put *j, const struct wf_recipe *r)
{
    if (!r->yeast.id)
        return;
    wf_put_open(j, "yeast", '{', true);
    write_identity(j, r->yeast.id, r->yeast.of, r->yeast.name);
    wf_put_string(j, "family", r->yeast.family);
    wf_put_number(j, "attenuation", r->yeast.attenuation);
    write_clean(j, "cost", r->yeast.cost);
    wf_put_close(j, '}');
}

static void write_ingredients(struct wf_json_put *j, const struct wf_recipe *r)
{
    wf_put_open(j, "malts", '[', false);
    for (size_t i = 0; i < r->malt_count; i++)
        write_malt(j, &r->malts[i]);
    wf_put_close(j, ']');
    wf_put_open(j, "hops", '[', false);
    for (size_t i = 0; i < r->hop_count; i++)
        write_hop(j, &r->hops[i]);
    wf_put_close(j, ']');
    write_yeast(j, r);
}

/* ---- What comes out -------------------------------------------------------------------------- */

static void write_predicted(struct wf_json_put *j, const struct wf_beer *b)
{
    const struct {
        const char *key;
        double value;
    } figures[] = {
        {"og", b->og},
        {"fg", b->fg},
        {"plato", b->plato},
        {"abv", b->abv},
        {"srm", b->srm},
        {"ebc", b->ebc},
        {"ibu", b->ibu},
        {"ratio", b->ratio},
        {"boil_gravity", b->boil_gravity},
        {"lintner", b->lintner},
        {"attenuation", b->attenuation},
    };
    wf_put_open(j, "predicted", '{', false);
    for (size_t i = 0; i < WF_COUNT_OF(figures); i++)
        wf_put_number(j, figures[i].key, figures[i].value);
    wf_put_close(j, '}');
}

static void write_cost(struct wf_json_put *j, const struct wf_recipe *r)
{
    write_clean(j, "cost", r->cost);
    if (r->currency && *r->currency)
        wf_put_string(j, "currency", r->currency);
    if (r->price_note && *r->price_note)
        wf_put_string(j, "price_note", r->price_note);
    wf_put_count(j, "unpriced", r->unpriced);
    wf_put_count(j, "ingredients", r->ingredients);
}

static void write_wishes(struct wf_json_put *j, const struct wf_recipe *r)
{
    wf_put_open(j, "wishes", '[', false);
    for (size_t i = 0; i < r->wish_count; i++) {
        const struct wf_wish_result *w = &r->wishes[i];
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "wish", w->wish);
        wf_put_string(j, "kind", wf_dimension_words[w->dimension]);
        wf_put_number(j, "low", w->wanted.low);
        wf_put_number(j, "high", w->wanted.high);
        wf_put_number(j, "aim", w->wanted.aim);
        wf_put_number(j, "got", w->got);
        wf_put_bool(j, "met", w->met);
        if (!w->met)
            wf_put_number(j, "missed_by", w->missed_by);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void write_proof(struct wf_json_put *j, const char *key, const struct wf_proof *p)
{
    wf_put_open(j, key, '{', true);
    wf_put_string(j, "goal", p->goal);
    wf_put_number(j, "value", p->value);
    wf_put_number(j, "bound", p->bound);
    wf_put_number(j, "gap", p->gap);
    wf_put_close(j, '}');
}

static void write_proofs(struct wf_json_put *j, const struct wf_recipe *r)
{
    if (r->proof_count > 0)
        write_proof(j, "proof", &r->proofs[0]);
    if (r->proof_count < 2)
        return;
    wf_put_open(j, "proofs", '[', false);
    for (size_t i = 0; i < r->proof_count; i++)
        write_proof(j, NULL, &r->proofs[i]);
    wf_put_close(j, ']');
}

/* All of a recipe but its name and status. */
static void write_body(struct wf_json_put *j, const struct wf_recipe *r)
{
    write_kettle(j, r);
    write_ingredients(j, r);
    write_predicted(j, &r->predicted);
    wf_put_ranges(j, r);
    write_scores(j, r->character, 0, WF_WORD_COUNT);
    write_cost(j, r);
    write_wishes(j, r);
    write_proofs(j, r);
    wf_put_leans(j, r);
}

/* ---- No recipe ------------------------------------------------------------------------------- */

static void write_reason(struct wf_json_put *j, const struct wf_wish_result *w)
{
    char wanted[64], got[64], by[64], reason[512];
    wf_snprintf(reason, sizeof reason, "%s: wanted %s, the nearest recipe gives %s, %s", w->wish,
                wf_style_range(w->dimension, w->wanted, WF_UNITS_METRIC, wanted, sizeof wanted),
                wf_style_figure(w->dimension, w->got, WF_UNITS_METRIC, got, sizeof got),
                wf_part_missed(w, WF_UNITS_METRIC, by, sizeof by));
    wf_put_string(j, NULL, reason);
}

void wf_put_misses(struct wf_json_put *j, const struct wf_recipe *r)
{
    wf_put_open(j, "reasons", '[', false);
    for (size_t i = 0; i < r->wish_count; i++)
        if (!r->wishes[i].met)
            write_reason(j, &r->wishes[i]);
    wf_put_close(j, ']');
}

void wf_put_closest(struct wf_json_put *j, const struct wf_recipe *r)
{
    wf_put_open(j, "closest", '{', false);
    wf_put_string(j, "recipe", r->name);
    write_body(j, r);
    wf_put_close(j, '}');
}

void wf_put_recipe(struct wf_json_put *j, const struct wf_recipe *r)
{
    wf_put_string(j, "recipe", r->name);
    wf_put_string(j, "status", wf_recipe_status_name(r->status));
    if (r->status == WF_RECIPE_NONE) {
        wf_put_misses(j, r);
        wf_put_closest(j, r);
    } else {
        write_body(j, r);
    }
}

enum wf_status wf_report_recipe_json(const struct wf_recipe *r, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '{', false);
    wf_put_recipe(&j, r);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
