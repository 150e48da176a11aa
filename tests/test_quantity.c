/* The grammar of figures: reading, refusing, and the tables of units and dimensions. */
#include "support/test.h"

#include "base/number.h"
#include "quantity/unit_table.h"
#include "wortfit/brewing.h"
#include "wortfit/quantity.h"

/* ---- Figures that are read: every example of the grammar, and its corners -------------------- */

static const struct {
    enum wf_dimension d;
    const char *text;
    double value; /* internal unit */
} figure_row[] = {
    {WF_DIM_MASS, "4.5 kg", 4.5},
    {WF_DIM_MASS, "9 lb", 9 * 0.45359237},
    {WF_DIM_MASS, "9lbs", 9 * 0.45359237},
    {WF_DIM_MASS, "8 oz", 8 * 0.028349523125},
    {WF_DIM_MASS, "28 g", 0.028},
    {WF_DIM_MASS, "500 mg", 0.0005},
    {WF_DIM_MASS, "1.2 t", 1200},
    {WF_DIM_MASS, "  .5   KG ", 0.5},
    {WF_DIM_MASS, "1e-3 kg", 0.001},
    {WF_DIM_MASS, "0 g", 0},
    {WF_DIM_MASS, "-0 kg", 0},
    {WF_DIM_MASS, "9 lb 9.5 oz", 9.59375 * 0.45359237},
    {WF_DIM_MASS, "9lb9.5oz", 9.59375 * 0.45359237},
    {WF_DIM_MASS, "1 kg 250 g", 1.25},
    {WF_DIM_VOLUME, "20 L", 20},
    {WF_DIM_VOLUME, "20 l", 20},
    {WF_DIM_VOLUME, "750 mL", 0.75},
    {WF_DIM_VOLUME, "1.5 hL", 150},
    {WF_DIM_VOLUME, "5 gal", 18.92705892},
    {WF_DIM_VOLUME, "5 imp gal", 22.73045},
    {WF_DIM_VOLUME, "4 qt", 3.785411784},
    {WF_DIM_TIME, "60 min", 60},
    {WF_DIM_TIME, "1.5 h", 90},
    {WF_DIM_TIME, "1 h 30 min", 90},
    {WF_DIM_TIME, "90 s", 1.5},
    {WF_DIM_DAYS, "4 days", 4},
    {WF_DIM_DAYS, "1 day", 1},
    {WF_DIM_DAYS, "2 weeks", 14},
    {WF_DIM_TEMPERATURE, "66 C", 66},
    {WF_DIM_TEMPERATURE, "152 F", (152 - 32) / 1.8},
    {WF_DIM_TEMPERATURE, "-18 C", -18},
    {WF_DIM_TEMPERATURE, "-40 F", -40},
    {WF_DIM_TEMPERATURE, "20 °C", 20},
    {WF_DIM_BEER_COLOUR, "12 SRM", 12},
    {WF_DIM_BEER_COLOUR, "24 EBC", 24 / 1.97},
    {WF_DIM_MALT_COLOUR, "3 Lov", 3},
    {WF_DIM_MALT_COLOUR, "24 EBC", (24 / 1.97 + 0.76) / 1.3546},
    {WF_DIM_MALT_COLOUR, "0 EBC", 0},
    {WF_DIM_BITTERNESS, "35 IBU", 35},
    {WF_DIM_BITTERNESS, "35ibu", 35},
    {WF_DIM_GRAVITY, "1.055", 1.055},
    {WF_DIM_GRAVITY, "1.055 SG", 1.055},
    {WF_DIM_GRAVITY, "0.998", 0.998},
    {WF_DIM_SHARE, "6.5 %", 0.065},
    {WF_DIM_SHARE, "100%", 1},
    {WF_DIM_POTENTIAL, "37 ppg", 37 / 46.21},
    {WF_DIM_DIASTATIC, "120 Lintner", 120},
    {WF_DIM_DIASTATIC, "250 WK", 76},
    {WF_DIM_PRICE, "2.40/kg", 2.40},
    {WF_DIM_PRICE, "2.40 / kg", 2.40},
    {WF_DIM_PRICE, "0.06/g", 60},
    {WF_DIM_PRICE, "3.20/100g", 32},
    {WF_DIM_PRICE, "8 /lb", 8 / 0.45359237},
    {WF_DIM_PRICE, "1.2/oz", 1.2 / 0.028349523125},
    {WF_DIM_MONEY, "4.50", 4.5},
    {WF_DIM_RATE, "3 L/h", 3},
    {WF_DIM_RATE, "1 gal/h", 3.785411784},
    {WF_DIM_HEIGHT, "1600 m", 1600},
    {WF_DIM_HEIGHT, "-1400 ft", -426.72},
    {WF_DIM_DOSE, "1.5 g/L", 1.5},
    {WF_DIM_DOSE, "1 oz/gal", 28.349523125 / 3.785411784},
    {WF_DIM_SPECIFIC_VOLUME, "1 L/kg", 1},
    {WF_DIM_SPECIFIC_VOLUME, "1 qt/lb", 0.946352946 / 0.45359237},
    {WF_DIM_NUMBER, "0.62", 0.62},
    {WF_DIM_NUMBER, "-0", 0},
};

