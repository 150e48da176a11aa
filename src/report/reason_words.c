/* reason_words.c: see reason_words.h. */
#include "report/reason_words.h"

#include "base/number.h"
#include "base/try.h"

#include <math.h>

/* ---- Demands --------------------------------------------------------------------------------- */

/* What is said around the subject of a demand that is not of a figure: as it is demanded, with one
 * thing more let in (its name comes first), and left out. */
static const struct {
    const char *only, *only_after, *let_in, *without, *without_after;
} words[WF_DEMAND_COUNT_OF] = {
    [WF_DEMAND_USE] = {"", " in it", "", "without ", ""},
    [WF_DEMAND_AVOID] = {"none of the ", "", ", one of the ", "none of the ", " avoided"},
    [WF_DEMAND_ONLY] = {"only the ", "", " too among the ", "others beside the ", ""},
    [WF_DEMAND_YEAST] = {"only the ", "", " too among the ", "others beside the ", ""},
    [WF_DEMAND_SLOT_HOPS] = {"only the ", "", " too among the ", "others beside the ", ""},
    [WF_DEMAND_ORIGINS] = {"only the ", "", " too among the ", "others beside the ", ""},
    [WF_DEMAND_USUAL_SHARES] = {"no malt beyond its usual greatest share", "", "",
                                "malts beyond their usual greatest shares", ""},
    [WF_DEMAND_MALTS] = {"", "", "", "", ""},
    [WF_DEMAND_HOPS] = {"", "", "", "", ""},
    [WF_DEMAND_YEASTS] = {"", "", "", "", ""},
};

static const char *subject_of(const struct wf_demand *d)
{
    return d->kind == WF_DEMAND_USUAL_SHARES ? "" : d->subject;
}

static void add(struct wf_text *out, const char *before, const char *middle, const char *after)
{
    wf_text_add(out, "%s", before);
    wf_plain_add(out, middle);
    wf_text_add(out, "%s", after);
}

static const char *figure(const struct wf_demand *d, double value, enum wf_units units,
                          char text[64])
{
    return wf_style_figure(d->dimension, value, units, text, 64);
}

/* An end as a range of its own, which is written with a digit more where it needs one. */
static const char *end_of(const struct wf_demand *d, enum wf_units units, char text[64])
{
    const struct wf_range least = {d->bound, INFINITY, NAN},
                          most = {-(double)INFINITY, d->bound, NAN};
    wf_style_range(d->dimension, d->end == WF_END_LEAST ? least : most, units, text, 64);
    return text + 3; /* past ">= " */
}

void wf_words_of_demand(struct wf_text *out, const struct wf_demand *d, enum wf_units units)
{
    char text[64];
    if (d->end == WF_END_NONE) {
        add(out, words[d->kind].only, subject_of(d), words[d->kind].only_after);
        return;
    }
    wf_plain_add(out, d->subject);
    wf_text_add(out, " at %s %s", d->end == WF_END_LEAST ? "least" : "most",
                end_of(d, units, text));
}

void wf_words_of_conflict(struct wf_text *out, const struct wf_conflict *c, enum wf_units units)
{
    for (size_t i = 0; i < c->demand_count; i++) {
        wf_text_add(out, "%s", i == 0 ? "" : i + 1 < c->demand_count ? ", " : " and ");
        wf_words_of_demand(out, &c->demands[i], units);
    }
    wf_text_add(out, "%s",
                c->demand_count == 0   ? "there is no recipe whatever is wished"
                : c->demand_count == 1 ? " cannot be met"
                                       : " cannot hold together");
    if (!c->irreducible)
        wf_text_add(out, ", perhaps fewer of them");
}

/* ---- Changes --------------------------------------------------------------------------------- */

static void add_money(struct wf_text *out, double money, const char *currency)
{
    wf_text_add(out, "%.2f%s", money, currency && *currency ? " " : "");
    wf_plain_add(out, currency);
}

/* "450 g more of Pilsner malt", "a pack of Clean ale yeast" */
static void add_goods(struct wf_text *out, const struct wf_shift *s, enum wf_units units)
{
    char text[64];
    bool packs = s->demand.kind == WF_DEMAND_YEASTS;
    if (packs)
        wf_text_add(out, "a pack");
    else
        wf_text_add(out, "%s", wf_quantity_print(WF_DIM_MASS, s->more, units, text, sizeof text));
    add(out, s->shop || packs ? " of " : " more of ", s->name, "");
    if (s->shop)
        wf_text_add(out, " (not in the store)");
    if (!isnan(s->cost)) {
        wf_text_add(out, ": ");
        add_money(out, s->cost, s->currency);
    }
}

static void add_end(struct wf_text *out, const struct wf_shift *s, enum wf_units units)
{
    const struct wf_demand *d = &s->demand;
    char text[64];
    if (isnan(s->to)) {
        add(out, d->end == WF_END_LEAST ? "no least " : "no greatest ", d->subject, "");
        return;
    }
    wf_plain_add(out, d->subject);
    wf_text_add(out, " %s %s", d->end == WF_END_LEAST ? "down to" : "up to",
                figure(d, s->to, units, text));
}

/* One malt more than it is usual to take. */
static void add_usual(struct wf_text *out, const struct wf_shift *s, enum wf_units units)
{
    char text[64];
    add(out, "share of ", s->name, "");
    wf_text_add(out, " up to %s, more than is usual",
                wf_quantity_print(WF_DIM_SHARE, s->to, units, text, sizeof text));
}

void wf_words_of_shift(struct wf_text *out, const struct wf_shift *s, enum wf_units units)
{
    const struct wf_demand *d = &s->demand;
    if (!isnan(s->more))
        add_goods(out, s, units);
    else if (d->end != WF_END_NONE)
        add_end(out, s, units);
    else if (s->id && d->kind == WF_DEMAND_USUAL_SHARES)
        add_usual(out, s, units);
    else if (s->id)
        add(out, s->name, words[d->kind].let_in, d->subject);
    else
        add(out, words[d->kind].without, subject_of(d), words[d->kind].without_after);
    if (!s->least)
        wf_text_add(out, ", perhaps less");
}

void wf_words_of_sum(struct wf_text *out, const struct wf_remedy *r)
{
    size_t bought = 0;
    for (size_t i = 0; i < r->shift_count; i++)
        bought += isnan(r->shifts[i].more) ? 0 : 1;
    if (bought < 2 || isnan(r->cost))
        return;
    wf_text_add(out, "in all ");
    add_money(out, r->cost, r->currency);
}

void wf_words_of_remedy(struct wf_text *out, const struct wf_remedy *r, enum wf_units units)
{
    struct wf_text sum = {0};
    for (size_t i = 0; i < r->shift_count; i++) {
        wf_text_add(out, "%s", i > 0 ? "; " : "");
        wf_words_of_shift(out, &r->shifts[i], units);
    }
    wf_words_of_sum(&sum, r);
    if (sum.data)
        wf_text_add(out, "; %s", sum.data);
    out->failed = out->failed || sum.failed;
    wf_text_free(&sum);
}
