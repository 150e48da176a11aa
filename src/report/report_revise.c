/* report_revise.c: revised recipes: what changes in weight, in the glass, and what is lost. */
#include "wortfit/report.h"

#include "base/number.h"
#include "base/try.h"
#include "pantry/words.h"
#include "report/glass.h"
#include "report/json_put.h"
#include "report/report_parts.h"
#include "report/table.h"
#include "wortfit/revise.h"
#include "wortfit/solve.h"

#include <math.h>
#include <string.h>

#define SAME_WEIGHT 1e-9
#define LABEL       12

static const char *const title[2] = {"before", "after"};

static bool other_yeast(const struct wf_comparison *c)
{
    const char *was = c->recipe[0]->yeast.id, *is = c->recipe[1]->yeast.id;
    return (was == NULL) != (is == NULL) || (was && strcmp(was, is) != 0);
}

/* The search's own value, or, of a recipe that none was made for, that of its weights. */
static double change_of(const struct wf_recipe *r, const struct wf_revision_report *v)
{
    return r->proof_count > 0 ? r->proofs[0].value : wf_recipe_change(v->from, r);
}

/* ---- Text ------------------------------------------------------------------------------------ */

static void add_yeast(struct wf_text *out, const struct wf_comparison *c,
                      const struct wf_report_style *s)
{
    char line[256];
    const char *was = c->recipe[0]->yeast.name, *is = c->recipe[1]->yeast.name;
    if (!is && !was)
        return;
    if (other_yeast(c))
        wf_snprintf(line, sizeof line, "%s, before %s", is ? is : "none", was ? was : "none");
    else
        wf_snprintf(line, sizeof line, "%s, as before", is);
    wf_text_add(out, "\n");
    wf_style_labelled(out, s, WF_MARK_STRONG, "Yeast", LABEL, line);
}

/* "colour 11.0 SRM, was 13.2 SRM" */
static void loss_text(const struct wf_wish_result *w, enum wf_units units, char *out, size_t size)
{
    char is[64], was[64];
    wf_snprintf(out, size, "%s %s, was %s", w->wish,
                wf_style_figure(w->dimension, w->got, units, is, sizeof is),
                wf_style_figure(w->dimension, w->wanted.aim, units, was, sizeof was));
}

static void add_losses(struct wf_text *out, const struct wf_recipe *r, double loose,
                       const struct wf_report_style *s)
{
    size_t count = 0;
    char line[512];
    wf_text_add(out, "\n");
    if (r->wish_count == 0)
        return; /* a swap alone holds nothing */
    for (size_t i = 0; i < r->wish_count; i++) {
        if (!wf_wish_lost(&r->wishes[i], loose))
            continue;
        loss_text(&r->wishes[i], s->units, line, sizeof line);
        wf_style_labelled(out, s, WF_MARK_BAD, count++ == 0 ? "Lost" : "", LABEL, line);
    }
    if (count == 0)
        wf_style_labelled(out, s, WF_MARK_GOOD, "Lost", LABEL,
                          "nothing: what was to be held is held");
}

/* What the recipe did not have before. */
static void add_shop(struct wf_text *out, const struct wf_comparison *c,
                     const struct wf_report_style *s)
{
    struct wf_text list = {0};
    for (size_t i = 0; i < c->malt_count; i++)
        if (!(c->malts[i].kg[0] > 0))
            wf_text_add(&list, "%s%s", list.length > 0 ? ", " : "", c->malts[i].name);
    for (size_t i = 0; i < c->hop_count; i++) {
        bool had = false;
        for (size_t k = 0; k < c->hop_count; k++)
            had = had ||
                  (strcmp(c->hops[k].id, c->hops[i].id) == 0 && (k < i || c->hops[k].grams[0] > 0));
        if (!had)
            wf_text_add(&list, "%s%s", list.length > 0 ? ", " : "", c->hops[i].name);
    }
    if (other_yeast(c) && c->recipe[1]->yeast.name)
        wf_text_add(&list, "%s%s", list.length > 0 ? ", " : "", c->recipe[1]->yeast.name);
    if (list.length > 0)
        wf_style_labelled(out, s, WF_MARK_STRONG, "From shop", LABEL, list.data);
    out->failed = out->failed || list.failed;
    wf_text_free(&list);
}

