/* stock_file.c: a store file changed in place: locked, read, changed, checked, written. */
#include "pantry/brew_pair.h"
#include "pantry/stock_parts.h"

#include "base/alloc.h"
#include "base/file.h"
#include "base/try.h"

#include <string.h>

static enum wf_status change(const char *path, const struct wf_catalogue *c,
                             const struct wf_stock_change *changes, size_t count,
                             struct wf_stock_outcome *outcomes, struct wf_store **after,
                             struct wf_error *e)
{
    char *before = NULL, *text = NULL;
    size_t before_length, length;
    struct wf_store *store = NULL;
    enum wf_status status;
    WF_TRY_GOTO(wf_file_read(path, &before, &before_length, e));
    WF_TRY_GOTO(
        wf_stock_edit(path, before, before_length, c, changes, count, &text, &length, outcomes, e));
    if (after)
        WF_TRY_GOTO(wf_store_parse(path, text, length, c, &store, e));
    if (length != before_length || memcmp(text, before, length) != 0)
        WF_TRY_GOTO(wf_file_write(path, text, length, e));
    if (after)
        *after = store;
    store = NULL; /* handed over */
done:
    wf_store_free(store);
    wf_free(text);
    wf_free(before);
    return status;
}

enum wf_status wf_stock_change_file(const char *path, const struct wf_catalogue *c,
                                    const struct wf_stock_change *changes, size_t count,
                                    struct wf_stock_outcome *outcomes, struct wf_store **after,
                                    struct wf_error *e)
{
    struct wf_lock lock;
    if (after)
        *after = NULL;
    if (strcmp(path, "-") == 0)
        return wf_error_add(e, WF_FILE,
                            "standard input cannot be changed in place; give the store's file");
    WF_TRY(wf_pair_lock(path, &lock, e));
    enum wf_status status = change(path, c, changes, count, outcomes, after, e);
    wf_lock_release(&lock);
    return status;
}