static void figures_are_read(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(figure_row); i++) {
        char why[WF_REASON_MAX] = "";
        double value = (double)NAN;
        if (!wf_quantity_parse(figure_row[i].d, figure_row[i].text, &value, why))
            fail_msg("\"%s\" was refused: %s", figure_row[i].text, why);
        assert_close(value, figure_row[i].value, 1e-14 * fabs(figure_row[i].value));
        assert_false(signbit(value) && value == 0.0);
    }
}

/* 13.6 P by the law itself, which test_gravity checks against the tables. */
static void plato_is_read_by_its_law(void **state)
{
    (void)state;
    char why[WF_REASON_MAX];
    double value, sg;
    assert_true(wf_quantity_parse(WF_DIM_GRAVITY, "13.6 P", &value, why));
    assert_int_equal(wf_gravity_from_plato(13.6, &sg), WF_OK);
    assert_close(value, sg, 0);
    assert_close(value, 1.0552, 0.0001);
}

/* ---- Figures that are refused: what is said is what is wrong and what would be right --------- */

static const struct {
    enum wf_dimension d;
    const char *text, *why;
} refused_row[] = {
    {WF_DIM_SHARE, "6.5", "needs a unit: write \"6.5 %\""},
    {WF_DIM_MASS, "500", "needs a unit: write \"500 kg\", \"500 g\", \"500 lb\" or \"500 oz\""},
    {WF_DIM_PRICE, "2.40", "needs a unit: write \"2.4/kg\", \"2.4/g\", \"2.4/lb\" or \"2.4/oz\""},
    {WF_DIM_BEER_COLOUR, "12", "needs a unit: write \"12 SRM\" or \"12 EBC\""},
    {WF_DIM_MALT_COLOUR, "3 L", "is a volume; a malt colour is written \"3 Lov\""},
    {WF_DIM_MALT_COLOUR, "12 SRM", "is a beer colour; a malt colour is written \"12 Lov\""},
    {WF_DIM_BEER_COLOUR, "12 Lov", "is a malt colour; a beer colour is written \"12 SRM\""},
    {WF_DIM_DIASTATIC, "120 L", "is a volume; a diastatic power is written \"120 Lintner\""},
    {WF_DIM_MASS, "20 L", "is a volume; a weight is written \"4.5 kg\""},
    {WF_DIM_TIME, "4 days", "is a number of days; a time is written \"60 min\""},
    {WF_DIM_DAYS, "90 min", "is a time; a number of days is written \"4 days\""},
    {WF_DIM_NUMBER, "62 %", "is a percentage; a number is written \"0.62\""},
    {WF_DIM_MASS, "4.5 kgs", "has the unit \"kgs\", which is not known: the nearest is \"kg\""},
    {WF_DIM_DIASTATIC, "120 Lintnr",
     "has the unit \"Lintnr\", which is not known: the nearest is \"Lintner\""},
    {WF_DIM_MASS, "4.5 stone",
     "has the unit \"stone\", which is not known: a weight is written in kg, g, lb or oz"},
    {WF_DIM_NUMBER, "0.62 pounds", "has \"pounds\" after the number: a number is written \"0.62\""},
    {WF_DIM_PRICE, "2.40 EUR/kg",
     "has the unit \"EUR/kg\", which is not known: a price by weight is written in /kg, /g, /lb or "
     "/oz; the currency is named once, by the store"},
    {WF_DIM_MONEY, "$4.50",
     "lacks a number that can be read: a price is written \"4.50\"; the currency is named once, by "
     "the store"},
    {WF_DIM_MASS, "", "is empty: a weight is written \"4.5 kg\""},
    {WF_DIM_MASS, " \t", "is empty: a weight is written \"4.5 kg\""},
    {WF_DIM_MASS, "kg", "lacks a number that can be read: a weight is written \"4.5 kg\""},
    {WF_DIM_MASS, "inf kg", "lacks a number"},
    {WF_DIM_MASS, "nan kg", "lacks a number"},
    {WF_DIM_MASS, "0x1 kg", "lacks a number"},
    {WF_DIM_MASS, "1e999 kg", "lacks a number"},
    {WF_DIM_MASS, "1,5 kg", "has a comma in a number: write a decimal point, \"1.5 kg\""},
    {WF_DIM_MASS, "-1 kg", "goes below zero, which a weight cannot"},
    {WF_DIM_SHARE, "-0.1 %", "goes below zero, which a percentage cannot"},
    {WF_DIM_SHARE, "101 %", "goes past what a percentage can be, 0.0 % to 100.0 %"},
    {WF_DIM_GRAVITY, "1055", "goes past what a gravity can be, 0.980 to 1.150"},
    {WF_DIM_GRAVITY, "0.9", "goes past what a gravity can be, 0.980 to 1.150"},
    {WF_DIM_GRAVITY, "60 P", "goes past what a gravity can be, 0.980 to 1.150"},
    {WF_DIM_POTENTIAL, "47 ppg", "goes past what a potential can be, 0 ppg to 46.2 ppg"},
    {WF_DIM_TEMPERATURE, "500 F", "goes past what a temperature can be, -50 C to 150 C"},
    {WF_DIM_MASS, "1e9 kg", "goes past what a weight can be, 0 g to 1000000 kg"},
    {WF_DIM_MASS, "9 oz 1 lb", "adds lb to oz: write the larger unit first"},
    {WF_DIM_MASS, "9 lb 3 stone", "has the unit \"stone\", which is not known"},
    {WF_DIM_MASS, "9 lb 3", "needs a unit"},
    {WF_DIM_MASS, "1 5 kg", "has the unit \"5 kg\", which is not known"},
    {WF_DIM_MASS, "9 lb -3 oz", "has the unit"},
    {WF_DIM_MASS, "4.5 kg.", "has the unit \"kg.\", which is not known: the nearest is \"kg\""},
    {WF_DIM_MASS, "1..2 kg", "has the unit \"..2 kg\", which is not known"},
    {WF_DIM_MASS, "1 \x1B[31m", "has the unit \"?[31m\", which is not known"},
    {WF_DIM_MASS, "1 \xFF", "has the unit \"?\", which is not known"},
    {WF_DIM_MASS, "1,5 \x1B[31m", "write a decimal point, \"1.5 ?[31m\""},
    {WF_DIM_MASS, "1 123456789 123456789 123456789 123456789 123456789 123456789 123 kg",
     "is longer than 64 characters: a weight is written \"4.5 kg\""},
};

