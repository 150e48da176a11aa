/* fuzz_store.c: store files. Figures of a store that is taken are sound. */
#include "fuzz/fuzz.h"

#include <math.h>

static void check_figures(const struct wf_store *s)
{
    for (size_t i = 0; i < s->malt_count; i++) {
        const struct wf_malt *m = &s->malts[i];
        FUZZ_MUST(m->id && m->name);
        FUZZ_MUST(isfinite(m->grain.yield) && m->grain.yield >= 0 && m->grain.yield <= 1);
        FUZZ_MUST(isfinite(m->grain.lovibond) && m->grain.lovibond >= 0);
    }
    for (size_t i = 0; i < s->hop_count; i++)
        FUZZ_MUST(s->hops[i].id && s->hops[i].alpha >= 0 && s->hops[i].alpha <= 1);
    for (size_t i = 0; i < s->yeast_count; i++)
        FUZZ_MUST(s->yeasts[i].id && s->yeasts[i].attenuation_low >= 0 &&
                  s->yeasts[i].attenuation_low <= s->yeasts[i].attenuation_high);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    struct wf_store *store = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    enum wf_status status = wf_store_parse("store.json", text, size, fuzz_catalogue(), &store, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (store != NULL));
    if (store)
        check_figures(store);
    wf_store_free(store);
    free(text);
    return 0;
}
