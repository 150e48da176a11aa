/* generate_json.c: a generated problem as the files that a brewer would write. */
#include "support/generate_parts.h"

#include <math.h>

/* A member of an object: a comma before all but the first. */
static void comma(FILE *out, bool *first)
{
    if (!*first)
        fputs(", ", out);
    *first = false;
}

static void member(FILE *out, bool *first, const char *key, const char *text)
{
    comma(out, first);
    fprintf(out, "\"%s\": \"%s\"", key, text);
}

/* A figure with its unit; one that was not given is left out. */
static void figure(FILE *out, bool *first, const char *key, double value, const char *unit)
{
    if (!isfinite(value))
        return;
    comma(out, first);
    fprintf(out, "\"%s\": \"%.15g%s\"", key, value, unit);
}

/* A wanted value, times `scale` in its unit. */
static void wanted(FILE *out, bool *first, const char *key, struct wf_range r, double scale,
                   const char *unit)
{
    double below = r.aim - r.low, above = r.high - r.aim;
    if (wf_range_is_any(r))
        return;
    comma(out, first);
    fprintf(out, "\"%s\": \"", key);
    if (isinf(r.low))
        fprintf(out, "<= %.15g%s\"", r.high * scale, unit);
    else if (isinf(r.high))
        fprintf(out, ">= %.15g%s\"", r.low * scale, unit);
    else if (fabs(below - above) < 1e-9)
        fprintf(out, "%.15g%s +/- %.15g%s\"", r.aim * scale, unit, below * scale, unit);
    else
        fprintf(out, "%.15g..%.15g%s\"", r.low * scale, r.high * scale, unit);
}

static void texts(FILE *out, bool *first, const char *key, const char *const *list)
{
    if (list == NULL)
        return;
    comma(out, first);
    fprintf(out, "\"%s\": [", key);
    for (size_t i = 0; list[i] != NULL; i++)
        fprintf(out, "%s\"%s\"", i > 0 ? ", " : "", list[i]);
    fputs("]", out);
}

static void date(FILE *out, bool *first, const char *key, long days)
{
    /* Civil date of a day number: H. Fliegel, T. van Flandern, "A Machine Algorithm for Processing
     * Calendar Dates", Communications of the ACM 11(10), 1968, p. 657. */
    if (days == WF_NO_DATE)
        return;
    long l = days + 2440588 + 68569, n = 4 * l / 146097;
    l -= (146097 * n + 3) / 4;
    long year = 4000 * (l + 1) / 1461001;
    l = l - 1461 * year / 4 + 31;
    long month = 80 * l / 2447, day = l - 2447 * month / 80;
    l = month / 11;
    comma(out, first);
    fprintf(out, "\"%s\": \"%04ld-%02ld-%02ld\"", key, 100 * (n - 49) + year + l,
            month + 2 - 12 * l, day);
}

static void scores(FILE *out, bool *first, const double *score, int word, int count)
{
    bool none = true;
    comma(out, first);
    fputs("\"character\": {", out);
    for (int i = 0; i < count; i++) {
        if (score[i] <= 0)
            continue;
        comma(out, &none);
        fprintf(out, "\"%s\": %.15g", wf_word_name((enum wf_word)(word + i)), score[i]);
    }
    fputs("}", out);
}

/* ---- Store ----------------------------------------------------------------------------------- */

static void write_malt(FILE *out, const struct wf_malt *m)
{
    bool first = true;
    fputs("    { ", out);
    member(out, &first, "id", m->id);
    member(out, &first, "class", wf_malt_class_name(m->class));
    figure(out, &first, "extract", m->fine_dry * 100, " %");
    figure(out, &first, "moisture", m->moisture * 100, " %");
    figure(out, &first, "colour", m->grain.lovibond, " Lov");
    figure(out, &first, "diastatic", m->grain.lintner, " Lintner");
    figure(out, &first, "fermentability", m->grain.fermentability * 100, " %");
    figure(out, &first, "usual_most", m->usual_most * 100, " %");
    figure(out, &first, "have", m->have_kg, " kg");
    figure(out, &first, "price", m->price_per_kg, "/kg");
    figure(out, &first, "pack", m->pack_kg, " kg");
    figure(out, &first, "step", m->step_kg, " kg");
    figure(out, &first, "most", m->most * 100, " %");
    date(out, &first, "packed", m->packed);
    scores(out, &first, m->character, 0, WF_MALT_WORD_COUNT);
    fputs(" }", out);
}

