/* law.c: the table. */
#include "drawn/law.h"

#define NO_JOIN ((double)NAN)
/* least, most, inside, slope; a join; a join with a jump that the law has on purpose */
#define SPAN(a, b, c, s)                                                                           \
    {                                                                                              \
        a, b, c, s, NO_JOIN, false                                                                 \
    }
#define JOIN(a, b, c, s, at)                                                                       \
    {                                                                                              \
        a, b, c, s, at, false                                                                      \
    }
#define JUMP(a, b, c, s, at)                                                                       \
    {                                                                                              \
        a, b, c, s, at, true                                                                       \
    }

/* The cubic's terms of 600 P cancel; a gravity is known to that over 260 P. */
#define CUBIC   1e-12
#define EXTRACT 1e-14
#define GRAVITY 4e-15

#define LAW_1(law)                                                                                 \
    static enum wf_status law##_1(const double *in, double *out)                                   \
    {                                                                                              \
        return law(in[0], out);                                                                    \
    }
#define LAW_2(law)                                                                                 \
    static enum wf_status law##_2(const double *in, double *out)                                   \
    {                                                                                              \
        return law(in[0], in[1], out);                                                             \
    }
#define LAW_3(law)                                                                                 \
    static enum wf_status law##_3(const double *in, double *out)                                   \
    {                                                                                              \
        return law(in[0], in[1], in[2], out);                                                      \
    }
#define LAW_4(law)                                                                                 \
    static enum wf_status law##_4(const double *in, double *out)                                   \
    {                                                                                              \
        return law(in[0], in[1], in[2], in[3], out);                                               \
    }
LAW_1(wf_plato_from_gravity)
LAW_1(wf_gravity_from_plato)
LAW_1(wf_extract_from_gravity)
LAW_1(wf_gravity_from_extract)
LAW_1(wf_yield_from_potential)
LAW_2(wf_yield_from_analysis)
LAW_2(wf_mcu_from_weights)
LAW_1(wf_srm_from_mcu)
LAW_1(wf_mcu_from_srm)
LAW_1(wf_lovibond_from_ebc)
LAW_1(wf_ebc_from_lovibond)
LAW_1(wf_isomerisation_rate)
LAW_2(wf_stand_boil_minutes)
LAW_2(wf_bitterness_ratio)
LAW_2(wf_real_extract)
LAW_2(wf_apparent_extract)
LAW_2(wf_alcohol_by_weight)
LAW_2(wf_alcohol_by_volume)
LAW_4(wf_strike_celsius)
LAW_2(wf_first_runnings)
LAW_2(wf_hot_litres)
LAW_1(wf_extract_litres_per_kg)
LAW_3(wf_gravity_at_volume)
LAW_3(wf_volume_at_gravity)
LAW_4(wf_extract_to_add)
LAW_3(wf_pitch_billion)
LAW_1(wf_residual_co2)
LAW_3(wf_co2_bar)
LAW_1(wf_air_bar)
LAW_1(wf_boiling_celsius)
LAW_1(wf_height_bitterness)

/* ---- Laws with words among their arguments --------------------------------------------------- */

static enum wf_status tinseth(const double *in, double *out)
{
    return wf_utilisation(WF_TINSETH, in[0], in[1], out);
}

static enum wf_status rager(const double *in, double *out)
{
    return wf_utilisation(WF_RAGER, in[0], in[1], out);
}

static enum wf_status stored_open(const double *in, double *out)
{
    return wf_alpha_after_storage(in[0], in[1], in[2], in[3], WF_PACKED_OPEN, out);
}

static enum wf_status stored_in_vacuum(const double *in, double *out)
{
    return wf_alpha_after_storage(in[0], in[1], in[2], in[3], WF_PACKED_VACUUM, out);
}

static enum wf_status residue_of_malt(const double *in, double *out)
{
    return wf_residual_share(in[0], in[1], false, out);
}

static enum wf_status residue_of_sugar(const double *in, double *out)
{
    return wf_residual_share(in[0], in[1], true, out);
}

/* A law without a range: what is no figure gives none. */
static enum wf_status plain(double value, double *out)
{
    if (isfinite(value))
        *out = value;
    return isfinite(value) ? WF_OK : WF_OUT_OF_RANGE;
}

