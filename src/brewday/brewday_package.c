/* brewday_package.c: carbonation in bottle or keg. */
#include "brewday/brewday_parts.h"

#include "base/try.h"

#include <math.h>
#include <string.h>

/* Carbon dioxide that beers usually have, by the yeast's family: common practice, within the ranges
 * of D. Draper, Bottle Priming (web page): lagers 2.2..2.7, wheat beers more. */
#define USUAL_VOLUMES    2.4
#define LAGER_VOLUMES    2.5
#define PHENOLIC_VOLUMES 3.0

#define KEG_C      4.0
#define ROOM_C     20.0
#define RESIDUAL_C 27.0 /* the law of residual gas ends here; warmer beer holds hardly less */
#define WARM_C     30.0 /* a warm store room: what bottles must bear */
#define USUAL_FG   1.010

static double usual_volumes(const struct wf_planning *p)
{
    const char *family = p->recipe->yeast.family;
    if (p->day->yeast.lager)
        return LAGER_VOLUMES;
    return family && strcmp(family, "ale-phenolic") == 0 ? PHENOLIC_VOLUMES : USUAL_VOLUMES;
}

/* The warmest that the beer was, which tells how much gas it kept; in a keg, as it is now. */
static double celsius_of(const struct wf_planning *p)
{
    const struct wf_brewday_yeast *y = &p->day->yeast;
    double warmest = isnan(y->warm_celsius) ? y->celsius_high : y->warm_celsius;
    double given = p->options->beer_celsius;
    if (!isnan(given))
        return given;
    return p->options->keg ? KEG_C : fmin(isnan(warmest) ? ROOM_C : warmest, RESIDUAL_C);
}

static enum wf_status prime(struct wf_planning *p, struct wf_brewday_packaging *k)
{
    double per_l;
    WF_TRY(wf_priming_g_per_l(k->priming, &per_l));
    k->g_per_l = fmax(k->volumes - k->residual, 0) * per_l;
    k->sugar_g = k->g_per_l * p->day->water.packaged_l;
    k->bottle_celsius = WARM_C;
    k->bar = (double)NAN;
    return wf_co2_bar(fmax(k->volumes, k->residual), WARM_C, p->day->air_bar, &k->bottle_bar);
}

static enum wf_status gas(const struct wf_planning *p, struct wf_brewday_packaging *k)
{
    k->g_per_l = k->sugar_g = 0;
    k->bottle_celsius = k->bottle_bar = (double)NAN;
    return wf_co2_bar(k->volumes, k->celsius, p->day->air_bar, &k->bar);
}

enum wf_status wf_plan_packaging(struct wf_planning *p)
{
    struct wf_brewday_packaging *k = &p->day->packaging;
    double fg = p->recipe->predicted.fg;
    k->keg = p->options->keg;
    k->priming = p->options->priming;
    k->usual = isnan(p->options->volumes);
    k->volumes = k->usual ? usual_volumes(p) : p->options->volumes;
    k->celsius = celsius_of(p);
    fg = isnan(fg) ? USUAL_FG : fg;
    WF_TRY(wf_residual_co2(k->celsius, &k->residual));
    k->residual *= p->day->air_bar / WF_AIR_BAR;
    WF_TRY(wf_co2_from_gravity(fg + 0.001, fg, &k->volumes_per_point));
    return k->keg ? gas(p, k) : prime(p, k);
}
