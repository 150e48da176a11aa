/* brewday_points.c: what to expect of each reading, and what to do where it is off. */
#include "brewday/brewday_parts.h"

#include "base/try.h"

#include <math.h>

const char *wf_measure_name(enum wf_measure m)
{
    static const char *const name[] = {
        [WF_MEASURE_MASH] = "mash temperature",
        [WF_MEASURE_FIRST] = "gravity of the first runnings",
        [WF_MEASURE_BEFORE] = "gravity before the boil",
        [WF_MEASURE_BEFORE_L] = "volume before the boil",
        [WF_MEASURE_AFTER] = "gravity after the boil",
        [WF_MEASURE_AFTER_L] = "volume after the boil",
        [WF_MEASURE_PITCH] = "wort at pitching",
        [WF_MEASURE_FINAL] = "final gravity",
    };
    return (size_t)m < WF_COUNT_OF(name) ? name[m] : "";
}

static struct wf_measuring *add_point(struct wf_planning *p, enum wf_measure what, double expected,
                                      double near_enough)
{
    struct wf_measuring *point = &p->day->points[p->day->point_count++];
    point->what = what;
    point->expected = expected;
    point->near_enough = near_enough;
    return point;
}

static struct wf_correction *add_remedy(struct wf_measuring *point, double reading)
{
    const double none = (double)NAN;
    struct wf_correction *r = &point->remedies[point->remedy_count++];
    *r =
        (struct wf_correction){reading, none, none, none, none, none, none, none, none, none, none};
    return r;
}

/* ---- Mash ------------------------------------------------------------------------------------ */

static enum wf_status add_mash(struct wf_planning *p)
{
    static const double off[] = {-4, -2, -1, 1, 2, 4};
    const struct wf_brewday_mash *m = &p->day->mash;
    double rest = m->rests[m->rest_count - 1].celsius;
    struct wf_measuring *point = add_point(p, WF_MEASURE_MASH, rest, 0.5);
    for (size_t i = 0; i < WF_COUNT_OF(off); i++) {
        struct wf_correction *r = add_remedy(point, rest + off[i]);
        r->water_celsius = off[i] < 0 ? wf_hottest(p->day) : WF_TAP_C;
        if (wf_infusion_litres(m->grain_kg, p->day->water.mash_l + m->tun_heat_l, r->reading, rest,
                               r->water_celsius, &r->water_l) != WF_OK)
            point->remedy_count--; /* a rest near the boil, or one that cold water cannot reach */
    }
    return WF_OK;
}

/* What gravity says of the conversion, by the same law that gave the one expected. */
static enum wf_status add_first(struct wf_planning *p)
{
    static const double converted[] = {0.75, 0.80, 0.85, 0.90, 1.00};
    struct wf_brewday *d = p->day;
    double kg, plato, sg;
    if (isnan(d->first_sg))
        return WF_OK;
    WF_TRY(wf_extract_of(p->recipe, WF_IN_MASH, &kg));
    struct wf_measuring *point = add_point(p, WF_MEASURE_FIRST, d->first_sg, 0.003);
    for (size_t i = 0; i < WF_COUNT_OF(converted); i++) {
        double in_wort = kg / p->recipe->kettle.efficiency * converted[i];
        WF_TRY(wf_first_runnings(in_wort, d->water.mash_l, &plato));
        if (wf_gravity_from_plato(plato, &sg) == WF_OK)
            add_remedy(point, sg)->converted = converted[i];
    }
    return WF_OK;
}

/* ---- Boil ------------------------------------------------------------------------------------ */

/* Wort that would end the boil as extract_kg in litres: boil longer, strengthen, or thin it. */
static enum wf_status mend(const struct wf_planning *p, double extract_kg, double litres,
                           struct wf_correction *r)
{
    const struct wf_brewday *d = p->day;
    double density, yield;
    if (wf_gravity_from_extract(extract_kg / litres, &r->og) != WF_OK)
        r->og = (double)NAN;
    WF_TRY(wf_extract_from_gravity(d->after_sg, &density));
    r->left_l = extract_kg / density;
    if (r->left_l >= litres) {
        r->water_l = r->left_l - litres;
        return WF_OK;
    }
    if (d->evaporation_l_h > 0)
        r->minutes = (litres - r->left_l) / d->evaporation_l_h * 60;
    WF_TRY(wf_yield_from_potential(WF_DRY_EXTRACT_PPG, &yield));
    return wf_extract_to_add(extract_kg, litres, d->after_sg, yield, &r->extract_kg);
}

/* Readings of gravity at the expected volume. `late_kg`: extract that is still to come. */
static enum wf_status add_gravity(struct wf_planning *p, enum wf_measure what, double expected,
                                  double litres, double late_kg)
{
    static const double off[] = {-0.006, -0.004, -0.002, 0.002, 0.004, 0.006};
    struct wf_measuring *point = add_point(p, what, expected, 0.001);
    for (size_t i = 0; i < WF_COUNT_OF(off); i++) {
        double per_l;
        struct wf_correction *r;
        if (expected + off[i] <= 1 || wf_extract_from_gravity(expected + off[i], &per_l) != WF_OK)
            continue;
        r = add_remedy(point, expected + off[i]);
        WF_TRY(mend(p, per_l * litres + late_kg, p->day->water.after_boil_l, r));
    }
    return WF_OK;
}

