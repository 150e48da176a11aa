/* sheet_weigh.c: the tick list of the scale. */
#include "report/sheet.h"

#include "base/number.h"

#include <math.h>

static void add_malts(struct wf_sheet *s)
{
    const struct wf_recipe *r = s->day->recipe;
    double kg = 0;
    for (size_t i = 0; i < r->malt_count; i++) {
        const struct wf_recipe_malt *m = &r->malts[i];
        wf_sheet_line(s, WF_LINE_TICK, "%s  %s (%s)%s", wf_sheet_figure(s, WF_DIM_MASS, m->kg),
                      m->name, wf_sheet_figure(s, WF_DIM_SHARE, m->share),
                      m->grain.mashed ? "" : ", not mashed: for the kettle");
        kg += m->kg;
    }
    wf_sheet_line(s, WF_LINE_PLAIN, "In all %s.", wf_sheet_figure(s, WF_DIM_MASS, kg));
}

/* "boil, 15 min to go", "stand, 20 min at 80 C" */
static void describe(struct wf_sheet *s, const struct wf_brewday_addition *a, char *out,
                     size_t size)
{
    const char *minutes = wf_sheet_figure(s, WF_DIM_TIME, a->to_go);
    switch (a->use) {
    case WF_HOP_FIRST_WORT:
        wf_snprintf(out, size, "first wort");
        break;
    case WF_HOP_STAND:
        wf_snprintf(out, size, "stand, %s at %s", minutes,
                    wf_sheet_figure(s, WF_DIM_TEMPERATURE, a->celsius));
        break;
    case WF_HOP_DRY:
        wf_snprintf(out, size, "dry%s%s", isnan(a->days) ? "" : ", ",
                    isnan(a->days) ? "" : wf_sheet_figure(s, WF_DIM_DAYS, a->days));
        break;
    case WF_HOP_BOIL:
    case WF_HOP_USE_COUNT:
        wf_snprintf(out, size, "boil, %s to go", minutes);
        break;
    }
}

static void add_hops(struct wf_sheet *s)
{
    char when[64];
    for (size_t i = 0; i < s->day->addition_count; i++) {
        const struct wf_brewday_addition *a = &s->day->additions[i];
        if (a->what != WF_ADD_HOP)
            continue;
        describe(s, a, when, sizeof when);
        wf_sheet_line(s, WF_LINE_TICK, "%s  %s%s: %s", wf_sheet_figure(s, WF_DIM_MASS, a->kg),
                      a->name, a->whole ? " (whole hops)" : "", when);
    }
}

static void add_rest(struct wf_sheet *s)
{
    const struct wf_brewday_packaging *k = &s->day->packaging;
    if (s->day->yeast.known)
        wf_sheet_line(s, WF_LINE_TICK, "Yeast: %s, %.0f billion cells (below)",
                      s->day->recipe->yeast.name, s->day->yeast.billion);
    else
        wf_sheet_line(s, WF_LINE_TICK, "Yeast: the recipe names none");
    if (k->sugar_g > 0)
        wf_sheet_line(s, WF_LINE_TICK, "Sugar for the bottles: %s, for later",
                      wf_sheet_about(s, WF_DIM_MASS, k->sugar_g / 1000));
}

void wf_sheet_weigh(struct wf_sheet *s)
{
    wf_sheet_section(s, "Weigh out");
    add_malts(s);
    wf_sheet_draw(s, WF_DRAW_GRIST);
    add_hops(s);
    add_rest(s);
}
