/* Text that is not JSON as it should be: one case a folder, with the message and its place. */
#include "support/golden.h"

#include "base/alloc.h"
#include "pantry/json_read.h"

/* The strict scan comes before any table, so an empty one does. */
static void invalid_text_is_refused_with_its_place(void **state)
{
    static const struct wf_json_table nothing = {0};
    static struct wf_error e;
    const char *path = *state;
    size_t length;
    char *text = golden_read(path, "input", &length);
    assert_non_null(text);
    struct wf_arena *arena = wf_arena_new();
    const struct wf_json_source source = {"input", text, length};
    wf_error_clear(&e);
    enum wf_status status = wf_json_read(&source, &nothing, NULL, arena, NULL, &e);
    wf_arena_free(arena);
    free(text);
    assert_int_equal(status, WF_BAD_INPUT);
    assert_int_equal(e.count, 1);
    golden_compare(path, "error", e.text);
}

int main(void)
{
    return golden_run("json_invalid", invalid_text_is_refused_with_its_place);
}
