/* fuzz_log.c: logs of brews. Each brew of a log that is taken can be reckoned with. */
#include "fuzz/fuzz.h"

static void check_brew(const struct wf_brew *b)
{
    FUZZ_MUST(b->id && b->hash && b->recipe);
    FUZZ_MUST(b->line >= 1 && b->on >= 0);
    FUZZ_MUST(b->recipe->malt_count > 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    struct wf_log *log = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    enum wf_status status =
        wf_log_parse("cellar.brews.jsonl", text, size, fuzz_catalogue(), &log, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (log != NULL));
    for (size_t i = 0; log && i < log->count; i++)
        check_brew(&log->brews[i]);
    wf_log_free(log);
    free(text);
    return 0;
}
