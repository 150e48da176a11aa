/* sheet_head.c: what beer it is, what to mind before the first kettle is lit; and, at the end, what
 * the figures rest on. */
#include "report/sheet.h"

#include "base/number.h"
#include "wortfit/sure.h"

#include <math.h>
#include <string.h>

static void add_figures(struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    const struct wf_beer *b = &d->recipe->predicted;
    wf_sheet_line(s, WF_LINE_PLAIN,
                  "%s of wort after the boil, %s into the package. Original gravity %s (%.1f P), "
                  "final %s, alcohol %s. Colour %s (%.0f EBC), bitterness %s.",
                  wf_sheet_figure(s, WF_DIM_VOLUME, d->water.after_boil_l),
                  wf_sheet_figure(s, WF_DIM_VOLUME, d->water.packaged_l),
                  wf_sheet_figure(s, WF_DIM_GRAVITY, b->og), b->plato,
                  isnan(b->fg) ? "not known without a yeast"
                               : wf_sheet_figure(s, WF_DIM_GRAVITY, b->fg),
                  isnan(b->abv) ? "neither" : wf_sheet_figure(s, WF_DIM_SHARE, b->abv),
                  wf_sheet_figure(s, WF_DIM_BEER_COLOUR, b->srm), b->ebc,
                  wf_sheet_figure(s, WF_DIM_BITTERNESS, b->ibu));
}

static void add_brewhouse(struct wf_sheet *s)
{
    const struct wf_brewday *d = s->day;
    if (d->brewhouse)
        wf_sheet_line(s, WF_LINE_PLAIN, "For the brewhouse \"%s\".", d->brewhouse);
    else
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "No brewhouse was given. What the grains keep, the mash's water, dead space "
                      "and losses are the usual figures, not yours: a brewhouse file makes this "
                      "sheet fit.");
    wf_sheet_line(s, WF_LINE_SMALL,
                  "Volumes are of cooled wort unless they are called hot. Gravities are read at "
                  "%s, cooled.",
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, 20));
}

static void add_window(struct wf_sheet *s)
{
    char window[64];
    if (wf_range_is_any(s->day->og_window))
        return;
    wf_sheet_line(
        s, WF_LINE_PLAIN, "The beer asks for an original gravity of %s.",
        wf_style_range(WF_DIM_GRAVITY, s->day->og_window, s->style->units, window, sizeof window));
}

/* To 0.001, which is what a hydrometer shows. */
static const char *gravities(const struct wf_sheet *s, double low, double high, char *out,
                             size_t size)
{
    const struct wf_range r = {round(low * 1000) / 1000, round(high * 1000) / 1000, (double)NAN};
    return wf_style_range(WF_DIM_GRAVITY, r, s->style->units, out, size);
}

/* What of a reading is no mistake. */
static void add_ranges(struct wf_sheet *s)
{
    const struct wf_ranges *r = s->day->recipe->ranges;
    char og[64], fg[64], final[96] = "";
    if (!r || isnan(r->low.og))
        return;
    if (!isnan(r->low.fg))
        wf_snprintf(final, sizeof final, " and a final one of %s",
                    gravities(s, r->low.fg, r->high.fg, fg, sizeof fg));
    wf_sheet_line(s, WF_LINE_PLAIN,
                  "Of 100 such brews %.0f have an original gravity of %s%s, by %s: within that "
                  "nothing is wrong.",
                  100 * r->probability, gravities(s, r->low.og, r->high.og, og, sizeof og), final,
                  s->day->brewhouse ? "the spreads of the brewhouse" : "usual spreads");
}

#define MISSES_MOST 300

/* A recipe that misses wishes can be brewed all the same; it is told before the malt is weighed. */
static void add_misses(struct wf_sheet *s)
{
    const struct wf_recipe *r = s->day->recipe;
    char text[MISSES_MOST] = "";
    for (size_t i = 0, used = 0; i < r->wish_count; i++) {
        if (r->wishes[i].met)
            continue;
        used = strlen(text);
        wf_snprintf(text + used, sizeof text - used, "%s%s", used > 0 ? ", " : "",
                    r->wishes[i].wish);
    }
    if (*text)
        wf_sheet_line(s, WF_LINE_PLAIN, "It is not all that was wished for. It misses: %s.", text);
}

static void add_cautions(struct wf_sheet *s)
{
    const char *allergens = s->day->allergens;
    wf_sheet_line(s, WF_LINE_CAUTION,
                  "Local rules and the makers' instructions for what you use come first. Whether, "
                  "how much and from what age one may brew or drink differs by country. Nothing "
                  "here is advice on health.");
    if (*allergens)
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "Allergens in the grist: %s. Say so to whoever drinks it. %sFinings and "
                      "sulphites, if you use them, are not counted here.",
                      allergens,
                      strstr(allergens, "gluten") ? "Gluten is that of barley, wheat, rye or oats. "
                                                  : "");
    if (s->day->recipe->hop_count > 0)
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "Hops, fresh or spent, can kill dogs. Keep them and the kettle's dregs away, "
                      "and not on a compost that a dog can reach.");
}

void wf_sheet_head(struct wf_sheet *s)
{
    add_figures(s);
    add_window(s);
    add_misses(s);
    add_ranges(s);
    wf_sheet_draw(s, WF_DRAW_GLASS);
    wf_sheet_draw(s, WF_DRAW_GRAVITY);
    add_brewhouse(s);
    add_cautions(s);
}

void wf_sheet_basis(struct wf_sheet *s)
{
    static const char *const law[] = {[WF_TINSETH] = "Tinseth", [WF_RAGER] = "Rager"};
    const struct wf_kettle *k = &s->day->recipe->kettle;
    wf_sheet_section(s, "What this rests on");
    wf_sheet_line(s, WF_LINE_SMALL,
                  "%.4g %% efficiency, a boil of %s that loses %s, cooling that takes %.3g %% of "
                  "the hot volume, bitterness after %s.",
                  100 * k->efficiency, wf_sheet_figure(s, WF_DIM_TIME, k->boil_minutes),
                  wf_sheet_figure(s, WF_DIM_RATE, k->evaporation_l_h), 100 * s->day->shrinkage,
                  law[k->law]);
    wf_sheet_line(s, WF_LINE_SMALL,
                  "Strike and infusion water: J. Palmer, How to Brew. Cells: G. Fix, An Analysis "
                  "of Brewing Techniques. Gas left in beer: M.L. Hall, Zymurgy 1995. Pressure: "
                  "A.J. deLange 2011. Alcohol: Balling. Air: ISO 2533. What a mash gives: "
                  "conservation of extract. Rests, times, room in vessels and usual carbonations: "
                  "common practice.");
}