/* Steps of a volume's readings: a twentieth of the batch, as brewers count. */
static double volume_step(double batch_l)
{
    static const double steps[] = {0.1, 0.25, 0.5, 1, 2, 5, 10, 25, 50, 100};
    size_t i = 0;
    while (i + 1 < WF_COUNT_OF(steps) && steps[i] < batch_l / 25)
        i++;
    return steps[i];
}

/* Readings of volume where the extract is all there, so that gravity is off the other way: only
 * water is too much or too little. */
static enum wf_status add_volume(struct wf_planning *p, enum wf_measure what, double expected,
                                 double expected_sg)
{
    const struct wf_brewday_water *w = &p->day->water;
    double step = volume_step(w->after_boil_l), per_l, here;
    struct wf_measuring *point = add_point(p, what, expected, step / 2);
    WF_TRY(wf_extract_from_gravity(p->day->after_sg, &per_l));
    WF_TRY(wf_extract_from_gravity(expected_sg, &here));
    for (int k = -2; k <= 2; k++) {
        double off = k * step;
        double beside;
        if (k == 0 || w->after_boil_l + off <= 0 ||
            wf_gravity_from_extract(here * expected / (expected + off), &beside) != WF_OK)
            continue;
        struct wf_correction *r = add_remedy(point, expected + off);
        r->beside_sg = beside;
        WF_TRY(mend(p, per_l * w->after_boil_l, w->after_boil_l + off, r));
        r->extract_kg = (double)NAN; /* nothing is missing */
    }
    return WF_OK;
}

static enum wf_status add_hundredth(struct wf_planning *p)
{
    struct wf_brewday *d = p->day;
    struct wf_hundredth *h = &d->hundredth;
    double here, after, yield;
    WF_TRY(wf_extract_from_gravity(d->before_sg, &here));
    WF_TRY(wf_extract_from_gravity(d->after_sg, &after));
    WF_TRY(wf_yield_from_potential(WF_DRY_EXTRACT_PPG, &yield));
    double missing = 0.01 * here * d->water.before_boil_l;
    h->points_l = wf_points(d->before_sg) * d->water.before_boil_l;
    h->litres = missing / after;
    return wf_extract_to_add(after * d->water.after_boil_l - missing, d->water.after_boil_l,
                             d->after_sg, yield, &h->extract_kg);
}

static enum wf_status add_kettle(struct wf_planning *p)
{
    const struct wf_brewday *d = p->day;
    double late;
    p->day->hundredth.points_l = (double)NAN;
    if (d->after_sg < WF_WORT_LEAST)
        return WF_OK;
    WF_TRY(add_hundredth(p));
    WF_TRY(wf_extract_of(p->recipe, WF_IN_LATE, &late));
    WF_TRY(add_gravity(p, WF_MEASURE_BEFORE, d->before_sg, d->water.before_boil_l, late));
    WF_TRY(add_volume(p, WF_MEASURE_BEFORE_L, d->water.before_boil_l, d->before_sg));
    WF_TRY(add_gravity(p, WF_MEASURE_AFTER, d->after_sg, d->water.after_boil_l, 0));
    return add_volume(p, WF_MEASURE_AFTER_L, d->water.after_boil_l, d->after_sg);
}

/* ---- Fermenter ------------------------------------------------------------------------------- */

static enum wf_status alcohol_at(double og, double fg, double *abv)
{
    double original, apparent, real, abw;
    WF_TRY(wf_plato_from_gravity(og, &original));
    WF_TRY(wf_plato_from_gravity(fg, &apparent));
    WF_TRY(wf_real_extract(original, apparent, &real));
    WF_TRY(wf_alcohol_by_weight(original, real, &abw));
    return wf_alcohol_by_volume(abw, fg, abv);
}

static enum wf_status add_final(struct wf_planning *p)
{
    static const double off[] = {-0.003, 0.002, 0.004, 0.006, 0.010};
    double fg = p->recipe->predicted.fg, og = p->recipe->predicted.og;
    if (isnan(fg))
        return WF_OK;
    struct wf_measuring *point = add_point(p, WF_MEASURE_FINAL, fg, 0.001);
    for (size_t i = 0; i < WF_COUNT_OF(off); i++) {
        double reading = fg + off[i];
        struct wf_correction r = {0};
        if (reading >= og || alcohol_at(og, reading, &r.abv) != WF_OK)
            continue;
        struct wf_correction *added = add_remedy(point, reading);
        added->abv = r.abv;
        if (off[i] > 0)
            WF_TRY(wf_co2_from_gravity(reading, fg, &added->volumes));
    }
    return WF_OK;
}

enum wf_status wf_plan_points(struct wf_planning *p)
{
    const struct wf_brewday *d = p->day;
    if (d->mash.grain_kg > 0) {
        WF_TRY(add_mash(p));
        WF_TRY(add_first(p));
    }
    WF_TRY(add_kettle(p));
    if (!isnan(d->yeast.celsius_low))
        add_point(p, WF_MEASURE_PITCH, d->yeast.celsius_low, 1);
    return add_final(p);
}
