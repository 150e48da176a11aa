/* stock_take.c: an amount less another, in the words of the first. */
#include "pantry/stock_parts.h"

#include "base/number.h"
#include "quantity/figure.h"
#include "wortfit/brewing.h"

#include <math.h>
#include <string.h>

#define EXACT_KG 1e-6 /* a milligram: no scale in a brewery shows it */
#define SLACK    0.5  /* of that: what sums of decimal fractions may be off by */

/* The value with as many decimals as a milligram takes in the unit, less the zeros at the end. */
static void print_in(double value, double scale, char out[WF_STOCK_AMOUNT_MAX])
{
    double least = scale;
    int decimals = 0;
    for (; least > EXACT_KG * 1.001 && decimals < 9; decimals++)
        least /= 10;
    wf_snprintf(out, WF_STOCK_AMOUNT_MAX, "%.*f", decimals, value);
    size_t length = strlen(out);
    while (decimals > 0 && out[length - 1] == '0')
        out[--length] = '\0';
    if (decimals > 0 && out[length - 1] == '.')
        out[--length] = '\0';
}

/* Pounds and ounces where both were written; else the larger unit alone. */
static void print_left(double left, const struct wf_figure *there, char out[WF_STOCK_AMOUNT_MAX])
{
    char figure[WF_STOCK_AMOUNT_MAX];
    const struct wf_unit *u = there->unit;
    double pounds = u ? floor(left / u->scale + 1e-9) : 0;
    if (!u) {
        print_in(left, 1, out);
    } else if (there->rest > 0 && u->scale == WF_KG_PER_LB && pounds > 0) {
        print_in(fmax(0, left - pounds * u->scale) / WF_KG_PER_OZ, WF_KG_PER_OZ, figure);
        if (strcmp(figure, "0") == 0)
            wf_snprintf(out, WF_STOCK_AMOUNT_MAX, "%.0f lb", pounds);
        else
            wf_snprintf(out, WF_STOCK_AMOUNT_MAX, "%.0f lb %s oz", pounds, figure);
    } else {
        print_in(left / u->scale, u->scale, figure);
        wf_snprintf(out, WF_STOCK_AMOUNT_MAX, "%.32s %s", figure, u->symbol);
    }
}

bool wf_stock_left(enum wf_dimension d, const char *there, const char *taken,
                   char left[WF_STOCK_AMOUNT_MAX], char why[WF_REASON_MAX])
{
    char trimmed[WF_FIGURE_TEXT_MOST + 1], reason[WF_REASON_MAX];
    struct wf_figure f;
    double had, took;
    if (!wf_quantity_parse(d, taken, &took, reason)) {
        wf_snprintf(why, WF_REASON_MAX, "read \"%.64s\", which %.180s", taken, reason);
        return false;
    }
    if (!wf_figure_trim(d, there, trimmed, why) || !wf_figure_read(d, trimmed, &f, why) ||
        !wf_figure_value(d, &f, &had, why))
        return false; /* not met: the store has been read */
    if (took > had + SLACK * EXACT_KG) {
        wf_snprintf(why, WF_REASON_MAX, "%s is more than is there: %s", taken, there);
        return false;
    }
    print_left(fmax(0, had - took), &f, left);
    return true;
}
