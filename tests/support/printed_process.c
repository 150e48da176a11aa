/* printed_process.c: the laws of the brew day in the units of the sources that
 * tests/published/brewday.csv quotes. */
#include "support/printed_laws.h"

#include "support/test.h"
#include "wortfit/brewing.h"
#include "wortfit/process.h"

#define BAR_PER_PSI 0.0689475729

static double must(enum wf_status status, double value)
{
    assert_int_equal(status, WF_OK);
    return value;
}

static double celsius(double fahrenheit)
{
    return (fahrenheit - 32) / 1.8;
}

/* Quarts a pound, grain and rest in Fahrenheit. */
static double strike_f(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_strike_celsius(WF_KG_PER_LB, in[0] * WF_L_PER_US_QT, celsius(in[1]),
                                         celsius(in[2]), &out);
    return must(s, out * 1.8 + 32);
}

/* Pounds, quarts in the mash, from, to, water. */
static double infusion_qt(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_infusion_litres(in[0] * WF_KG_PER_LB, in[1] * WF_L_PER_US_QT,
                                          celsius(in[2]), celsius(in[3]), celsius(in[4]), &out);
    return must(s, out / WF_L_PER_US_QT);
}

/* Water at 211 F as a share of what the mash holds as heat, h G + W: here a mash of water alone. */
static double infusion_share(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_infusion_litres(0, 1, celsius(in[0]), celsius(in[1]), celsius(211), &out);
    return must(s, out);
}

/* Points, from, to. */
static double points_boiled(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_gravity_at_volume(1 + in[0] / 1000, in[1], in[2], &out);
    return must(s, wf_points(out));
}

static double volume_for_points(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_volume_at_gravity(1 + in[0] / 1000, in[1], 1 + in[2] / 1000, &out);
    return must(s, out);
}

/* Grams of dry malt extract of 45 ppg in a US gallon, from points to points, as the source has it:
 * without the volume that the extract itself adds, which the law reckons. */
static double extract_g_per_gal(const double *in, size_t n)
{
    double per_l = 0, out = 0, wanted = 0, volume = 0;
    (void)n;
    enum wf_status s = wf_extract_from_gravity(1 + in[0] / 1000, &per_l);
    if (s == WF_OK)
        s = wf_extract_to_add(per_l * WF_L_PER_US_GAL, WF_L_PER_US_GAL, 1 + in[1] / 1000,
                              45 / WF_SUCROSE_PPG, &out);
    if (s == WF_OK)
        s = wf_extract_from_gravity(1 + in[1] / 1000, &wanted);
    if (s == WF_OK)
        s = wf_extract_litres_per_kg(1 + in[1] / 1000, &volume);
    return must(s, out * 1000 * (1 - wanted * volume));
}

static double hot_over_cold(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_hot_litres(in[0], WF_SHRINKAGE, &out);
    return must(s, out);
}

static double pitch_billion(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_pitch_billion(in[0], in[1], in[2], &out);
    return must(s, out);
}

static double dry_yeast_g(const double *in, size_t n)
{
    return pitch_billion(in, n) / WF_CELLS_PER_G;
}

static double residual_co2(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_residual_co2(in[0], &out);
    return must(s, out);
}

static double priming_g_per_l(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_priming_g_per_l((enum wf_priming)in[0], &out);
    return must(s, out);
}

static double co2_of_points(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_co2_from_gravity(in[0], in[1], &out);
    return must(s, out);
}

/* Volumes, Fahrenheit. */
static double co2_psi(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_co2_bar(in[0], celsius(in[1]), WF_AIR_BAR, &out);
    return must(s, out / BAR_PER_PSI);
}

/* Metres to hectopascals. */
static double air_hpa(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_air_bar(in[0], &out);
    return must(s, out * 1000);
}

/* Kilopascals. */
static double boiling_c(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_boiling_celsius(in[0] / 100, &out);
    return must(s, out);
}

/* Feet to Garetz's factor, which bitterness is divided by. */
static double height_factor(const double *in, size_t n)
{
    double out = 0;
    (void)n;
    enum wf_status s = wf_height_bitterness(in[0] * 0.3048, &out);
    return must(s, 1 / (1 - out));
}

/* Pounds of malt and quarts of water to quarts of mash. */
static double mash_qt(const double *in, size_t n)
{
    (void)n;
    return in[1] + WF_MALT_ROOM_L_KG * in[0] * WF_KG_PER_LB / WF_L_PER_US_QT;
}

static const struct printed_law law_row[] = {
#define LAW(name, inputs)                                                                          \
    {                                                                                              \
#name, inputs, name                                                                        \
    }
    LAW(strike_f, 3),      LAW(infusion_qt, 5),       LAW(infusion_share, 2),
    LAW(points_boiled, 3), LAW(volume_for_points, 3), LAW(extract_g_per_gal, 2),
    LAW(hot_over_cold, 1), LAW(pitch_billion, 3),     LAW(dry_yeast_g, 3),
    LAW(residual_co2, 1),  LAW(priming_g_per_l, 1),   LAW(co2_of_points, 2),
    LAW(co2_psi, 2),       LAW(air_hpa, 1),           LAW(boiling_c, 1),
    LAW(height_factor, 1), LAW(mash_qt, 2),
#undef LAW
};

const struct printed_law *printed_process_find(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(law_row); i++)
        if (strcmp(law_row[i].name, name) == 0)
            return &law_row[i];
    return NULL;
}