static void write_hop(FILE *out, const struct wf_hop *h)
{
    static const char *const packing[] = {"open", "sealed", "vacuum"};
    bool first = true;
    fputs("    { ", out);
    member(out, &first, "id", h->id);
    member(out, &first, "origin", h->origin);
    member(out, &first, "use", !h->aroma ? "bittering" : h->bittering ? "dual" : "aroma");
    member(out, &first, "form", h->whole ? "whole" : "pellet");
    figure(out, &first, "alpha", h->alpha * 100, " %");
    figure(out, &first, "loss", h->six_month_loss * 100, " %");
    figure(out, &first, "have", h->have_g, " g");
    figure(out, &first, "price", h->price_per_kg, "/kg");
    figure(out, &first, "pack", h->pack_kg, " kg");
    date(out, &first, "packed", h->packed);
    comma(out, &first);
    fprintf(out, "\"kept\": \"%.15g C %s\"", h->kept_celsius, packing[h->packing]);
    scores(out, &first, h->character, WF_MALT_WORD_COUNT, WF_WORD_COUNT - WF_MALT_WORD_COUNT);
    fputs(" }", out);
}

static void write_yeast(FILE *out, const struct wf_yeast *y)
{
    bool first = true;
    fputs("    { ", out);
    member(out, &first, "id", y->id);
    member(out, &first, "family", y->family);
    wanted(out, &first, "attenuation",
           (struct wf_range){y->attenuation_low, y->attenuation_high, (double)NAN}, 100, " %");
    figure(out, &first, "price", y->price, "");
    fputs(" }", out);
}

void gen_write_store(const struct gen *g, FILE *out)
{
    const struct wf_store *s = &g->store;
    fprintf(out, "{\n  \"store\": \"%s\", \"currency\": \"%s\",\n  \"malts\": [\n", s->name,
            s->currency);
    for (size_t i = 0; i < s->malt_count; i++) {
        write_malt(out, &s->malts[i]);
        fputs(i + 1 < s->malt_count ? ",\n" : "\n", out);
    }
    fputs("  ],\n  \"hops\": [\n", out);
    for (size_t i = 0; i < s->hop_count; i++) {
        write_hop(out, &s->hops[i]);
        fputs(i + 1 < s->hop_count ? ",\n" : "\n", out);
    }
    fputs("  ],\n  \"yeasts\": [\n", out);
    for (size_t i = 0; i < s->yeast_count; i++) {
        write_yeast(out, &s->yeasts[i]);
        fputs(i + 1 < s->yeast_count ? ",\n" : "\n", out);
    }
    fputs("  ]\n}\n", out);
}

/* ---- Brewhouse ------------------------------------------------------------------------------- */

void gen_write_brewhouse(const struct gen *g, FILE *out)
{
    const struct wf_brewhouse *b = &g->brewhouse;
    fprintf(out,
            "{ \"brewhouse\": \"%s\", \"batch\": \"%.15g L\", \"efficiency\": \"%.15g %%\",\n"
            "  \"boil\": \"%.15g min\", \"evaporation\": \"%.15g L/h\", \"utilisation\": \"%s\",\n"
            "  \"scale\": { \"malt\": \"%.15g g\", \"specialty\": \"%.15g g\", \"hop\": \"%.15g "
            "g\" },\n"
            "  \"least\": { \"malt\": \"%.15g g\", \"hop\": \"%.15g g\" } }\n",
            b->name, b->batch_l, b->efficiency * 100, b->boil_minutes, b->evaporation_l_h,
            b->law == WF_TINSETH ? "tinseth" : "rager", b->step_malt_kg * 1000,
            b->step_specialty_kg * 1000, b->step_hop_g, b->least_malt_kg * 1000, b->least_hop_g);
}

/* ---- Target ---------------------------------------------------------------------------------- */

static void write_rule(FILE *out, const struct wf_rule *r)
{
    bool first = true;
    fputs("    { ", out);
    if (r->who.all)
        fputs("\"any\": []", out);
    else if (r->who.ids != NULL)
        fprintf(out, "\"malt\": \"%s\"", r->who.ids[0]);
    for (int c = 0; c < WF_CLASS_COUNT; c++)
        if (r->who.classes & (1u << c))
            fprintf(out, "\"class\": \"%s\"", wf_malt_class_name((enum wf_malt_class)c));
    first = false;
    wanted(out, &first, "share", r->share, 100, " %");
    if (r->least >= 0)
        fprintf(out, ", \"least\": %d", r->least);
    if (r->most >= 0)
        fprintf(out, ", \"most\": %d", r->most);
    fputs(" }", out);
}

