/*
 * gravity.c: specific gravity, degrees Plato, and extract by volume and by weight.
 *
 * Both laws are rising polynomials of the gravity, so each is inverted by Newton's method from the
 * end of the range from which no step can pass the root.
 */
#include "wortfit/brewing.h"

#include "brewing/range.h"

#define POTENTIAL_MOST 46.3 /* ppg: sucrose as the trade rounds it up */

struct slope {
    double value, per_sg;
};

/* ASBC table fit; concave on the range (second derivative -461 at 0.98, -322 at 1.15). */
static struct slope plato_law(double sg)
{
    return (struct slope){
        .value = -616.868 + sg * (1111.14 + sg * (-630.272 + sg * 135.997)),
        .per_sg = 1111.14 + sg * (2 * -630.272 + sg * 3 * 135.997),
    };
}

/* kg/L = P/100 x SG x density of water; convex on the range (P'' SG + 2 P' is 83 at 0.98 and 32 at
 * 1.15, times a positive constant). */
static struct slope extract_law(double sg)
{
    const double k = WF_WATER_KG_PER_L / 100;
    struct slope p = plato_law(sg);
    return (struct slope){.value = k * p.value * sg, .per_sg = k * (p.per_sg * sg + p.value)};
}

/*
 * The gravity at which a law has the wanted value. A rising concave curve lies below its tangents:
 * started at the low end, Newton's steps all go up and none passes the root; a rising convex curve
 * likewise from the high end, downwards. So the steps shrink until rounding turns one round or to
 * nothing, and there the root is, to the last digits.
 */
static double invert(struct slope (*law)(double), double start, double direction, double wanted)
{
    double sg = start;
    for (int i = 0; i < 100; i++) { /* 5 or 6 suffice; the limit only guards the loop */
        struct slope at = law(sg);
        double next = sg + (wanted - at.value) / at.per_sg;
        if ((next - sg) * direction <= 0)
            break;
        sg = next;
    }
    return sg < WF_GRAVITY_LEAST ? WF_GRAVITY_LEAST : sg > WF_GRAVITY_MOST ? WF_GRAVITY_MOST : sg;
}

/* The ends are what the law gives at the ends of its range, give or take the last digits: compilers
 * may fuse a product and a sum, or not. */
static bool in_image(struct slope (*law)(double), double value)
{
    const double least = law(WF_GRAVITY_LEAST).value, most = law(WF_GRAVITY_MOST).value;
    const double digits = 1e-12 * (most - least);
    return wf_within(value, least - digits, most + digits);
}

enum wf_status wf_plato_from_gravity(double sg, double *plato)
{
    if (!wf_within(sg, WF_GRAVITY_LEAST, WF_GRAVITY_MOST))
        return WF_OUT_OF_RANGE;
    *plato = plato_law(sg).value;
    return WF_OK;
}

enum wf_status wf_gravity_from_plato(double plato, double *sg)
{
    if (!in_image(plato_law, plato))
        return WF_OUT_OF_RANGE;
    *sg = invert(plato_law, WF_GRAVITY_LEAST, +1, plato);
    return WF_OK;
}

enum wf_status wf_extract_from_gravity(double sg, double *kg_per_l)
{
    if (!wf_within(sg, WF_GRAVITY_LEAST, WF_GRAVITY_MOST))
        return WF_OUT_OF_RANGE;
    *kg_per_l = extract_law(sg).value;
    return WF_OK;
}

enum wf_status wf_gravity_from_extract(double kg_per_l, double *sg)
{
    if (!in_image(extract_law, kg_per_l))
        return WF_OUT_OF_RANGE;
    *sg = invert(extract_law, WF_GRAVITY_MOST, -1, kg_per_l);
    return WF_OK;
}

double wf_points(double sg)
{
    return (sg - 1) * 1000;
}

/* ASBC Malt-4: the analysis is of the fine-ground malt, reckoned dry. */
enum wf_status wf_yield_from_analysis(double fine_dry, double moisture, double *yield)
{
    if (!wf_within(fine_dry, 0, 1) || !wf_within(moisture, 0, 0.5))
        return WF_OUT_OF_RANGE;
    *yield = fine_dry * (1 - moisture);
    return WF_OK;
}

/* Sucrose, which is all extract, sets the scale; what is rated a little above it gives its
 * whole weight and no more. */
enum wf_status wf_yield_from_potential(double ppg, double *yield)
{
    if (!wf_within(ppg, 0, POTENTIAL_MOST))
        return WF_OUT_OF_RANGE;
    *yield = ppg < WF_SUCROSE_PPG ? ppg / WF_SUCROSE_PPG : 1.0;
    return WF_OK;
}
