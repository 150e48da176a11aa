/* Files that are JSON but not what they should be: one case a folder, with every message. */
#include "support/golden.h"

#include "wortfit/pantry.h"

static struct wf_catalogue *catalogue;

static enum wf_status read_store(const char *name, const char *text, size_t length,
                                 struct wf_error *e)
{
    struct wf_store *s;
    enum wf_status status = wf_store_parse(name, text, length, catalogue, &s, e);
    wf_store_free(s);
    return status;
}

static enum wf_status read_brewhouse(const char *name, const char *text, size_t length,
                                     struct wf_error *e)
{
    struct wf_brewhouse *b;
    enum wf_status status = wf_brewhouse_parse(name, text, length, WF_UNITS_METRIC, &b, e);
    wf_brewhouse_free(b);
    return status;
}

static enum wf_status read_target(const char *name, const char *text, size_t length,
                                  struct wf_error *e)
{
    struct wf_target *t;
    enum wf_status status = wf_target_parse(name, text, length, catalogue, &t, e);
    wf_target_free(t);
    return status;
}

static enum wf_status read_recipe(const char *name, const char *text, size_t length,
                                  struct wf_error *e)
{
    struct wf_recipe *r;
    enum wf_status status = wf_recipe_parse(name, text, length, NULL, catalogue, &r, e);
    wf_recipe_free(r);
    return status;
}

static const struct {
    const char *name;
    enum wf_status (*read)(const char *name, const char *text, size_t length, struct wf_error *e);
} reader_row[] = {
    {"store.json", read_store},
    {"brewhouse.json", read_brewhouse},
    {"target.json", read_target},
    {"recipe.json", read_recipe},
};

static void each_slip_is_told_with_its_place(void **state)
{
    static struct wf_error e;
    const char *path = *state;
    size_t files = 0, length;
    for (size_t i = 0; i < COUNT_OF(reader_row); i++) {
        char *text = golden_read(path, reader_row[i].name, &length);
        if (!text)
            continue;
        files++;
        wf_error_clear(&e);
        enum wf_status status = reader_row[i].read(reader_row[i].name, text, length, &e);
        free(text);
        assert_true(status == WF_BAD_INPUT || status == WF_OUT_OF_RANGE);
        assert_true(e.count > 0);
        golden_compare(path, "error", e.text);
    }
    assert_int_equal(files, 1);
}

int main(void)
{
    if (wf_catalogue_read(&catalogue, NULL) != WF_OK)
        return 1;
    int failed = golden_run("pantry_invalid", each_slip_is_told_with_its_place);
    wf_catalogue_free(catalogue);
    return failed;
}
