/* word_lists.c: ids of the catalogue and names of beers, for completion. */
#include "pages/pages.h"

#include "base/try.h"
#include "pantry/words.h"

static void row(struct wf_text *out, enum wf_shell shell, const char *key, struct wf_text *words,
                struct wf_error *e)
{
    if (words->failed)
        (void)wf_error_add(e, WF_MEMORY, "out of memory");
    else
        wf_shell_row(out, shell, key, words->length > 0 ? words->data + 1 : "");
    wf_text_free(words);
}

static void add_catalogue(struct wf_text *out, enum wf_shell shell, const struct wf_catalogue *c,
                          struct wf_error *e)
{
    struct wf_text words = {0};
    for (size_t i = 0; i < c->malt_count; i++)
        wf_text_add(&words, " %s", c->malts[i].id);
    row(out, shell, "malt", &words, e);
    for (size_t i = 0; i < c->hop_count; i++)
        wf_text_add(&words, " %s", c->hops[i].id);
    row(out, shell, "hop", &words, e);
    for (size_t i = 0; i < c->yeast_count; i++)
        wf_text_add(&words, " %s", c->yeasts[i].id);
    row(out, shell, "yeast", &words, e);
    for (const char *const *w = wf_family_words; *w; w++)
        wf_text_add(&words, " %s", *w);
    row(out, shell, "family", &words, e);
}

static enum wf_status add_beers(struct wf_text *out, enum wf_shell shell,
                                const struct wf_catalogue *c, struct wf_error *e)
{
    struct wf_text words = {0};
    enum wf_status status = WF_OK;
    for (size_t i = 0; i < wf_target_builtin_count() && status == WF_OK; i++) {
        struct wf_target *t = NULL;
        status = wf_target_builtin(i, c, &t, e);
        if (status == WF_OK)
            wf_text_add(&words, " %s", t->id);
        wf_target_free(t);
    }
    row(out, shell, "beer", &words, e);
    return status;
}

enum wf_status wf_word_lists(struct wf_text *out, enum wf_shell shell, struct wf_error *e)
{
    struct wf_catalogue *c = NULL;
    enum wf_status status = wf_catalogue_read(&c, e);
    if (status != WF_OK)
        return status;
    wf_shell_open(out, shell, "_wortfit_list");
    add_catalogue(out, shell, c, e);
    status = add_beers(out, shell, c, e);
    wf_shell_close(out, shell);
    wf_catalogue_free(c);
    return e->count > 0 ? e->status : status;
}
