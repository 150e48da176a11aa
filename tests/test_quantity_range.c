/* Wanted values: aims, tolerances, ends. */
#include "support/test.h"

#include "wortfit/quantity.h"

#define NONE (double)NAN
#define ANY  HUGE_VAL

static const struct {
    enum wf_dimension d;
    const char *text;
    double tolerance; /* of the place, for a bare aim */
    double low, high, aim;
} range_row[] = {
    {WF_DIM_GRAVITY, "1.055", 0.001, 1.054, 1.056, 1.055},
    {WF_DIM_GRAVITY, "1.055", -1, 1.055, 1.055, 1.055},
    {WF_DIM_GRAVITY, "1.055", 0, 1.055, 1.055, 1.055},
    {WF_DIM_GRAVITY, "1.055 +/- 0.002", 0.001, 1.053, 1.057, 1.055},
    {WF_DIM_GRAVITY, "1.055+/-0", 0.001, 1.055, 1.055, 1.055},
    {WF_DIM_GRAVITY, "1.050..1.060", 0.001, 1.050, 1.060, NONE},
    {WF_DIM_GRAVITY, "1.050 .. 1.060 SG", 0.001, 1.050, 1.060, NONE},
    {WF_DIM_GRAVITY, ">= 1.050", 0.001, 1.050, ANY, NONE},
    {WF_DIM_GRAVITY, "<=1.050", 0.001, -ANY, 1.050, NONE},
    {WF_DIM_GRAVITY, "1.149", 0.002, 1.147, 1.150, 1.149}, /* held within the law's range */
    {WF_DIM_BEER_COLOUR, "8..12 SRM", 1, 8, 12, NONE},
    {WF_DIM_BEER_COLOUR, "8 SRM..24 EBC", 1, 8, 24 / 1.97, NONE},
    {WF_DIM_BEER_COLOUR, "<= 12 SRM", 1, -ANY, 12, NONE},
    {WF_DIM_BEER_COLOUR, "2 SRM", 1, 1, 3, 2},
    {WF_DIM_BEER_COLOUR, "0.5 SRM", 1, 0, 1.5, 0.5}, /* no colour below nothing */
    {WF_DIM_BEER_COLOUR, "19.7 EBC", 1, 9, 11, 10},  /* the tolerance is in SRM */
    {WF_DIM_BEER_COLOUR, "19.7 +/- 1.97 EBC", 1, 9, 11, 10},
    {WF_DIM_BEER_COLOUR, "10 SRM +/- 20", 1, 0, 30, 10},
    {WF_DIM_SHARE, "5..10 %", 0.01, 0.05, 0.10, NONE},
    {WF_DIM_SHARE, "5 %..5 %", 0.01, 0.05, 0.05, NONE},
    {WF_DIM_SHARE, "99.5 %", 0.01, 0.985, 1, 0.995},
    {WF_DIM_TEMPERATURE, "-2..5 C", 1, -2, 5, NONE},
    {WF_DIM_TEMPERATURE, "68 +/- 9 F", 1, 15, 25, 20},
    {WF_DIM_DOSE, "0.5..1.5 g/L", -1, 0.5, 1.5, NONE},
    {WF_DIM_DOSE, "1 g/L", -1, 1, 1, 1},
    {WF_DIM_PRICE, "1..2/kg", 0, 1, 2, NONE},
    {WF_DIM_MASS, "1 lb 8 oz..2 lb", 0, 1.5 * 0.45359237, 2 * 0.45359237, NONE},
    {WF_DIM_MASS, "1 kg 500 g +/- 1 kg", 0, 0.5, 2.5, 1.5},
    {WF_DIM_MASS, "9 lb +/- 1 lbs", 0, 8 * 0.45359237, 10 * 0.45359237, 9 * 0.45359237},
    {WF_DIM_NUMBER, "0.6", 0.02, 0.58, 0.62, 0.6},
    {WF_DIM_NUMBER, ".5...7", 0.02, 0.5, 0.7, NONE},
};

/* Also true for the infinite ends, which fabs(inf - inf) would not be. */
static void check_end(double got, double want, const char *text)
{
    if (!(got == want || fabs(got - want) <= 1e-12 || (isnan(got) && isnan(want))))
        fail_msg("\"%s\" gave %.17g, want %.17g", text, got, want);
}

static void ranges_are_read(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(range_row); i++) {
        char why[WF_REASON_MAX] = "";
        struct wf_range r = {0};
        if (!wf_range_parse(range_row[i].d, range_row[i].text, range_row[i].tolerance, &r, why))
            fail_msg("\"%s\" was refused: %s", range_row[i].text, why);
        check_end(r.low, range_row[i].low, range_row[i].text);
        check_end(r.high, range_row[i].high, range_row[i].text);
        check_end(r.aim, range_row[i].aim, range_row[i].text);
        assert_true(r.low <= r.high);
        assert_true(isnan(r.aim) || (r.low <= r.aim && r.aim <= r.high));
    }
}

