/* Figures as a brewer reads them, in metric and US units. */
#include "support/test.h"

#include "wortfit/quantity.h"

#define LB 0.45359237
#define OZ (LB / 16)

static const struct {
    enum wf_dimension d;
    double value;
    const char *metric, *us;
} print_row[] = {
    {WF_DIM_MASS, 4.35, "4.35 kg", "9 lb 9.4 oz"},
    {WF_DIM_MASS, 5, "5 kg", "11 lb 0.4 oz"},
    {WF_DIM_MASS, 0.43, "430 g", "15.17 oz"},
    {WF_DIM_MASS, 0.0245, "24.5 g", "0.86 oz"},
    {WF_DIM_MASS, 0.00028, "0.28 g", "0.01 oz"},
    {WF_DIM_MASS, 0, "0 g", "0 oz"},
    {WF_DIM_MASS, 9 * LB, "4.082 kg", "9 lb"},
    {WF_DIM_MASS, 9 * LB + 9.5 * OZ, "4.352 kg", "9 lb 9.5 oz"},
    {WF_DIM_MASS, 0.75 * OZ, "21.3 g", "0.75 oz"},
    {WF_DIM_MASS, 8.5 * OZ, "241 g", "8.5 oz"},
    /* rounding that carries */
    {WF_DIM_MASS, 15.99 * OZ, "453 g", "15.99 oz"},
    {WF_DIM_MASS, 15.996 * OZ, "453 g", "1 lb"},
    {WF_DIM_MASS, LB + 15.96 * OZ, "906 g", "2 lb"},
    {WF_DIM_MASS, LB + 15.94 * OZ, "905 g", "1 lb 15.9 oz"},
    {WF_DIM_MASS, LB + 0.04 * OZ, "455 g", "1 lb"},
    {WF_DIM_MASS, 0.9994, "999 g", "2 lb 3.3 oz"},
    {WF_DIM_MASS, 0.9996, "1 kg", "2 lb 3.3 oz"},
    {WF_DIM_MASS, 0.09996, "100 g", "3.53 oz"},
    {WF_DIM_MASS, 0.0009951, "1 g", "0.04 oz"},
    {WF_DIM_VOLUME, 20, "20 L", "5.28 gal"},
    {WF_DIM_VOLUME, 18.92705892, "18.93 L", "5 gal"},
    {WF_DIM_TIME, 60, "60 min", "60 min"},
    {WF_DIM_TIME, 12.54, "12.5 min", "12.5 min"},
    {WF_DIM_DAYS, 1, "1 day", "1 day"},
    {WF_DIM_DAYS, 4, "4 days", "4 days"},
    {WF_DIM_TEMPERATURE, 66, "66 C", "150.8 F"},
    {WF_DIM_TEMPERATURE, -18, "-18 C", "-0.4 F"},
    {WF_DIM_TEMPERATURE, -0.01, "0 C", "32 F"}, /* no "-0" */
    {WF_DIM_BEER_COLOUR, 13.16, "13.2 SRM", "13.2 SRM"},
    {WF_DIM_BEER_COLOUR, 13, "13.0 SRM", "13.0 SRM"},
    {WF_DIM_MALT_COLOUR, 60, "60 Lov", "60 Lov"},
    {WF_DIM_MALT_COLOUR, 1.84, "1.8 Lov", "1.8 Lov"},
    {WF_DIM_BITTERNESS, 33.06, "33.1 IBU", "33.1 IBU"},
    {WF_DIM_GRAVITY, 1.0551, "1.055", "1.055"},
    {WF_DIM_GRAVITY, 1.05, "1.050", "1.050"},
    {WF_DIM_SHARE, 0.065, "6.5 %", "6.5 %"},
    {WF_DIM_SHARE, 1, "100.0 %", "100.0 %"},
    {WF_DIM_POTENTIAL, 37 / 46.21, "37 ppg", "37 ppg"},
    {WF_DIM_DIASTATIC, 120, "120 Lintner", "120 Lintner"},
    {WF_DIM_PRICE, 2.4, "2.40/kg", "1.09/lb"},
    {WF_DIM_MONEY, 4.5, "4.50", "4.50"},
    {WF_DIM_RATE, 3, "3 L/h", "0.79 gal/h"},
    {WF_DIM_HEIGHT, 1609.344, "1609 m", "5280 ft"},
    {WF_DIM_DOSE, 1.5, "1.5 g/L", "0.2 oz/gal"},
    {WF_DIM_SPECIFIC_VOLUME, 3, "3 L/kg", "1.44 qt/lb"},
    {WF_DIM_NUMBER, 0.6, "0.60", "0.60"},
    {WF_DIM_NUMBER, 1e300, "1e+300", "1e+300"},
    {WF_DIM_MASS, 1e30, "1e+30 kg", "2.20462e+30 lb"},
};

static void figures_are_written(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(print_row); i++) {
        char text[64];
        assert_string_equal(wf_quantity_print(print_row[i].d, print_row[i].value, WF_UNITS_METRIC,
                                              text, sizeof text),
                            print_row[i].metric);
        assert_string_equal(
            wf_quantity_print(print_row[i].d, print_row[i].value, WF_UNITS_US, text, sizeof text),
            print_row[i].us);
    }
}

static void what_is_no_figure_is_said(void **state)
{
    (void)state;
    for (int i = 0; i < WF_DIM_COUNT; i++) {
        enum wf_dimension d = (enum wf_dimension)i;
        char text[64];
        wf_quantity_print(d, (double)NAN, WF_UNITS_US, text, sizeof text);
        assert_string_equal(text, "-");
        wf_quantity_print(d, HUGE_VAL, WF_UNITS_METRIC, text, sizeof text);
        assert_string_equal(text, "any");
    }
    char tight[5];
    wf_quantity_print(WF_DIM_MASS, 4.35, WF_UNITS_METRIC, tight, sizeof tight);
    assert_string_equal(tight, "4.35");
}

