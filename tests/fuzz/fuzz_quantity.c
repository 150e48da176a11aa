/*
 * fuzz_quantity.c: figures and wanted values; what is printed can be read. Each text is read in a
 * few dimensions, which ones goes by its bytes: all of them would take six times as long.
 */
#include "fuzz/fuzz.h"

#include "base/date.h"

#include <math.h>

#define STRIDE 6

static void check_figure(enum wf_dimension d, const char *text)
{
    char why[WF_REASON_MAX] = "", printed[64];
    double value = (double)NAN, again;
    if (!wf_quantity_parse(d, text, &value, why)) {
        FUZZ_MUST(why[0] != '\0' && strlen(why) < sizeof why);
        return;
    }
    FUZZ_MUST(isfinite(value));
    for (int units = WF_UNITS_METRIC; units <= WF_UNITS_US; units++) {
        wf_quantity_print(d, value, (enum wf_units)units, printed, sizeof printed);
        FUZZ_MUST(printed[0] != '\0');
        FUZZ_MUST(fabs(value) > 1e6 || wf_quantity_parse(d, printed, &again, why));
    }
}

static void check_range(enum wf_dimension d, const char *text, double tolerance)
{
    char why[WF_REASON_MAX] = "", printed[128];
    struct wf_range r;
    if (!wf_range_parse(d, text, tolerance, &r, why)) {
        FUZZ_MUST(why[0] != '\0' && strlen(why) < sizeof why);
        return;
    }
    FUZZ_MUST(r.low <= r.high);
    FUZZ_MUST(isnan(r.aim) || (r.low <= r.aim && r.aim <= r.high));
    wf_range_print(d, r, WF_UNITS_METRIC, printed, sizeof printed);
    FUZZ_MUST(printed[0] != '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    long days;
    int first = 0;
    for (size_t i = 0; i < size; i++)
        first = (first + data[i]) % STRIDE;
    for (int d = first; d < WF_DIM_COUNT; d += STRIDE) {
        check_figure((enum wf_dimension)d, text);
        check_range((enum wf_dimension)d, text, 0.5);
        check_range((enum wf_dimension)d, text, -1);
    }
    if (wf_date_parse(text, &days)) {
        char printed[WF_DATE_TEXT_MAX];
        FUZZ_MUST(strcmp(wf_date_print(days, printed), text) == 0);
    }
    free(text);
    return 0;
}
