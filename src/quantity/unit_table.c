/* unit_table.c: the rows of units and dimensions. */
#include "quantity/unit_table.h"

#include "base/ascii.h"
#include "base/try.h"
#include "wortfit/brewing.h"
#include "wortfit/process.h" /* WF_CO2_G_PER_L */

/* ---- Units that are not a plain scale -------------------------------------------------------- */

static enum wf_status srm_from_ebc(double ebc, double *srm)
{
    *srm = wf_srm_from_ebc(ebc);
    return WF_OK;
}

static enum wf_status ebc_from_srm(double srm, double *ebc)
{
    *ebc = wf_ebc_from_srm(srm);
    return WF_OK;
}

static enum wf_status lintner_from_wk(double wk, double *lintner)
{
    *lintner = wf_lintner_from_wk(wk);
    return WF_OK;
}

static enum wf_status wk_from_lintner(double lintner, double *wk)
{
    *wk = wf_wk_from_lintner(lintner);
    return WF_OK;
}

static enum wf_status potential_from_yield(double yield, double *ppg)
{
    *ppg = yield * WF_SUCROSE_PPG;
    return WF_OK;
}

/* ---- The rows -------------------------------------------------------------------------------- */

#define L_PER_IMPERIAL_GAL 4.54609
#define NIST               "NIST SP 811"
#define DEFINITION         "definition"

/* d, symbol, named in messages, scale, source */
#define PLAIN(d, text, named, factor, from_where)                                                  \
    {                                                                                              \
        .dimension = WF_DIM_##d, .symbol = (text), .common = (named), .scale = (factor),           \
        .source = (from_where)                                                                     \
    }
/* d, symbol, named in messages, law to the internal unit, law back, source */
#define BY_LAW(d, text, named, law, back, from_where)                                              \
    {                                                                                              \
        .dimension = WF_DIM_##d, .symbol = (text), .common = (named), .to = (law), .from = (back), \
        .source = (from_where)                                                                     \
    }
#define FAHRENHEIT(text, named)                                                                    \
    {                                                                                              \
        .dimension = WF_DIM_TEMPERATURE, .symbol = (text), .common = (named), .scale = 5.0 / 9,    \
        .offset = -160.0 / 9, .source = NIST                                                       \
    }

const struct wf_unit wf_unit_table[] = {
    PLAIN(MASS, "kg", true, 1, DEFINITION),
    PLAIN(MASS, "g", true, 1e-3, DEFINITION),
    PLAIN(MASS, "mg", false, 1e-6, DEFINITION),
    PLAIN(MASS, "t", false, 1e3, DEFINITION),
    PLAIN(MASS, "lb", true, WF_KG_PER_LB, NIST),
    PLAIN(MASS, "lbs", false, WF_KG_PER_LB, NIST),
    PLAIN(MASS, "oz", true, WF_KG_PER_OZ, NIST),

    PLAIN(VOLUME, "L", true, 1, DEFINITION),
    PLAIN(VOLUME, "mL", true, 1e-3, DEFINITION),
    PLAIN(VOLUME, "hL", false, 100, DEFINITION),
    PLAIN(VOLUME, "gal", true, WF_L_PER_US_GAL, NIST),
    PLAIN(VOLUME, "qt", true, WF_L_PER_US_QT, NIST),
    PLAIN(VOLUME, "imp gal", false, L_PER_IMPERIAL_GAL, NIST),

    PLAIN(TIME, "min", true, 1, DEFINITION),
    PLAIN(TIME, "h", true, 60, DEFINITION),
    PLAIN(TIME, "s", false, 1.0 / 60, DEFINITION),

    PLAIN(DAYS, "days", true, 1, DEFINITION),
    PLAIN(DAYS, "day", false, 1, DEFINITION),
    PLAIN(DAYS, "d", false, 1, DEFINITION),
    PLAIN(DAYS, "weeks", true, 7, DEFINITION),
    PLAIN(DAYS, "week", false, 7, DEFINITION),

    PLAIN(TEMPERATURE, "C", true, 1, DEFINITION),
    PLAIN(TEMPERATURE, "°C", false, 1, DEFINITION),
    FAHRENHEIT("F", true),
    FAHRENHEIT("°F", false),

    PLAIN(BEER_COLOUR, "SRM", true, 1, "ASBC Beer-10"),
    BY_LAW(BEER_COLOUR, "EBC", true, srm_from_ebc, ebc_from_srm, "ASBC Beer-10, EBC 9.6"),

    PLAIN(MALT_COLOUR, "Lov", true, 1, DEFINITION),
    BY_LAW(MALT_COLOUR, "EBC", true, wf_lovibond_from_ebc, wf_ebc_from_lovibond,
           "maltsters' comparison of the scales, from memory"),

    PLAIN(BITTERNESS, "IBU", true, 1, "ASBC Beer-23"),

    PLAIN(GRAVITY, "SG", false, 1, DEFINITION),
    BY_LAW(GRAVITY, "P", true, wf_gravity_from_plato, wf_plato_from_gravity, "ASBC table fit"),
    BY_LAW(GRAVITY, "°P", false, wf_gravity_from_plato, wf_plato_from_gravity, "ASBC table fit"),

    PLAIN(SHARE, "%", true, 1e-2, DEFINITION),

    BY_LAW(POTENTIAL, "ppg", true, wf_yield_from_potential, potential_from_yield,
           "sucrose 46.21, common practice"),

    PLAIN(DIASTATIC, "Lintner", true, 1, DEFINITION),
    BY_LAW(DIASTATIC, "WK", true, lintner_from_wk, wk_from_lintner, "The Oxford Companion to Beer"),

    PLAIN(PRICE, "/kg", true, 1, DEFINITION),
    PLAIN(PRICE, "/g", true, 1e3, DEFINITION),
    PLAIN(PRICE, "/100 g", false, 10, DEFINITION),
    PLAIN(PRICE, "/lb", true, 1 / WF_KG_PER_LB, NIST),
    PLAIN(PRICE, "/oz", true, 1 / WF_KG_PER_OZ, NIST),

    PLAIN(RATE, "L/h", true, 1, DEFINITION),
    PLAIN(RATE, "gal/h", true, WF_L_PER_US_GAL, NIST),

    PLAIN(DOSE, "g/L", true, 1, DEFINITION),
    PLAIN(DOSE, "oz/gal", true, 1e3 * WF_KG_PER_OZ / WF_L_PER_US_GAL, NIST),

    PLAIN(SPECIFIC_VOLUME, "L/kg", true, 1, DEFINITION),
    PLAIN(SPECIFIC_VOLUME, "qt/lb", true, WF_L_PER_US_QT / WF_KG_PER_LB, NIST),

    PLAIN(CARBONATION, "vol", true, 1, DEFINITION),
    PLAIN(CARBONATION, "g/L", true, 1 / WF_CO2_G_PER_L, "density of carbon dioxide, 0 C, 1 atm"),

    PLAIN(HEIGHT, "m", true, 1, DEFINITION),
    PLAIN(HEIGHT, "ft", true, 0.3048, NIST),
};
const size_t wf_unit_count = WF_COUNT_OF(wf_unit_table);

