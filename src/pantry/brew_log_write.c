/* brew_log_write.c: lines of a brew log. */
#include "pantry/brew_parts.h"

#include "base/date.h"
#include "base/number.h"
#include "base/quote.h"
#include "pantry/words.h"

#include <math.h>
#include <string.h>

/* One line of JSON, as it grows. */
struct line {
    struct wf_text *out;
    bool begun; /* something stands in the object or list */
};

static void key(struct line *l, const char *name)
{
    wf_text_add(l->out, "%s", l->begun ? ", " : "");
    if (name)
        wf_text_add(l->out, "\"%s\": ", name);
    l->begun = true;
}

static void open_with(struct line *l, const char *name, char bracket)
{
    key(l, name);
    wf_text_add(l->out, "%c", bracket);
    l->begun = false;
}

static void close_with(struct line *l, char bracket)
{
    wf_text_add(l->out, "%c", bracket);
    l->begun = true;
}

static void put_text(struct line *l, const char *name, const char *text)
{
    if (!text)
        return;
    key(l, name);
    wf_quote_add(l->out, text);
}

static void put_word(struct line *l, const char *name, const char *word)
{
    key(l, name);
    wf_text_add(l->out, "%s", word);
}

/* What is not finite is left out. */
static void put_figure(struct line *l, const char *name, double value)
{
    char text[WF_NUMBER_TEXT_MAX];
    if (!wf_number_print(value, text))
        return;
    put_word(l, name, text);
}

/* A weight without the noise in its last bits. */
static void put_weight(struct line *l, const char *name, double value)
{
    put_figure(l, name, round(value * 1e9) / 1e9);
}

static void put_date(struct line *l, long on)
{
    char text[WF_DATE_TEXT_MAX];
    put_text(l, "on", wf_date_print(on, text));
}

static void put_who(struct line *l, const char *id, const char *of, const char *name)
{
    put_text(l, "id", id);
    put_text(l, "is", of && strcmp(of, id) != 0 ? of : NULL);
    put_text(l, "name", name);
}

/* ---- The recipe: every figure that the laws need --------------------------------------------- */

static void put_malt(struct line *l, const struct wf_recipe_malt *m)
{
    open_with(l, NULL, '{');
    put_who(l, m->id, m->of, m->name);
    put_text(l, "class", wf_malt_class_name(m->class));
    put_weight(l, "kg", m->kg);
    put_figure(l, "yield", m->grain.yield);
    put_figure(l, "lovibond", m->grain.lovibond);
    put_figure(l, "lintner", m->grain.lintner);
    put_figure(l, "fermentability", m->grain.fermentability);
    put_word(l, "sugar", m->grain.sugar ? "true" : "false");
    put_word(l, "mashed", m->grain.mashed ? "true" : "false");
    put_figure(l, "usual_most", m->usual_most);
    close_with(l, '}');
}

static void put_hop(struct line *l, const struct wf_recipe_hop *h)
{
    const struct wf_addition *a = &h->addition;
    open_with(l, NULL, '{');
    put_who(l, h->id, h->of, h->name);
    put_weight(l, "g", h->grams);
    put_figure(l, "alpha", a->alpha);
    put_text(l, "use", wf_hop_use_words[a->use]);
    if (a->use == WF_HOP_BOIL || a->use == WF_HOP_STAND)
        put_figure(l, "minutes", a->minutes);
    if (a->use == WF_HOP_STAND)
        put_figure(l, "temperature_c", a->celsius);
    if (a->use == WF_HOP_DRY)
        put_figure(l, "days", h->days);
    put_text(l, "form", wf_form_words[h->whole]);
    close_with(l, '}');
}

static void put_kettle(struct line *l, const struct wf_recipe *r)
{
    put_figure(l, "batch_l", r->kettle.batch_l);
    open_with(l, "kettle", '{');
    put_figure(l, "efficiency", r->kettle.efficiency);
    put_figure(l, "boil_min", r->kettle.boil_minutes);
    put_figure(l, "evaporation_l_h", r->kettle.evaporation_l_h);
    put_text(l, "utilisation", wf_law_words[r->kettle.law]);
    if (r->kettle.bitterness_factor > 0 && r->kettle.bitterness_factor != 1)
        put_figure(l, "bitterness_factor", r->kettle.bitterness_factor);
    if (r->kettle.colour_factor > 0 && r->kettle.colour_factor != 1)
        put_figure(l, "colour_factor", r->kettle.colour_factor);
    close_with(l, '}');
    if (isnan(r->stand_length) || isnan(r->stand_celsius))
        return;
    open_with(l, "stand", '{');
    put_figure(l, "minutes", r->stand_length);
    put_figure(l, "temperature_c", r->stand_celsius);
    close_with(l, '}');
}

static void put_recipe(struct line *l, const struct wf_recipe *r)
{
    open_with(l, "recipe", '{');
    put_text(l, "recipe", r->name);
    put_kettle(l, r);
    open_with(l, "malts", '[');
    for (size_t i = 0; i < r->malt_count; i++)
        put_malt(l, &r->malts[i]);
    close_with(l, ']');
    open_with(l, "hops", '[');
    for (size_t i = 0; i < r->hop_count; i++)
        put_hop(l, &r->hops[i]);
    close_with(l, ']');
    if (r->yeast.id) {
        open_with(l, "yeast", '{');
        put_who(l, r->yeast.id, r->yeast.of, r->yeast.name);
        put_text(l, "family", r->yeast.family);
        put_figure(l, "attenuation", r->yeast.attenuation);
        close_with(l, '}');
    }
    close_with(l, '}');
}

/* ---- Lines ----------------------------------------------------------------------------------- */

static void put_measured(struct line *l, struct wf_measured m)
{
    open_with(l, "measured", '{');
    for (size_t i = 0; i < WF_MEASURED_MOST; i++)
        put_figure(l, wf_measured_rows[i].key, *wf_measured_at(&m, i));
    close_with(l, '}');
}

static void put_planned(struct line *l, const struct wf_beer *b)
{
    open_with(l, "planned", '{');
    put_figure(l, "og", b->og);
    put_figure(l, "fg", b->fg);
    put_figure(l, "ibu", b->ibu);
    put_figure(l, "srm", b->srm);
    close_with(l, '}');
}

static void begin_line(struct line *l, const char *name, const char *id, long on)
{
    open_with(l, NULL, '{');
    put_figure(l, "version", WF_LOG_VERSION);
    put_text(l, name, id);
    put_date(l, on);
}

void wf_log_add_brew(struct wf_text *out, const struct wf_brewed_asked *b, const char *id)
{
    struct line l = {.out = out};
    begin_line(&l, "brew", id, b->on);
    put_text(&l, "recipe_hash", b->hash);
    put_text(&l, "brewhouse", b->brewhouse);
    put_planned(&l, &b->planned);
    put_measured(&l, b->measured);
    put_recipe(&l, b->recipe);
    wf_text_add(out, "}\n");
}

void wf_log_add_later(struct wf_text *out, const char *id, long on, const struct wf_measured *m)
{
    struct line l = {.out = out};
    begin_line(&l, "later", id, on);
    put_measured(&l, *m);
    wf_text_add(out, "}\n");
}