static void write_words(FILE *out, const struct wf_word_wish *w, size_t count)
{
    bool none = true;
    fputs("\"character\": {", out);
    for (size_t i = 0; i < count; i++)
        wanted(out, &none, wf_word_name(w[i].word), w[i].index, 1, "");
    fputs("}", out);
}

static void write_slot(FILE *out, const struct wf_slot *s)
{
    bool first = true;
    fputs("    { ", out);
    member(out, &first, "at", s->at);
    if (s->dosed && s->dose.low == s->dose.high) /* a bare one is met to the nearest step */
        figure(out, &first, "dose", s->dose.low, " g/L");
    else if (s->dosed)
        wanted(out, &first, "dose", s->dose, 1, " g/L");
    texts(out, &first, "hop", s->hops);
    texts(out, &first, "origin", s->origins);
    if (s->most != 1)
        fprintf(out, ", \"most\": %d", s->most);
    if (s->wish_count > 0) {
        fputs(", ", out);
        write_words(out, s->wishes, s->wish_count);
    }
    fputs(" }", out);
}

static void write_figures(FILE *out, bool *first, const struct wf_target *t)
{
    wanted(out, first, "og", t->og, 1, "");
    wanted(out, first, "colour", t->colour, 1, " SRM");
    wanted(out, first, "ratio", t->ratio, 1, "");
    wanted(out, first, "bitterness", t->bitterness, 1, " IBU");
    wanted(out, first, "fg", t->fg, 1, "");
    wanted(out, first, "abv", t->abv, 100, " %");
    figure(out, first, "diastatic", t->diastatic, " Lintner");
    texts(out, first, "yeast", t->yeasts);
    texts(out, first, "use", t->use);
    texts(out, first, "avoid", t->avoid);
}

void gen_write_target(const struct gen *g, FILE *out)
{
    const struct wf_target *t = &g->target;
    bool first = true;
    fputs("{ ", out);
    member(out, &first, "target", t->id);
    member(out, &first, "name", t->name);
    write_figures(out, &first, t);
    fputs(",\n  \"grist\": [\n", out);
    for (size_t i = 0; i < t->rule_count; i++) {
        write_rule(out, &t->rules[i]);
        fputs(i + 1 < t->rule_count ? ",\n" : "\n", out);
    }
    fputs("  ],\n  ", out);
    write_words(out, t->wishes, t->wish_count);
    fputs(",\n  \"hops\": [\n", out);
    for (size_t i = 0; i < t->slot_count; i++) {
        write_slot(out, &t->slots[i]);
        fputs(i + 1 < t->slot_count ? ",\n" : "\n", out);
    }
    fputs("  ] }\n", out);
}

/* ---- For people ------------------------------------------------------------------------------ */

static void print_recipe(const struct gen *g, FILE *out)
{
    for (size_t i = 0; i < g->store.malt_count; i++)
        if (g->drawn.kg[i] > 0)
            fprintf(out, "//   %.15g kg %s\n", g->drawn.kg[i], g->store.malts[i].id);
    for (size_t s = 0; s < g->target.slot_count; s++)
        for (size_t h = 0; h < g->store.hop_count; h++)
            if (g->drawn.grams[s * g->store.hop_count + h] > 0)
                fprintf(out, "//   %.15g g %s at %s\n", g->drawn.grams[s * g->store.hop_count + h],
                        g->store.hops[h].id, g->target.slots[s].at);
    if (g->drawn.yeast != GEN_NO_YEAST)
        fprintf(out, "//   %s\n", g->store.yeasts[g->drawn.yeast].id);
}

void gen_print(const struct gen *g, FILE *out)
{
    const struct gen_options *o = &g->options;
    fprintf(out,
            "// seed %llu, %zu malts, %zu hops, %zu yeasts, %zu slots, scale %d, %s, %s, aims %d, "
            "fermented %d; the drawn recipe:\n",
            (unsigned long long)o->seed, o->malts, o->hops, o->yeasts, o->slots, (int)o->scale,
            o->planted ? "planted" : "not planted", o->tight ? "tight" : "loose", o->aims,
            o->fermented);
    print_recipe(g, out);
    gen_write_brewhouse(g, out);
    gen_write_store(g, out);
    gen_write_target(g, out);
}
