/* sheet_ferment.c: cooling, pitching, fermentation, dry hops. */
#include "report/sheet.h"

#include "base/number.h"
#include "base/try.h"

#include <math.h>

static const char *temperatures(struct wf_sheet *s, char *out, size_t size)
{
    const struct wf_brewday_yeast *y = &s->day->yeast;
    struct wf_range r = {wf_sheet_temperature(s, y->celsius_low),
                         wf_sheet_temperature(s, y->celsius_high), (double)NAN};
    if (isnan(y->celsius_low))
        wf_snprintf(out, size, "the temperature that the yeast's maker names");
    else
        wf_style_range(WF_DIM_TEMPERATURE, r, s->style->units, out, size);
    return out;
}

/* Cells are known to no more than three digits. */
static double about_count(double count)
{
    double step = count >= 1000 ? pow(10, floor(log10(count)) - 2) : 1;
    return round(count / step) * step;
}

static void add_pitch(struct wf_sheet *s)
{
    const struct wf_brewday_yeast *y = &s->day->yeast;
    double dry_g = y->dry_g < 10 ? round(10 * y->dry_g) / 10 : round(y->dry_g);
    wf_sheet_line(s, WF_LINE_TICK,
                  "Pitch %.0f billion cells: %.4g million per mL and degree Plato, in %s",
                  about_count(y->billion), y->rate,
                  wf_sheet_figure(s, WF_DIM_VOLUME, s->day->water.fermenter_l));
    wf_sheet_line(
        s, WF_LINE_PLAIN,
        "That is about %.4g g of dry yeast at %.0f billion cells a gram, or %.0f mL of thick "
        "fresh slurry at %.0f billion a millilitre. For packs of liquid yeast divide by "
        "what the pack says.",
        dry_g, WF_CELLS_PER_G, about_count(1000 * y->slurry_l), WF_CELLS_PER_ML);
}

void wf_sheet_cool(struct wf_sheet *s)
{
    char range[64];
    wf_sheet_section(s, "Cool and pitch");
    wf_sheet_vessel(s, WF_VESSEL_FERMENTER);
    wf_sheet_line(s, WF_LINE_TICK,
                  "Clean and disinfect all that the cooled wort will touch: fermenter, hose, "
                  "airlock, thermometer");
    wf_sheet_line(s, WF_LINE_TICK, "Cool quickly to %s, and move %s into the fermenter",
                  temperatures(s, range, sizeof range),
                  wf_sheet_figure(s, WF_DIM_VOLUME, s->day->water.fermenter_l));
    wf_sheet_line(s, WF_LINE_CAUTION,
                  "Never put hot wort or water in glass: it shatters. Acids and caustics: goggles "
                  "and gloves, the chemical into cold water and never the other way, one at a "
                  "time. Acid or caustic with chlorine, or with each other, gives poisonous gas or "
                  "violent heat. Rinse a splash with much water at once and get help.");
    wf_sheet_measure(s, WF_MEASURE_PITCH);
    wf_sheet_line(s, WF_LINE_TICK, "Give the wort air: shake or splash it, now and never later");
    add_pitch(s);
}

static void add_dry_hops(struct wf_sheet *s)
{
    for (size_t i = 0; i < s->day->addition_count; i++) {
        const struct wf_brewday_addition *a = &s->day->additions[i];
        if (a->what != WF_ADD_HOP || a->use != WF_HOP_DRY)
            continue;
        if (isnan(a->days))
            wf_sheet_line(s, WF_LINE_TICK, "Dry hop: %s of %s, some days before packaging",
                          wf_sheet_figure(s, WF_DIM_MASS, a->kg), a->name);
        else
            wf_sheet_line(s, WF_LINE_TICK, "Dry hop: %s of %s, %s before packaging",
                          wf_sheet_figure(s, WF_DIM_MASS, a->kg), a->name,
                          wf_sheet_figure(s, WF_DIM_DAYS, a->days));
    }
    if (s->day->dry_hop_g_l > 0)
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "%s in all. Hops carry enzymes that set sugar free: the gravity may fall "
                      "again after them. Package only once it stands still.",
                      wf_sheet_figure(s, WF_DIM_DOSE, s->day->dry_hop_g_l));
}

static void add_end(struct wf_sheet *s)
{
    const struct wf_beer *b = &s->day->recipe->predicted;
    const struct wf_brewday_yeast *y = &s->day->yeast;
    const char *done = y->eats_dextrins ? "Such a yeast goes on for weeks or months: it is done "
                                          "when the gravity is the same for two weeks, not before."
                       : y->lager ? "That takes two to four weeks, mostly. It is done when the "
                                    "gravity is the same for three days, not before."
                                  : "That takes one to two weeks, mostly. It is done when the "
                                    "gravity is the same for three days, not before.";
    if (isnan(b->fg)) {
        wf_sheet_line(s, WF_LINE_PLAIN, "No yeast was named, so no final gravity is reckoned. %s",
                      done);
        return;
    }
    wf_sheet_line(s, WF_LINE_PLAIN, "It should end near %s with %s of alcohol. %s",
                  wf_sheet_figure(s, WF_DIM_GRAVITY, b->fg),
                  wf_sheet_figure(s, WF_DIM_SHARE, b->abv), done);
    if (b->abv > s->day->yeast.alcohol_most)
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "That is more alcohol than this yeast usually stands (%s): it may stop "
                      "early.",
                      wf_sheet_figure(s, WF_DIM_SHARE, s->day->yeast.alcohol_most));
}

static double about_gas(double volume)
{
    return volume < 50 ? round(volume) : round(volume / 10) * 10;
}

static void add_gas(struct wf_sheet *s)
{
    bool us = s->style->units == WF_UNITS_US;
    if (isnan(s->day->yeast.gas_l))
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "Fermentation gives off carbon dioxide, which fills a small or low room "
                      "unseen: air it, and let the fermenter vent.");
    else
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "This brew gives off about %.0f %s of carbon dioxide, which fills a small or "
                      "low room unseen: air it, and let the fermenter vent.",
                      about_gas(s->day->yeast.gas_l / (us ? WF_L_PER_US_GAL : 1)),
                      us ? "gallons" : "litres");
}

void wf_sheet_ferment(struct wf_sheet *s)
{
    char range[64];
    wf_sheet_section(s, "Ferment");
    wf_sheet_line(s, WF_LINE_TICK, "Keep it at %s; start at the cool end",
                  temperatures(s, range, sizeof range));
    add_gas(s);
    add_end(s);
    wf_sheet_measure(s, WF_MEASURE_FINAL);
    add_dry_hops(s);
    if (!isnan(s->day->yeast.warm_celsius))
        wf_sheet_line(s, WF_LINE_TICK,
                      "Near the end let it warm to %s for two days, then store it cold for some "
                      "weeks",
                      wf_sheet_figure(s, WF_DIM_TEMPERATURE, s->day->yeast.warm_celsius));
}