/* Gravity in degrees Plato: the ends are those of the Plato figures, each by the law. */
static void ranges_in_plato(void **state)
{
    (void)state;
    static const struct {
        const char *text, *low, *high;
    } row[] = {
        {"12..14 P", "12 P", "14 P"},           {"12 P..14 P", "12 P", "14 P"},
        {"13.6 P +/- 0.5", "13.1 P", "14.1 P"}, {"13.6 +/- 0.5 P", "13.1 P", "14.1 P"},
        {"1.050 SG..14 P", "1.050", "14 P"},    {"12 P..1.060", "12 P", "1.060"},
    };
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        char why[WF_REASON_MAX] = "";
        struct wf_range r;
        double low, high;
        if (!wf_range_parse(WF_DIM_GRAVITY, row[i].text, 0, &r, why))
            fail_msg("\"%s\" was refused: %s", row[i].text, why);
        assert_true(wf_quantity_parse(WF_DIM_GRAVITY, row[i].low, &low, why));
        assert_true(wf_quantity_parse(WF_DIM_GRAVITY, row[i].high, &high, why));
        assert_close(r.low, low, 1e-15);
        assert_close(r.high, high, 1e-15);
    }
}

static const struct {
    enum wf_dimension d;
    const char *text, *why;
} refused_row[] = {
    {WF_DIM_GRAVITY, "> 1.050", "needs \"=\" after \">\": write \">= 1.050\""},
    {WF_DIM_BEER_COLOUR, "<12 SRM", "needs \"=\" after \"<\": write \"<= 12 SRM\""},
    {WF_DIM_GRAVITY, ">=", "is empty: a gravity is written \"1.055\""},
    {WF_DIM_GRAVITY, ">= high", "lacks a number that can be read"},
    {WF_DIM_GRAVITY, "1.060..1.050", "has its larger end first: write \"1.050..1.060\""},
    {WF_DIM_BEER_COLOUR, "12..8 SRM", "has its larger end first"},
    {WF_DIM_BEER_COLOUR, "8..12", "needs a unit: write \"8 SRM\" or \"8 EBC\""},
    {WF_DIM_BEER_COLOUR, "8 SRM..12", "needs a unit: write \"12 SRM\" or \"12 EBC\""},
    {WF_DIM_BEER_COLOUR, "8..12 Lov", "is a malt colour; a beer colour is written \"12 SRM\""},
    {WF_DIM_BEER_COLOUR, "..12 SRM", "is empty"},
    {WF_DIM_BEER_COLOUR, "8 SRM..", "is empty"},
    {WF_DIM_BEER_COLOUR, "-3..12 SRM", "goes below zero, which a beer colour cannot"},
    {WF_DIM_BEER_COLOUR, "8..900 SRM", "goes past what a beer colour can be"},
    {WF_DIM_GRAVITY, "1.050..14 P", "mixes a bare figure with one in P: write both in one unit"},
    {WF_DIM_GRAVITY, "1.055 +/- 0.5 P", "mixes a bare figure with one in P"},
    {WF_DIM_GRAVITY, "1.055 +/- -0.001", "has a tolerance below zero"},
    {WF_DIM_GRAVITY, "1.055 +/-", "is empty"},
    {WF_DIM_GRAVITY, "13.6 P +/- 0.002 SG", "has its tolerance in another unit"},
    {WF_DIM_BEER_COLOUR, "12 SRM +/- 4 EBC", "has its tolerance in another unit"},
    {WF_DIM_MASS, "5 kg +/- 1 lb 2 oz", "has its tolerance in another unit"},
    {WF_DIM_MASS, "5 lb +/- 1 lb 2 oz", "has its tolerance in another unit"},
    {WF_DIM_GRAVITY, "", "is empty"},
    {WF_DIM_GRAVITY, "1,050..1,060", "has a comma in a number: write a decimal point, \"1.050\""},
};

static void slips_are_told(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(refused_row); i++) {
        char why[WF_REASON_MAX] = "";
        struct wf_range r = {7, 7, 7};
        if (wf_range_parse(refused_row[i].d, refused_row[i].text, 0.001, &r, why))
            fail_msg("\"%s\" was read as %g..%g", refused_row[i].text, r.low, r.high);
        if (!strstr(why, refused_row[i].why))
            fail_msg("\"%s\" %s\nwant: %s", refused_row[i].text, why, refused_row[i].why);
        assert_true(r.low == 7 && r.high == 7 && r.aim == 7);
    }
}

static void middle_is_what_was_meant(void **state)
{
    (void)state;
    assert_close(wf_range_middle((struct wf_range){1, 5, 4}), 4, 0);
    assert_close(wf_range_middle((struct wf_range){1, 5, NONE}), 3, 0);
    assert_close(wf_range_middle((struct wf_range){-ANY, 5, NONE}), 5, 0);
    assert_close(wf_range_middle((struct wf_range){1, ANY, NONE}), 1, 0);
    double none = wf_range_middle(wf_range_any());
    assert_true(isnan(none));
    assert_true(wf_range_is_any(wf_range_any()));
    assert_false(wf_range_is_any((struct wf_range){-ANY, 5, NONE}));
    assert_false(wf_range_is_any((struct wf_range){1, ANY, NONE}));
    assert_false(wf_range_is_any((struct wf_range){-ANY, ANY, 4}));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ranges_are_read),
        cmocka_unit_test(ranges_in_plato),
        cmocka_unit_test(slips_are_told),
        cmocka_unit_test(middle_is_what_was_meant),
    };
    return cmocka_run_group_tests_name("ranges", tests, NULL, NULL) != 0;
}