static void slips_are_told(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(refused_row); i++) {
        char why[WF_REASON_MAX] = "";
        double value = 77;
        if (wf_quantity_parse(refused_row[i].d, refused_row[i].text, &value, why))
            fail_msg("\"%s\" was read as %g", refused_row[i].text, value);
        if (!strstr(why, refused_row[i].why))
            fail_msg("\"%s\" %s\nwant: %s", refused_row[i].text, why, refused_row[i].why);
        assert_close(value, 77, 0);
        assert_null(strstr(why, "..."));
    }
}

static void sixty_four_characters_are_the_limit(void **state)
{
    (void)state;
    char text[80], why[WF_REASON_MAX];
    double value;
    snprintf(text, sizeof text, "%061d kg", 5);
    assert_int_equal(strlen(text), 64);
    assert_true(wf_quantity_parse(WF_DIM_MASS, text, &value, why));
    assert_close(value, 5, 0);
    snprintf(text, sizeof text, "%062d kg", 5);
    assert_false(wf_quantity_parse(WF_DIM_MASS, text, &value, why));
}

/* ---- The tables ------------------------------------------------------------------------------ */

static void every_dimension_reads_its_example(void **state)
{
    (void)state;
    for (int i = 0; i < WF_DIM_COUNT; i++) {
        enum wf_dimension d = (enum wf_dimension)i;
        const struct wf_dimension_row *row = &wf_dimension_table[d];
        char why[WF_REASON_MAX], text[64];
        double value;
        assert_non_null(wf_dimension_called(d));
        assert_true(row->least < row->most);
        if (!wf_quantity_parse(d, wf_dimension_example(d), &value, why))
            fail_msg("\"%s\" %s", wf_dimension_example(d), why);
        /* without its unit it is taken just where a bare figure is allowed */
        const char *unit;
        assert_true(wf_number_parse(row->example, &unit, &value));
        snprintf(text, sizeof text, "%.*s", (int)(unit - row->example), row->example);
        assert_true(wf_quantity_parse(d, text, &value, why) == wf_dimension_is_bare(d));
        /* the internal unit is in the table and is itself */
        const struct wf_unit *u = wf_unit_find(d, row->unit);
        if (strcmp(row->unit, "1") != 0 && d != WF_DIM_POTENTIAL) {
            assert_non_null(u);
            assert_true(u->scale == 1 && u->offset == 0 && !u->to);
        }
    }
}

