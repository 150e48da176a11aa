/* fuzz_csv.c: tables of lots, and what they make of a store: it stays one, and every byte that they
 * do not speak of stays. */
#include "fuzz/fuzz.h"

static const char store_text[] =
    "{ \"store\": \"fuzz\", // kept\n"
    "  \"malts\": [ { \"id\": \"pale-ale-malt-british\", \"have\": \"5 kg\" } ],\n"
    "  \"hops\": [ { \"id\": \"cascade\", \"have\": \"50 g\", \"alpha\": \"6 %\" } ] }\n";

static void check_edited(const struct wf_stock_changes *changes)
{
    static struct wf_error e;
    char *text = NULL;
    size_t length = 0;
    struct wf_store *store = NULL;
    wf_error_clear(&e);
    enum wf_status status =
        wf_stock_edit("store.json", store_text, sizeof store_text - 1, fuzz_catalogue(),
                      changes->changes, changes->count, &text, &length, NULL, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (text != NULL));
    if (text) {
        FUZZ_MUST(strstr(text, "// kept\n") != NULL);
        FUZZ_MUST(wf_store_parse("store.json", text, length, fuzz_catalogue(), &store, &e) ==
                  WF_OK);
    }
    wf_store_free(store);
    wf_text_release(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    struct wf_stock_changes *changes = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    enum wf_status status = wf_stock_read_csv("lots.csv", text, size, &changes, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (changes != NULL));
    if (changes)
        check_edited(changes);
    wf_stock_changes_free(changes);
    free(text);
    return 0;
}