static void add_how_far(struct wf_text *out, const struct wf_recipe *r,
                        const struct wf_revision_report *v, const struct wf_report_style *s)
{
    char line[256];
    bool proved = r->status == WF_RECIPE_OPTIMAL;
    if (r->proof_count == 0)
        return;
    wf_snprintf(
        line, sizeof line, "%.1f steps%s; %s", change_of(r, v), v->base ? " after the swap" : "",
        proved ? "proved: no recipe that does it changes less" : "not proved to be the least");
    wf_style_labelled(out, s, WF_MARK_STRONG, "Change", LABEL, line);
    if (!(v->loose > 1))
        return;
    wf_snprintf(line, sizeof line,
                "what is held is held %.0f times as loosely as usual: no recipe holds it closer",
                v->loose);
    wf_style_labelled(out, s, WF_MARK_STRONG, "Loosened", LABEL, line);
}

static enum wf_status add_revised(struct wf_text *out, const struct wf_recipe *r,
                                  const struct wf_revision_report *v,
                                  const struct wf_report_style *s, struct wf_error *e)
{
    struct wf_comparison *c = NULL;
    WF_TRY(wf_compare(v->from, r, &c, e));
    wf_glass_grist(out, c, title, s);
    wf_glass_hops(out, c, title, s);
    add_yeast(out, c, s);
    wf_glass_figures(out, c, title, s);
    wf_glass_character(out, c, title, s);
    add_losses(out, r, v->loose, s);
    add_how_far(out, r, v, s);
    if (v->shop)
        add_shop(out, c, s);
    wf_comparison_free(c);
    return WF_OK;
}

static void add_head(struct wf_text *out, const struct wf_recipe *r, const char *what,
                     const struct wf_report_style *s)
{
    char litres[32];
    wf_text_add(out, "%s", wf_style_on(s, WF_MARK_STRONG));
    wf_plain_add(out, r->name);
    wf_text_add(
        out, ", %s%s: %s\n",
        wf_quantity_print(WF_DIM_VOLUME, r->kettle.batch_l, s->units, litres, sizeof litres),
        wf_style_off(s, WF_MARK_STRONG), what);
}

enum wf_status wf_report_adjust_text(const struct wf_recipe *r, const struct wf_revision_report *v,
                                     const struct wf_report_style *s, char **out,
                                     struct wf_error *e)
{
    struct wf_text text = {0};
    add_head(&text, r, "before and after", s);
    enum wf_status status = add_revised(&text, r, v, s, e);
    if (status != WF_OK) {
        wf_text_free(&text);
        return status;
    }
    return wf_text_hand_over(&text, out, e);
}

