/* fuzz_brewhouse.c: brewhouse files. */
#include "fuzz/fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    struct wf_brewhouse *brewhouse = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    enum wf_status status =
        wf_brewhouse_parse("brewhouse.json", text, size, WF_UNITS_METRIC, &brewhouse, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (brewhouse != NULL));
    if (brewhouse) {
        FUZZ_MUST(brewhouse->batch_l > 0);
        FUZZ_MUST(brewhouse->efficiency > 0 && brewhouse->efficiency <= 1);
        FUZZ_MUST(brewhouse->kettle_loss_l >= 0 && brewhouse->step_malt_kg > 0);
    }
    wf_brewhouse_free(brewhouse);
    free(text);
    return 0;
}