static enum wf_status lintner(const double *in, double *out)
{
    return plain(wf_lintner_from_wk(in[0]), out);
}

static enum wf_status wk(const double *in, double *out)
{
    return plain(wf_wk_from_lintner(in[0]), out);
}

/* From a temperature, up by in[3], with water that is warmer than that by in[4]. */
static enum wf_status infusion(const double *in, double *out)
{
    double to = in[2] + in[3];
    return wf_infusion_litres(in[0], in[1], in[2], to, to + in[4], out);
}

/* To a gravity, from one that is higher by in[1]. */
static enum wf_status co2_still_to_come(const double *in, double *out)
{
    return wf_co2_from_gravity(in[0] + in[1], in[0], out);
}

/* Relative luminance of the screen's colour, by the weights of IEC 61966-2-1, without its curve. */
static enum wf_status light(const double *in, double *out)
{
    int rgb[3];
    enum wf_status status = wf_colour_seen(in[0], in[1], rgb);
    if (status == WF_OK)
        *out = 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
    return status;
}

/* ---- From a recipe to a beer ----------------------------------------------------------------- */

static enum wf_status boil_gravity(const double *in, double *out)
{
    const struct wf_kettle k = {
        .batch_l = 20, .efficiency = 0.75, .boil_minutes = 60, .evaporation_l_h = in[1]};
    return wf_boil_gravity(in[0], &k, out);
}

static enum wf_status bitterness_of_a_gram(const double *in, double *out)
{
    const struct wf_kettle k = {.batch_l = in[3],
                                .efficiency = 0.75,
                                .boil_minutes = 120,
                                .law = WF_TINSETH,
                                .bitterness_factor = in[4]};
    const struct wf_addition a = {.use = WF_HOP_BOIL, .alpha = in[0], .minutes = in[1], .form = 1};
    return wf_ibu_per_gram(&a, &k, in[2], out);
}

/* kg of one malt in 40 L, efficiency, attenuation, g of one hop, Lovibond. */
static enum wf_status beer(const double *in, struct wf_beer *out)
{
    const struct wf_kettle k = {
        .batch_l = 40, .efficiency = in[1], .boil_minutes = 60, .evaporation_l_h = 4};
    const struct wf_grain g = {
        .yield = 0.78, .lovibond = in[4], .lintner = 50, .fermentability = 0.95, .mashed = true};
    const struct wf_addition a = {.use = WF_HOP_BOIL, .alpha = 0.1, .minutes = 30, .form = 1};
    if (isnan(in[2])) /* no yeast: no figures of fermentation */
        return WF_OUT_OF_RANGE;
    return wf_beer_predict(&k, &g, &in[0], 1, &a, &in[3], 1, in[2], out, NULL);
}

#define FIGURE(figure)                                                                             \
    static enum wf_status beer_##figure(const double *in, double *out)                             \
    {                                                                                              \
        struct wf_beer b;                                                                          \
        enum wf_status status = beer(in, &b);                                                      \
        if (status == WF_OK)                                                                       \
            *out = b.figure;                                                                       \
        return status;                                                                             \
    }
FIGURE(og)
FIGURE(fg)
FIGURE(abv)
FIGURE(srm)
FIGURE(ibu)
FIGURE(attenuation)
#define BEER(kg, efficiency, attenuation, grams, lovibond)                                         \
    {                                                                                              \
        SPAN(0.5, 14, 8, kg), SPAN(0.2, 1, 0.75, efficiency), SPAN(0.1, 1, 0.75, attenuation),     \
            SPAN(0, 500, 40, grams), SPAN(0, 300, 10, lovibond)                                    \
    }

/* ---- The table ------------------------------------------------------------------------------- */

/* Volumes and weights are claimed as far as breweries go. */
#define LITRES SPAN(0.1, 1e5, 20, +1)

