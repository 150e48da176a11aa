/* sheet_package.c: sugar for bottles or pressure for a keg, and what glass bears. */
#include "report/sheet.h"

#include "base/number.h"

#include <math.h>

#define BAR_PER_PSI 0.0689475729

static const char *const sugar_name[WF_PRIMING_COUNT] = {
    [WF_SUCROSE] = "table sugar (sucrose)",
    [WF_DEXTROSE] = "dextrose (monohydrate)",
    [WF_DRY_EXTRACT] = "dry malt extract",
};

/* "1.2 bar (17 psi)" */
static const char *pressure(double bar, char *out, size_t size)
{
    wf_snprintf(out, size, "%.1f bar (%.0f psi)", bar, bar / BAR_PER_PSI);
    return out;
}

static void add_wanted(struct wf_sheet *s)
{
    const struct wf_brewday_packaging *k = &s->day->packaging;
    wf_sheet_line(s, WF_LINE_PLAIN, "Carbonation %s (%.1f g/L)%s.",
                  wf_sheet_figure(s, WF_DIM_CARBONATION, k->volumes), k->volumes * WF_CO2_G_PER_L,
                  k->usual ? ", the usual for such a yeast" : "");
    if (k->usual)
        wf_sheet_line(s, WF_LINE_SMALL,
                      "Beers have, by one list (D. Draper, Bottle Priming): British ales 1.5..2 "
                      "volumes, porter and stout 1.7..2.3, Belgian ales 1.9..2.4, lagers and "
                      "American ales 2.2..2.7, wheat beers 3.3..4.5.");
}

static void add_keg(struct wf_sheet *s)
{
    const struct wf_brewday_packaging *k = &s->day->packaging;
    char bar[48];
    wf_sheet_line(s, WF_LINE_TICK, "Clean and disinfect the keg");
    wf_sheet_line(s, WF_LINE_TICK, "Fill the keg with %s, flushed with gas first",
                  wf_sheet_figure(s, WF_DIM_VOLUME, s->day->water.packaged_l));
    wf_sheet_line(s, WF_LINE_TICK, "Set %s at %s, and leave it until the beer is full of gas",
                  pressure(k->bar, bar, sizeof bar),
                  wf_sheet_figure(s, WF_DIM_TEMPERATURE, k->celsius));
    wf_sheet_line(s, WF_LINE_CAUTION,
                  "Use a regulator with a safety valve, never more pressure than the keg is "
                  "stamped for, and release it before you open the lid. Tie gas bottles upright. "
                  "A leak in a closed room can kill: air it.");
}

static void add_sugar(struct wf_sheet *s)
{
    const struct wf_brewday_packaging *k = &s->day->packaging;
    const char *celsius = wf_sheet_figure(s, WF_DIM_TEMPERATURE, k->celsius);
    if (k->sugar_g == 0) {
        wf_sheet_line(s, WF_LINE_PLAIN,
                      "Beer that was never warmer than %s holds %s already: no sugar.", celsius,
                      wf_sheet_figure(s, WF_DIM_CARBONATION, k->residual));
        return;
    }
    wf_sheet_line(s, WF_LINE_TICK,
                  "Clean and disinfect bottles and caps; look for chips, and "
                  "throw those bottles away");
    wf_sheet_line(s, WF_LINE_TICK,
                  "Boil %s of %s in a little water, cool it, mix it gently into %s, and fill",
                  wf_sheet_about(s, WF_DIM_MASS, k->sugar_g / 1000), sugar_name[k->priming],
                  wf_sheet_figure(s, WF_DIM_VOLUME, s->day->water.packaged_l));
    wf_sheet_line(s, WF_LINE_PLAIN,
                  "%s. Beer that was never warmer than %s since it fermented out holds %s already. "
                  "For more or less beer take more or less sugar.",
                  wf_sheet_figure(s, WF_DIM_DOSE, k->g_per_l), celsius,
                  wf_sheet_figure(s, WF_DIM_CARBONATION, k->residual));
}

/* How near the beer is to what bottles are made for, by the sheet's own figures. */
static void add_limits(struct wf_sheet *s)
{
    const struct wf_brewday_packaging *k = &s->day->packaging;
    char bar[48], points[48] = "";
    double volumes = fmax(k->volumes, k->residual);
    wf_sheet_line(
        s, WF_LINE_CAUTION,
        "Over-full bottles burst. %s press %s at %s. Ordinary bottles are for about %.0f "
        "volumes (common practice), and makers rate beer bottles up to about %.0f.%s",
        wf_sheet_figure(s, WF_DIM_CARBONATION, volumes), pressure(k->bottle_bar, bar, sizeof bar),
        wf_sheet_figure(s, WF_DIM_TEMPERATURE, k->bottle_celsius), WF_BOTTLE_USUAL, WF_BOTTLE_RATED,
        volumes > WF_BOTTLE_RATED   ? " This is more than either: do not bottle it so."
        : volumes > WF_BOTTLE_USUAL ? " This needs bottles made for more."
                                    : "");
    if (volumes < WF_BOTTLE_RATED)
        wf_snprintf(points, sizeof points, ": %.1f too many reach %.0f",
                    (WF_BOTTLE_RATED - volumes) / k->volumes_per_point, WF_BOTTLE_RATED);
    wf_sheet_line(s, WF_LINE_CAUTION,
                  "Each gravity point that ferments on in the bottle adds %s%s. Bottle only beer "
                  "that has finished; keep bottles in a box, away from warmth; open one after a "
                  "week.",
                  wf_sheet_figure(s, WF_DIM_CARBONATION, k->volumes_per_point), points);
}

static void add_slow(struct wf_sheet *s)
{
    if (s->day->dry_hop_g_l > 0)
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "Dry hops (%s) can start it again: wait for the gravity to stand still after "
                      "them too.",
                      wf_sheet_figure(s, WF_DIM_DOSE, s->day->dry_hop_g_l));
    if (s->day->yeast.eats_dextrins)
        wf_sheet_line(s, WF_LINE_CAUTION,
                      "This yeast goes on eating dextrins for weeks: wait until nothing has "
                      "changed for two weeks, and take %s.",
                      s->day->packaging.keg ? "a keg with a safety valve" : "strong bottles");
}

void wf_sheet_package(struct wf_sheet *s)
{
    const struct wf_brewday_packaging *k = &s->day->packaging;
    wf_sheet_section(s, k->keg ? "Keg" : "Bottle");
    add_wanted(s);
    if (k->keg) {
        add_keg(s);
    } else {
        add_sugar(s);
        add_limits(s);
    }
    add_slow(s);
}