static void units_are_unique_and_complete(void **state)
{
    (void)state;
    for (size_t i = 0; i < wf_unit_count; i++) {
        const struct wf_unit *u = &wf_unit_table[i];
        assert_ptr_equal(wf_unit_find(u->dimension, u->symbol), u); /* no earlier row hides it */
        assert_true((u->to == NULL) == (u->from == NULL));
        assert_true(u->to || u->scale > 0);
        assert_non_null(u->source);
    }
}

/* To the internal unit and back over the whole range of the dimension, and rising all the way. */
static void units_come_back(void **state)
{
    (void)state;
    for (size_t i = 0; i < wf_unit_count; i++) {
        const struct wf_unit *u = &wf_unit_table[i];
        const struct wf_dimension_row *row = &wf_dimension_table[u->dimension];
        double before = -HUGE_VAL;
        for (int step = 0; step <= 200; step++) {
            double internal = row->least + (row->most - row->least) * step / 200, figure, back;
            assert_true(wf_unit_from_internal(u, internal, &figure));
            assert_true(figure > before);
            before = figure;
            assert_true(wf_unit_to_internal(u, figure, &back));
            assert_close(back, internal, 1e-12 * fmax(1, fabs(internal)));
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_read),
        cmocka_unit_test(plato_is_read_by_its_law),
        cmocka_unit_test(slips_are_told),
        cmocka_unit_test(sixty_four_characters_are_the_limit),
        cmocka_unit_test(every_dimension_reads_its_example),
        cmocka_unit_test(units_are_unique_and_complete),
        cmocka_unit_test(units_come_back),
    };
    return cmocka_run_group_tests_name("quantity", tests, NULL, NULL) != 0;
}
