/* fuzz_recipe.c: recipe files, what is written of one that is taken, which can be read again, and
 * its brew day. */
#include "fuzz/fuzz_day.h"

static enum wf_status read(const char *text, size_t length, struct wf_recipe **out,
                           struct wf_error *e)
{
    return wf_recipe_parse("recipe.json", text, length, NULL, fuzz_catalogue(), out, e);
}

static void check_written(const struct wf_recipe *r)
{
    static struct wf_error e;
    const struct wf_report_style style = {WF_UNITS_US, false};
    struct wf_recipe *again = NULL;
    char *text = NULL;
    wf_error_clear(&e);
    FUZZ_MUST(wf_report_recipe_text(r, &style, &text, &e) == WF_OK);
    wf_text_release(text);
    FUZZ_MUST(wf_report_recipe_json(r, &text, &e) == WF_OK);
    if (read(text, strlen(text), &again, &e) != WF_OK) {
        fprintf(stderr, "%s\n%s\n", e.text, text);
        fuzz_found("what was written is read", __FILE__, __LINE__);
    }
    wf_recipe_free(again);
    wf_text_release(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    struct wf_recipe *recipe = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    enum wf_status status = read(text, size, &recipe, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (recipe != NULL));
    if (recipe) {
        check_written(recipe);
        fuzz_day(recipe, NULL, false);
    }
    wf_recipe_free(recipe);
    free(text);
    return 0;
}
