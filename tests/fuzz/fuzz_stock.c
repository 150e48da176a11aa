/* fuzz_stock.c: any store file that is taken can be changed in place, and is a store still. */
#include "fuzz/fuzz.h"

static void change(const char *text, size_t length, const struct wf_stock_change *c)
{
    static struct wf_error e;
    char *changed = NULL;
    struct wf_store *store = NULL;
    size_t changed_length = 0;
    wf_error_clear(&e);
    enum wf_status status = wf_stock_edit("store.json", text, length, fuzz_catalogue(), c, 1,
                                          &changed, &changed_length, NULL, &e);
    fuzz_check_status(status, &e);
    if (changed)
        FUZZ_MUST(wf_store_parse("store.json", changed, changed_length, fuzz_catalogue(), &store,
                                 &e) == WF_OK);
    wf_store_free(store);
    wf_text_release(changed);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    static const struct wf_stock_field fields[] = {
        {"have", "1 kg", "have"}, {"note", "a \"note\" \xc3\xa9", "note"}, {"price", "", "price"}};
    struct wf_stock_change c = {
        .kind = WF_KIND_MALT, .place = "lot", .fields = fields, .field_count = 3};
    struct wf_store *store = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    if (wf_store_parse("store.json", text, size, fuzz_catalogue(), &store, &e) == WF_OK) {
        c.id = store->malts[store->malt_count - 1].id;
        c.deed = WF_STOCK_SET;
        change(text, size, &c);
        c.deed = WF_STOCK_REMOVE;
        c.field_count = 0;
        change(text, size, &c);
        c.deed = WF_STOCK_PUT;
        c.field_count = 2;
        c.id = "smoked-malt";
        change(text, size, &c);
    }
    wf_store_free(store);
    free(text);
    return 0;
}