/* What is printed reads back to within the last digit shown: half a step of each style. */
static void what_is_written_can_be_read(void **state)
{
    (void)state;
    static const struct {
        enum wf_dimension d;
        double most, metric_step, us_step; /* internal unit */
    } row[] = {
        {WF_DIM_MASS, 20, 1e-3, 0.1 * OZ},
        {WF_DIM_VOLUME, 60, 0.01, 0.01 * 3.785411784},
        {WF_DIM_TIME, 90, 0.1, 0.1},
        {WF_DIM_DAYS, 20, 0.1, 0.1},
        {WF_DIM_TEMPERATURE, 100, 0.1, 0.1 / 1.8},
        {WF_DIM_BEER_COLOUR, 60, 0.1, 0.1},
        {WF_DIM_MALT_COLOUR, 600, 0.1, 0.1},
        {WF_DIM_BITTERNESS, 120, 0.1, 0.1},
        {WF_DIM_SHARE, 1, 0.001, 0.001},
        {WF_DIM_POTENTIAL, 1, 0.1 / 46.21, 0.1 / 46.21},
        {WF_DIM_DIASTATIC, 200, 1, 1},
        {WF_DIM_PRICE, 80, 0.01, 0.01 / LB},
        {WF_DIM_MONEY, 50, 0.01, 0.01},
        {WF_DIM_RATE, 6, 0.01, 0.01 * 3.785411784},
        {WF_DIM_DOSE, 8, 0.01, 0.001 * 7.489},
        {WF_DIM_SPECIFIC_VOLUME, 4, 0.01, 0.01 * 2.0863},
        {WF_DIM_NUMBER, 2, 0.01, 0.01},
    };
    for (size_t i = 0; i < COUNT_OF(row); i++)
        for (int step = 0; step <= 997; step++)
            for (int units = WF_UNITS_METRIC; units <= WF_UNITS_US; units++) {
                char text[64], why[WF_REASON_MAX] = "";
                double value = row[i].most * step / 997, back;
                double tolerance =
                    (units == WF_UNITS_US ? row[i].us_step : row[i].metric_step) * 0.5000001;
                wf_quantity_print(row[i].d, value, (enum wf_units)units, text, sizeof text);
                if (!wf_quantity_parse(row[i].d, text, &back, why))
                    fail_msg("%s %s", text, why);
                assert_close(back, value, tolerance);
            }
}

static const struct {
    enum wf_dimension d;
    double low, high;
    const char *metric, *us;
} range_row[] = {
    {WF_DIM_GRAVITY, 1.054, 1.056, "1.054..1.056", "1.054..1.056"},
    {WF_DIM_GRAVITY, 1.0505, 1.06, "1.0505..1.060", "1.0505..1.060"},
    {WF_DIM_BEER_COLOUR, 8, HUGE_VAL, ">= 8 SRM", ">= 8 SRM"},
    {WF_DIM_BEER_COLOUR, 8, 12.5, "8..12.5 SRM", "8..12.5 SRM"},
    {WF_DIM_SHARE, -HUGE_VAL, 0.05, "<= 5 %", "<= 5 %"},
    {WF_DIM_SHARE, 0.05, 0.05, "5 %", "5 %"},
    {WF_DIM_SHARE, -HUGE_VAL, 0.0055, "<= 0.55 %", "<= 0.55 %"},
    {WF_DIM_MASS, 0.3, 0.5, "300..500 g", "10.58 oz..1 lb 1.6 oz"},
    {WF_DIM_MASS, 0.5, 1.2, "500 g..1.2 kg", "1 lb 1.6 oz..2 lb 10.3 oz"},
    {WF_DIM_MASS, 1.5 * LB, 2.5 * LB, "680 g..1.134 kg", "1 lb 8 oz..2 lb 8 oz"},
    {WF_DIM_PRICE, 1, 2, "1.00..2.00/kg", "0.454..0.907/lb"},
    {WF_DIM_DAYS, 1, 4, "1 day..4 days", "1 day..4 days"},
    {WF_DIM_NUMBER, 0.58, 0.62, "0.58..0.62", "0.58..0.62"},
    {WF_DIM_VOLUME, -HUGE_VAL, HUGE_VAL, "any", "any"},
};

static void ranges_are_written_and_can_be_read(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(range_row); i++) {
        struct wf_range r = {range_row[i].low, range_row[i].high, (double)NAN}, back;
        char text[64], why[WF_REASON_MAX] = "";
        wf_range_print(range_row[i].d, r, WF_UNITS_US, text, sizeof text);
        assert_string_equal(text, range_row[i].us);
        wf_range_print(range_row[i].d, r, WF_UNITS_METRIC, text, sizeof text);
        assert_string_equal(text, range_row[i].metric);
        if (wf_range_is_any(r))
            continue;
        if (!wf_range_parse(range_row[i].d, text, -1, &back, why))
            fail_msg("\"%s\" %s", text, why);
        assert_true(back.low == r.low || fabs(back.low - r.low) < 1e-3);
        assert_true(back.high == r.high || fabs(back.high - r.high) < 1e-3);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_written),
        cmocka_unit_test(what_is_no_figure_is_said),
        cmocka_unit_test(what_is_written_can_be_read),
        cmocka_unit_test(ranges_are_written_and_can_be_read),
    };
    return cmocka_run_group_tests_name("printed figures", tests, NULL, NULL) != 0;
}
