/* fuzz_target.c: target files. Wishes of a target that is taken are ranges. */
#include "fuzz/fuzz.h"

static void check_range(struct wf_range r)
{
    FUZZ_MUST(r.low <= r.high); /* false for NaN */
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    struct wf_target *target = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    enum wf_status status =
        wf_target_parse("target.json", text, size, fuzz_catalogue(), &target, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (target != NULL));
    if (target) {
        const struct wf_range ranges[] = {target->og,         target->colour, target->ratio,
                                          target->bitterness, target->fg,     target->abv};
        for (size_t i = 0; i < sizeof ranges / sizeof ranges[0]; i++)
            check_range(ranges[i]);
        for (size_t i = 0; i < target->rule_count; i++)
            check_range(target->rules[i].share);
        for (size_t i = 0; i < target->slot_count; i++)
            check_range(target->slots[i].dose);
    }
    wf_target_free(target);
    free(text);
    return 0;
}