/* ---- Dimensions ------------------------------------------------------------------------------ */

#define CURRENCY "; the currency is named once, by the store"

/* bare, sum of units, least, most, hint. The ends are those of the laws, or far past any brewery.
 */
#define MASS_ALLOWS            false, true, 0, 1e6, ""
#define VOLUME_ALLOWS          false, false, 0, 1e7, ""
#define TIME_ALLOWS            false, true, 0, 1e5, ""
#define DAYS_ALLOWS            false, false, 0, 36500, ""
#define TEMPERATURE_ALLOWS     false, false, -50, 150, ""
#define BEER_COLOUR_ALLOWS     false, false, 0, 170, ""
#define MALT_COLOUR_ALLOWS     false, false, 0, 750, ""
#define BITTERNESS_ALLOWS      false, false, 0, 1000, ""
#define GRAVITY_ALLOWS         true, false, WF_GRAVITY_LEAST, WF_GRAVITY_MOST, ""
#define SHARE_ALLOWS           false, false, 0, 1, ""
#define POTENTIAL_ALLOWS       false, false, 0, 1, ""
#define DIASTATIC_ALLOWS       false, false, 0, 1000, ""
#define PRICE_ALLOWS           false, false, 0, 1e9, CURRENCY
#define MONEY_ALLOWS           true, false, 0, 1e12, CURRENCY
#define RATE_ALLOWS            false, false, 0, 1e6, ""
#define DOSE_ALLOWS            false, false, 0, 1000, ""
#define SPECIFIC_VOLUME_ALLOWS false, false, 0, 1000, ""
#define CARBONATION_ALLOWS     false, false, 0, 10, ""
#define HEIGHT_ALLOWS          false, false, -500, 1e5, ""
#define NUMBER_ALLOWS          true, false, 0, 1e12, ""

const struct wf_dimension_row wf_dimension_table[] = {
#define WF_X(id, unit, called, example) [WF_DIM_##id] = {unit, called, example, id##_ALLOWS},
    WF_DIMENSION_LIST(WF_X)
#undef WF_X
};
_Static_assert(WF_COUNT_OF(wf_dimension_table) == WF_DIM_COUNT, "one row a dimension");

/* ---- Looking up and converting --------------------------------------------------------------- */

static bool names(const char *text, const char *symbol)
{
    for (; *symbol; symbol++) {
        if (*symbol == ' ' || *symbol == '/')
            text = wf_ascii_skip_blanks(text);
        if (*symbol == ' ')
            continue;
        if (wf_ascii_lower(*text) != wf_ascii_lower(*symbol))
            return false;
        text++;
        if (*symbol == '/')
            text = wf_ascii_skip_blanks(text);
    }
    return *wf_ascii_skip_blanks(text) == '\0';
}

const struct wf_unit *wf_unit_find(enum wf_dimension d, const char *text)
{
    for (size_t i = 0; i < wf_unit_count; i++)
        if (wf_unit_table[i].dimension == d && names(text, wf_unit_table[i].symbol))
            return &wf_unit_table[i];
    return NULL;
}

const struct wf_unit *wf_unit_find_any(const char *text)
{
    const struct wf_unit *u = NULL;
    for (int d = 0; d < WF_DIM_COUNT && !u; d++)
        u = wf_unit_find((enum wf_dimension)d, text);
    return u;
}

bool wf_unit_same(const struct wf_unit *a, const struct wf_unit *b)
{
    return a->dimension == b->dimension && a->scale == b->scale && a->offset == b->offset &&
           a->to == b->to;
}

bool wf_unit_to_internal(const struct wf_unit *u, double figure, double *out)
{
    if (u->to)
        return u->to(figure, out) == WF_OK;
    *out = u->scale * figure + u->offset;
    return true;
}

bool wf_unit_from_internal(const struct wf_unit *u, double internal, double *out)
{
    if (u->from)
        return u->from(internal, out) == WF_OK;
    *out = (internal - u->offset) / u->scale;
    return true;
}
