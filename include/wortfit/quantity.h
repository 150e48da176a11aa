/*
 * quantity.h: one grammar for every figure that a brewer writes, in files and on the command line.
 *
 *     "4.5 kg"  "9 lb"  "28 g"  "20 L"  "5 gal"  "60 min"  "152 F"  "12 SRM"  "24 EBC"  "3 Lov"
 *     "35 IBU"  "6.5 %"  "37 ppg"  "120 Lintner"  "250 WK"  "1.055"  "13.6 P"  "2.40/kg"  "8 /lb"
 *
 * A number, then a unit; the space between them is free, and the case of a unit is ignored. Weights
 * and times may be sums, larger unit first: "9 lb 9.5 oz". What a unit means depends on the
 * dimension that the place wants: "24 EBC" is beer colour in a target and malt colour in a lot.
 * Past this module every figure is in the dimension's one internal unit, named in the list below.
 */
#ifndef WORTFIT_QUANTITY_H
#define WORTFIT_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>

/* id, internal unit, what it is called in a message, an example that is right */
#define WF_DIMENSION_LIST(X)                                                                       \
    X(MASS, "kg", "a weight", "4.5 kg")                                                            \
    X(VOLUME, "L", "a volume", "20 L")                                                             \
    X(TIME, "min", "a time", "60 min")                                                             \
    X(DAYS, "days", "a number of days", "4 days")                                                  \
    X(TEMPERATURE, "C", "a temperature", "66 C")                                                   \
    X(BEER_COLOUR, "SRM", "a beer colour", "12 SRM")                                               \
    X(MALT_COLOUR, "Lov", "a malt colour", "60 Lov")                                               \
    X(BITTERNESS, "IBU", "a bitterness", "35 IBU")                                                 \
    X(GRAVITY, "SG", "a gravity", "1.055")                                                         \
    X(SHARE, "1", "a percentage", "6.5 %")                                                         \
    X(POTENTIAL, "kg/kg", "a potential", "37 ppg")                                                 \
    X(DIASTATIC, "Lintner", "a diastatic power", "120 Lintner")                                    \
    X(PRICE, "/kg", "a price by weight", "2.40/kg")                                                \
    X(MONEY, "1", "a price", "4.50")                                                               \
    X(RATE, "L/h", "an evaporation rate", "3 L/h")                                                 \
    X(DOSE, "g/L", "a dose", "1.5 g/L")                                                            \
    X(SPECIFIC_VOLUME, "L/kg", "a volume by weight", "1 L/kg")                                     \
    X(CARBONATION, "vol", "a carbonation", "2.4 vol")                                              \
    X(HEIGHT, "m", "a height", "1600 m")                                                           \
    X(NUMBER, "1", "a number", "0.62")

enum wf_dimension {
#define WF_X(id, unit, called, example) WF_DIM_##id,
    WF_DIMENSION_LIST(WF_X)
#undef WF_X
        WF_DIM_COUNT
};

#define WF_REASON_MAX 256

/*
 * What is wanted of a figure, in the dimension's internal unit: low <= figure <= high, either end
 * may be infinite; aim is the figure named, or NaN where only bounds were given. `text` in files:
 * "1.055", "1.055 +/- 0.002", "1.050..1.060", ">= 1.050", "<= 12 SRM".
 */
struct wf_range {
    double low, high, aim;
};

/* No wish at all: -inf, +inf, no aim. */
struct wf_range wf_range_any(void);
bool wf_range_is_any(struct wf_range r);
/* The aim, or else the middle, or else the finite end; NaN where there is none. */
double wf_range_middle(struct wf_range r);

/*
 * Reads one quantity. Returns false and says in `why` what was wrong and what would be right (no
 * subject, no full stop: "needs a unit: write \"6.5 %\""). `*out` is untouched on failure.
 */
bool wf_quantity_parse(enum wf_dimension d, const char *text, double *out, char why[WF_REASON_MAX]);

/*
 * Reads a wanted value. A bare aim gets `tolerance` (internal unit) either way; `tolerance` < 0
 * means that the place wants one value: low = high = aim. In a range, a unit given once, at the
 * end, serves both ends. low > high is refused.
 */
bool wf_range_parse(enum wf_dimension d, const char *text, double tolerance, struct wf_range *out,
                    char why[WF_REASON_MAX]);

/* True where a figure of this dimension is written without a unit (gravity, number, money). */
bool wf_dimension_is_bare(enum wf_dimension d);
const char *wf_dimension_called(enum wf_dimension d);  /* "a weight" */
const char *wf_dimension_example(enum wf_dimension d); /* "4.5 kg" */

enum wf_units { WF_UNITS_METRIC, WF_UNITS_US };

/* Writes a figure as a brewer reads it in the wanted units ("4.35 kg", "9 lb 9.4 oz", "1.055",
 * "13.2 SRM"), into buffer, cut at size; returns buffer. NaN is written "-". */
char *wf_quantity_print(enum wf_dimension d, double value, enum wf_units units, char *buffer,
                        size_t size);
/* "1.054..1.056", ">= 8 SRM", "<= 5 %", "any". */
char *wf_range_print(enum wf_dimension d, struct wf_range r, enum wf_units units, char *buffer,
                     size_t size);

#endif
