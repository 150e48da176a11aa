/* Tables of lots that are wrong: one case a folder, with every message. Each is imported into the
 * small cellar of the examples. */
#include "support/golden.h"

#include "wortfit/solve.h"
#include "wortfit/stock.h"

static struct wf_catalogue *catalogue;

static enum wf_status import(const char *table, size_t length, struct wf_error *e)
{
    struct wf_stock_changes *s = NULL;
    size_t store_length, out_length;
    char *out = NULL,
         *store = golden_read(WF_SOURCE_DIR, "examples/small-cellar.json", &store_length);
    assert_non_null(store);
    enum wf_status status = wf_stock_read_csv("lots.csv", table, length, &s, e);
    if (status == WF_OK)
        status = wf_stock_edit("small-cellar.json", store, store_length, catalogue, s->changes,
                               s->count, &out, &out_length, NULL, e);
    wf_text_release(out);
    wf_stock_changes_free(s);
    free(store);
    return status;
}

static void each_slip_is_told_with_its_place(void **state)
{
    static struct wf_error e;
    const char *path = *state;
    size_t length;
    char *table = golden_read(path, "lots.csv", &length);
    assert_non_null(table);
    wf_error_clear(&e);
    assert_int_equal(import(table, length, &e), WF_BAD_INPUT);
    free(table);
    assert_true(e.count > 0);
    golden_compare(path, "error", e.text);
}

int main(void)
{
    if (wf_catalogue_read(&catalogue, NULL) != WF_OK)
        return 1;
    int failed = golden_run("stock_invalid", each_slip_is_told_with_its_place);
    wf_catalogue_free(catalogue);
    return failed;
}