const struct law laws[] = {
    {"Plato", wf_plato_from_gravity_1, 1, {JOIN(0.980, 1.150, 1.05, +1, 1)}, CUBIC},
    {"gravity of Plato", wf_gravity_from_plato_1, 1, {JOIN(-5.2, 34.2, 12, +1, 0)}, GRAVITY},
    {"extract", wf_extract_from_gravity_1, 1, {JOIN(0.980, 1.150, 1.05, +1, 1)}, EXTRACT},
    {"gravity of extract", wf_gravity_from_extract_1, 1, {JOIN(-0.05, 0.39, 0.12, +1, 0)}, GRAVITY},
    {"potential", wf_yield_from_potential_1, 1, {JOIN(0, 46.3, 37, +1, WF_SUCROSE_PPG)}, 0},
    {"analysis", wf_yield_from_analysis_2, 2, {SPAN(0, 1, 0.8, +1), SPAN(0, 0.5, 0.04, -1)}, 0},
    {"MCU", wf_mcu_from_weights_2, 2, {SPAN(0, 1e6, 50, +1), SPAN(0.1, 1e5, 20, -1)}, 0},
    {"SRM", wf_srm_from_mcu_1, 1, {SPAN(0, 1000, 20, +1)}, 0},
    {"MCU of SRM", wf_mcu_from_srm_1, 1, {SPAN(0, 170, 20, +1)}, 0},
    {"Lovibond of EBC", wf_lovibond_from_ebc_1, 1, {JUMP(0, 2000, 20, +1, 0)}, 0},
    {"EBC of Lovibond", wf_ebc_from_lovibond_1, 1, {JOIN(0, 750, 20, +1, 0.76 / 1.3546)}, 1e-15},
    {"Tinseth", tinseth, 2, {SPAN(1, 1.150, 1.05, -1), SPAN(0, 240, 60, +1)}, 0},
    {"Rager", rager, 2, {JOIN(1, 1.150, 1.06, -1, 1.050), JUMP(0, 240, 60, +1, 0)}, 0},
    {"isomerisation", wf_isomerisation_rate_1, 1, {SPAN(0, 130, 100, +1)}, 0},
    {"stand", wf_stand_boil_minutes_2, 2, {SPAN(0, 1440, 20, +1), SPAN(0, 130, 80, +1)}, 0},
    {"hops kept open",
     stored_open,
     4,
     {SPAN(0, 1, 0.06, +1), SPAN(0, 0.95, 0.5, -1), SPAN(0, 3650, 180, -1), SPAN(-30, 40, 5, -1)},
     0},
    {"hops in vacuum",
     stored_in_vacuum,
     4,
     {SPAN(0, 1, 0.06, +1), SPAN(0, 0.95, 0.5, -1), SPAN(0, 3650, 180, -1), SPAN(-30, 40, 5, -1)},
     0},
    {"ratio", wf_bitterness_ratio_2, 2, {SPAN(0, 1e4, 30, +1), SPAN(1.0001, 1.150, 1.05, -1)}, 0},
    {"residue of malt",
     residue_of_malt,
     2,
     {SPAN(0, 1, 0.75, -1), JOIN(0, 1.3, 1, -1, 1 / WF_BALLING_APPARENT)},
     2e-16},
    {"residue of sugar", residue_of_sugar, 2, {SPAN(0, 1, 0.75, -1), JOIN(0, 1.3, 0.9, -1, 1)}, 0},
    {"real extract", wf_real_extract_2, 2, {SPAN(0, 36, 12, +1), SPAN(-10, 36, 3, +1)}, 1e-14},
    {"apparent extract",
     wf_apparent_extract_2,
     2,
     {SPAN(0, 36, 12, -1), SPAN(-10, 36, 4, +1)},
     1e-14},
    {"alcohol by weight",
     wf_alcohol_by_weight_2,
     2,
     {SPAN(12, 36, 20, +1), SPAN(-10, 12, 3, -1)},
     1e-16},
    {"alcohol by volume",
     wf_alcohol_by_volume_2,
     2,
     {SPAN(0, 1, 0.04, +1), SPAN(0.98, 1.15, 1.01, +1)},
     0},
    {"Lintner of WK", lintner, 1, {JUMP(-10, 1000, 250, +1, 0)}, 0},
    {"WK of Lintner", wk, 1, {JOIN(0, 1000, 90, +1, 16 / 3.5)}, 1e-14},
    {"strike water",
     wf_strike_celsius_4,
     4,
     {SPAN(0, 1e5, 5, 0), SPAN(0.1, 1e5, 15, 0), SPAN(-20, 100, 18, -1), SPAN(-20, 100, 67, +1)},
     1e-13},
    {"infusion",
     infusion,
     5,
     {SPAN(0, 1e4, 5, +1), LITRES, SPAN(-20, 20, 10, 0), SPAN(0, 40, 15, +1), SPAN(1, 40, 30, -1)},
     1e-9},
    {"first runnings", wf_first_runnings_2, 2, {SPAN(0, 1e4, 4, +1), SPAN(0.1, 1e5, 15, -1)}, 0},
    {"hot volume", wf_hot_litres_2, 2, {SPAN(0, 1e5, 20, +1), SPAN(0, 0.2, 0.04, +1)}, 0},
    {"volume of extract", wf_extract_litres_per_kg_1, 1, {SPAN(1.001, 1.150, 1.05, 0)}, 1e-9},
    {"gravity at a volume",
     wf_gravity_at_volume_3,
     3,
     {SPAN(1.001, 1.07, 1.05, +1), SPAN(10, 20, 18, +1), SPAN(10, 1e5, 23, -1)},
     GRAVITY},
    {"volume at a gravity",
     wf_volume_at_gravity_3,
     3,
     {SPAN(1.001, 1.150, 1.05, +1), LITRES, SPAN(1.001, 1.150, 1.04, -1)},
     0},
    {"extract to add",
     wf_extract_to_add_4,
     4,
     {SPAN(0, 2, 1.5, -1), SPAN(10, 30, 20, +1), SPAN(1.001, 1.150, 1.06, +1),
      SPAN(0.1, 1, 0.95, -1)},
     1e-12},
    {"pitch",
     wf_pitch_billion_3,
     3,
     {SPAN(0, 10, 0.75, +1), SPAN(0, 1e5, 20, +1), SPAN(0, 40, 12, +1)},
     0},
    {"CO2 left", wf_residual_co2_1, 1, {SPAN(0, 27, 18, -1)}, 1e-14},
    {"CO2 to come",
     co2_still_to_come,
     2,
     {SPAN(0.980, 1.05, 1.01, 0), SPAN(0, 0.09, 0.003, +1)},
     1e-11},
    {"pressure",
     wf_co2_bar_3,
     3,
     {SPAN(0, 10, 2.4, +1), SPAN(0, 40, 18, +1), SPAN(0.4, 1.1, 1, -1)},
     1e-14},
    {"air at a height", wf_air_bar_1, 1, {SPAN(-500, 6000, 300, -1)}, 0},
    {"boiling point", wf_boiling_celsius_1, 1, {SPAN(0.4, 1.1, 1, +1)}, 1e-12},
    {"bitterness at a height", wf_height_bitterness_1, 1, {JOIN(-500, 6000, 1000, +1, 0)}, 1e-15},
    {"light through beer", light, 2, {SPAN(0, 170, 12, -1), SPAN(0, 100, 7, -1)}, 1},
    {"boil gravity", boil_gravity, 2, {SPAN(1.001, 1.15, 1.05, +1), SPAN(0, 1e3, 3, -1)}, GRAVITY},
    {"bitterness of a gram",
     bitterness_of_a_gram,
     5,
     {SPAN(0, 1, 0.1, +1), SPAN(0, 120, 60, +1), SPAN(1, 1.15, 1.05, -1), SPAN(0.5, 1e5, 20, -1),
      SPAN(0.01, 10, 1, +1)},
     0},
    {"original gravity", beer_og, 5, BEER(+1, +1, 0, 0, 0), GRAVITY},
    {"final gravity", beer_fg, 5, BEER(+1, +1, -1, 0, 0), GRAVITY},
    {"alcohol", beer_abv, 5, BEER(+1, +1, +1, 0, 0), 1e-15},
    {"colour", beer_srm, 5, BEER(+1, 0, 0, 0, +1), 0},
    {"bitterness", beer_ibu, 5, BEER(-1, -1, 0, +1, 0), 1e-13},
    {"attenuation", beer_attenuation, 5, BEER(0, 0, +1, 0, 0), 1e-12},
    {0},
};