enum wf_status wf_report_substitute_text(const struct wf_alternatives *a,
                                         const struct wf_revision_report *v,
                                         const struct wf_report_style *s, char **out,
                                         struct wf_error *e)
{
    struct wf_text text = {0};
    enum wf_status status = WF_OK;
    char what[64];
    for (size_t i = 0; status == WF_OK && i < a->count; i++) {
        wf_snprintf(what, sizeof what, "%zu of %zu, %s", i + 1, a->count,
                    i == 0 ? "the nearest" : "farther");
        wf_text_add(&text, "%s", i > 0 ? "\n" : "");
        add_head(&text, a->list[i].recipe, what, s);
        status = add_revised(&text, a->list[i].recipe, v, s, e);
    }
    if (!a->complete) {
        wf_text_add(&text, "\n");
        wf_style_line(&text, s, WF_MARK_BAD,
                      "there may be nearer ones, and more: give it more time with --time");
    }
    if (status != WF_OK) {
        wf_text_free(&text);
        return status;
    }
    return wf_text_hand_over(&text, out, e);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static double clean(double value)
{
    return round(value * 1e9) / 1e9;
}

static void put_weight(struct wf_json_put *j, const char *of, const char *id, const char *name,
                       const double pair[2])
{
    wf_put_string(j, "of", of);
    wf_put_string(j, "id", id);
    wf_put_string(j, "name", name);
    wf_put_number(j, "was", clean(pair[0]));
    wf_put_number(j, "is", clean(pair[1]));
}

static void put_changes(struct wf_json_put *j, const struct wf_comparison *c)
{
    wf_put_open(j, "changes", '[', false);
    for (size_t i = 0; i < c->malt_count; i++) {
        if (fabs(c->malts[i].kg[1] - c->malts[i].kg[0]) <= SAME_WEIGHT)
            continue;
        wf_put_open(j, NULL, '{', true);
        put_weight(j, "malt", c->malts[i].id, c->malts[i].name, c->malts[i].kg);
        wf_put_close(j, '}');
    }
    for (size_t i = 0; i < c->hop_count; i++) {
        const struct wf_compared_hop *h = &c->hops[i];
        if (fabs(h->grams[1] - h->grams[0]) <= SAME_WEIGHT)
            continue;
        wf_put_open(j, NULL, '{', true);
        put_weight(j, "hop", h->id, h->name, h->grams);
        wf_put_string(j, "use", wf_hop_use_words[h->use]);
        if (h->use == WF_HOP_BOIL || h->use == WF_HOP_STAND)
            wf_put_number(j, "minutes", h->minutes);
        wf_put_close(j, '}');
    }
    if (other_yeast(c)) {
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "of", "yeast");
        wf_put_string(j, "from", c->recipe[0]->yeast.id);
        wf_put_string(j, "to", c->recipe[1]->yeast.id);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_losses(struct wf_json_put *j, const struct wf_recipe *r, double loose)
{
    char line[512];
    wf_put_open(j, "lost", '[', false);
    for (size_t i = 0; i < r->wish_count; i++)
        if (wf_wish_lost(&r->wishes[i], loose)) {
            loss_text(&r->wishes[i], WF_UNITS_METRIC, line, sizeof line);
            wf_put_string(j, NULL, line);
        }
    wf_put_close(j, ']');
}

static enum wf_status put_revised(struct wf_json_put *j, const struct wf_recipe *r,
                                  const struct wf_revision_report *v, struct wf_error *e)
{
    struct wf_comparison *c = NULL;
    WF_TRY(wf_compare(v->from, r, &c, e));
    wf_put_open(j, NULL, '{', false);
    wf_put_recipe(j, r);
    wf_put_number(j, "distance", clean(change_of(r, v)));
    wf_put_number(j, "loosened", v->loose);
    put_changes(j, c);
    put_losses(j, r, v->loose);
    wf_put_close(j, '}');
    wf_comparison_free(c);
    return WF_OK;
}

enum wf_status wf_report_adjust_json(const struct wf_recipe *r, const struct wf_revision_report *v,
                                     char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    enum wf_status status = put_revised(&j, r, v, e);
    if (status != WF_OK) {
        wf_text_free(&text);
        return status;
    }
    return wf_text_hand_over(&text, out, e);
}

enum wf_status wf_report_substitute_json(const struct wf_alternatives *a,
                                         const struct wf_revision_report *v, char **out,
                                         struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    enum wf_status status = WF_OK;
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "revises", v->from->name);
    wf_put_open(&j, "recipes", '[', false);
    for (size_t i = 0; status == WF_OK && i < a->count; i++)
        status = put_revised(&j, a->list[i].recipe, v, e);
    wf_put_close(&j, ']');
    wf_put_bool(&j, "complete", a->complete);
    wf_put_close(&j, '}');
    if (status != WF_OK) {
        wf_text_free(&text);
        return status;
    }
    return wf_text_hand_over(&text, out, e);
}
