#include "report/report_in_short.h"

#include "base/number.h"

#include <math.h>

static void add_weight(struct wf_text *out, const char *name, double kg, enum wf_units units)
{
    char text[64];
    wf_plain_add(out, name);
    wf_text_add(out, " %s", wf_quantity_print(WF_DIM_MASS, kg, units, text, sizeof text));
}

/* "60 min", "first wort", "stand", "dry" */
static const char *when(const struct wf_recipe_hop *h, enum wf_units units, char *text, size_t size)
{
    static const char *const words[WF_HOP_USE_COUNT] = {
        [WF_HOP_FIRST_WORT] = "first wort", [WF_HOP_STAND] = "stand", [WF_HOP_DRY] = "dry"};
    if (words[h->addition.use] != NULL)
        return words[h->addition.use];
    return wf_quantity_print(WF_DIM_TIME, h->addition.minutes, units, text, size);
}

void wf_short_recipe(struct wf_text *out, const struct wf_recipe *r, enum wf_units units)
{
    char text[64];
    for (size_t i = 0; i < r->malt_count; i++) {
        wf_text_add(out, "%s", i > 0 ? ", " : "");
        add_weight(out, r->malts[i].name, r->malts[i].kg, units);
    }
    for (size_t i = 0; i < r->hop_count; i++) {
        wf_text_add(out, "%s%s ", i > 0 ? ", " : "; ", when(&r->hops[i], units, text, sizeof text));
        add_weight(out, r->hops[i].name, r->hops[i].grams / 1000, units);
    }
    wf_text_add(out, "%s", r->yeast.name != NULL ? "; " : "");
    wf_plain_add(out, r->yeast.name);
}

/* Those that come, with their amounts, or those that go; returns how many there are. */
static size_t add_changes(struct wf_text *out, const struct wf_choice *c, bool comes,
                          const char *lead, enum wf_units units)
{
    size_t count = 0;
    for (size_t i = 0; i < c->change_count; i++) {
        const struct wf_change *x = &c->changes[i];
        if (x->comes != comes)
            continue;
        wf_text_add(out, "%s", count++ > 0 ? ", " : lead);
        if (comes && x->hop)
            add_weight(out, x->name, x->grams / 1000, units);
        else
            wf_plain_add(out, x->name);
        if (comes && !x->hop)
            wf_text_add(out, " %.1f %%", 100 * x->share);
    }
    return count;
}

void wf_short_changes(struct wf_text *out, const struct wf_choice *c, enum wf_units units)
{
    bool goes = c->change_count > 0 && !c->changes[c->change_count - 1].comes;
    size_t come = add_changes(out, c, true, goes ? "" : "with ", units);
    add_changes(out, c, false, come > 0 ? " instead of " : "without ", units);
}

void wf_short_difference(struct wf_text *out, double more, const char *currency)
{
    if (fabs(more) < 0.005) {
        wf_text_add(out, "at the same cost as the first");
        return;
    }
    wf_text_add(out, "%.2f%s", fabs(more), currency != NULL && *currency ? " " : "");
    wf_plain_add(out, currency);
    wf_text_add(out, " %s than the first", more > 0 ? "dearer" : "cheaper");
}
