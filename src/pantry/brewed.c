/* brewed.c: a brew into the log, and out of the stock: both or neither (brew_pair.h). */
#include "pantry/brew_pair.h"
#include "pantry/brew_parts.h"

#include "base/alloc.h"
#include "base/date.h"
#include "base/file.h"
#include "base/number.h"
#include "base/try.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

/* Both files as they are, locked. */
struct both {
    struct wf_pair pair;
    struct wf_lock lock;
    struct wf_source_file store, log; /* texts; the log's may be "" */
    struct wf_log *brews;
};

static enum wf_status out_of_memory(struct wf_error *e)
{
    return wf_error_add(e, WF_MEMORY, "out of memory");
}

/* ---- Opening --------------------------------------------------------------------------------- */

/* A log that is not there yet is an empty one. */
static enum wf_status read_log(struct both *b, const struct wf_catalogue *c, struct wf_error *e)
{
    struct stat info;
    b->log.name = b->pair.log;
    if (stat(b->pair.log, &info) != 0 && errno == ENOENT) {
        b->log.text = wf_alloc(1, 1);
        if (!b->log.text)
            return out_of_memory(e);
    } else {
        WF_TRY(wf_source_file_open(b->pair.log, &b->log, e));
    }
    return wf_log_parse(b->log.name, b->log.text, b->log.length, c, &b->brews, e);
}

static void close_both(struct both *b)
{
    wf_log_free(b->brews);
    wf_source_file_close(&b->log);
    wf_source_file_close(&b->store);
    wf_lock_release(&b->lock);
}

/* On WF_OK to be closed. */
static enum wf_status open_both(const char *store, struct wf_arena *arena,
                                const struct wf_catalogue *c, struct both *b, struct wf_error *e)
{
    *b = (struct both){0};
    WF_TRY(wf_pair_of_store(store, arena, &b->pair, e));
    WF_TRY(wf_pair_lock(store, &b->lock, e));
    enum wf_status status = wf_source_file_open(store, &b->store, e);
    if (status == WF_OK)
        status = read_log(b, c, e);
    if (status != WF_OK)
        close_both(b);
    return status;
}

/* Writes both files, a line added to the log. A last line that was written by hand may lack its
 * end. */
static enum wf_status write_both(const struct both *b, const char *store, size_t store_length,
                                 const struct wf_text *line, struct wf_error *e)
{
    struct wf_text log = {0};
    enum wf_status status;
    wf_text_append(&log, b->log.text, b->log.length);
    if (b->log.length > 0 && b->log.text[b->log.length - 1] != '\n')
        wf_text_add(&log, "\n");
    wf_text_append(&log, line->data, line->length);
    if (log.failed || line->failed)
        status = out_of_memory(e);
    else if (log.length > WF_FILE_MOST)
        status = wf_error_add(e, WF_FILE,
                              "%s: it would be larger than %zu MiB, the most that is read; give it "
                              "another name, and a new one is begun",
                              b->pair.log, WF_FILE_MOST / ((size_t)1024 * 1024));
    else
        status = wf_pair_write(&b->pair, store, store_length, log.data, log.length, e);
    wf_text_free(&log);
    return status;
}

/* ---- Told twice ------------------------------------------------------------------------------ */

static enum wf_status refuse_twice(const struct both *b, const struct wf_brew *old,
                                   const struct wf_brewed_asked *asked, struct wf_error *e)
{
    char day[WF_DATE_TEXT_MAX];
    bool same = old->measured.og == asked->measured.og &&
                old->measured.volume_l == asked->measured.volume_l;
    return wf_error_add(
        e, WF_BAD_INPUT,
        "%s:%zu:1: the log has %s: %s, brewed on %s, %.2f L of %.3f; nothing was "
        "changed (--again: it was brewed once more that day; --later: a figure is put right)",
        b->pair.log, old->line,
        same ? "this brew already" : "a brew of this recipe on this day already", old->recipe->name,
        wf_date_print(old->on, day), old->measured.volume_l, old->measured.og);
}

/* How many brews of the recipe the log has of that day; *last: of those. */
static size_t brews_that_day(const struct wf_log *l, const char *hash, long on,
                             const struct wf_brew **last)
{
    size_t count = 0;
    for (size_t i = 0; i < l->count; i++)
        if (l->brews[i].on == on && strcmp(l->brews[i].hash, hash) == 0) {
            *last = &l->brews[i];
            count++;
        }
    return count;
}

static bool id_is_taken(const struct wf_log *l, const char *id)
{
    for (size_t i = 0; i < l->count; i++)
        if (strcmp(l->brews[i].id, id) == 0)
            return true;
    return false;
}

/* "2026-11-25-3f2a9c0d", or the same with "-2", "-3" and so on behind it. */
static char *make_id(const struct wf_log *l, const struct wf_brewed_asked *asked,
                     struct wf_arena *arena)
{
    char day[WF_DATE_TEXT_MAX];
    wf_date_print(asked->on, day);
    char *id = wf_arena_print(arena, "%s-%.8s", day, asked->hash);
    for (size_t n = 2; id && id_is_taken(l, id); n++)
        id = wf_arena_print(arena, "%s-%.8s-%zu", day, asked->hash, n);
    return id;
}

/* ---- What is taken --------------------------------------------------------------------------- */

/* Whether the store keeps the amount of the lot that a change is of. */
static bool is_counted(const struct wf_store *s, const struct wf_stock_change *c)
{
    const struct wf_malt *m = c->kind == WF_KIND_MALT ? wf_store_malt(s, c->id) : NULL;
    const struct wf_hop *h = c->kind == WF_KIND_HOP ? wf_store_hop(s, c->id) : NULL;
    const struct wf_yeast *y = c->kind == WF_KIND_YEAST ? wf_store_yeast(s, c->id) : NULL;
    return !((m && isinf(m->have_kg)) || (h && isinf(h->have_g)) || (y && isinf(y->have)));
}

/* What the recipe takes, but for lots whose amount nobody keeps; those are named. */
static enum wf_status choose_changes(struct wf_brewed *b, const struct wf_stock_changes *all,
                                     double packs, struct wf_error *e)
{
    char figure[WF_NUMBER_TEXT_MAX];
    struct wf_stock_change *taken = wf_arena_alloc(b->arena, all->count, sizeof *taken);
    const char **uncounted = wf_arena_alloc(b->arena, all->count + 1, sizeof *uncounted);
    size_t left = 0;
    if (!taken || !uncounted)
        return out_of_memory(e);
    for (size_t i = 0; i < all->count; i++) {
        struct wf_stock_change c = all->changes[i];
        if (c.kind == WF_KIND_YEAST && !(packs > 0))
            continue;
        c.id = wf_arena_string(b->arena, c.id);
        c.place = wf_arena_string(b->arena, c.place);
        c.take = wf_arena_string(b->arena, c.take);
        if (c.kind == WF_KIND_YEAST && wf_number_print(packs, figure))
            c.take = wf_arena_string(b->arena, figure);
        if (!c.id || !c.place || !c.take)
            return out_of_memory(e);
        if (is_counted(b->before, &c))
            taken[b->taken_count++] = c;
        else
            uncounted[left++] = c.id;
    }
    b->taken = taken;
    b->uncounted = uncounted;
    return WF_OK;
}

static void explain_stock(enum wf_status status, const char *store, struct wf_error *e)
{
    if (status == WF_BAD_INPUT)
        wf_error_add(e, status,
                     "%s: nothing was changed; what came in besides goes into the store first "
                     "(wortfit stock), what was really taken is told by --used ID=AMOUNT, and "
                     "another lot in its place by a recipe that has it (wortfit substitute)",
                     store);
}

/* The store's new text, and both stores. */
static enum wf_status draw_down(struct wf_brewed *b, const struct both *files,
                                const struct wf_brewed_asked *asked, const struct wf_catalogue *c,
                                char **text, size_t *length, struct wf_error *e)
{
    struct wf_stock_changes *all = NULL;
    const struct wf_source_file *f = &files->store;
    enum wf_status status;
    WF_TRY_GOTO(wf_store_parse(f->name, f->text, f->length, c, &b->before, e));
    WF_TRY_GOTO(wf_stock_use_recipe(asked->recipe, &all, e));
    WF_TRY_GOTO(choose_changes(b, all, asked->packs, e));
    struct wf_stock_outcome *outcomes = wf_arena_alloc(b->arena, b->taken_count, sizeof *outcomes);
    status = outcomes ? WF_OK : out_of_memory(e);
    if (status != WF_OK)
        goto done;
    b->outcomes = outcomes;
    status = wf_stock_edit(f->name, f->text, f->length, c, b->taken, b->taken_count, text, length,
                           outcomes, e);
    if (status != WF_OK) {
        explain_stock(status, f->name, e);
        goto done;
    }
    status = wf_store_parse(f->name, *text, *length, c, &b->after, e);
done:
    wf_stock_changes_free(all);
    return status;
}

/* ---- A brew ---------------------------------------------------------------------------------- */

static enum wf_status record(struct wf_brewed *b, const struct both *files,
                             const struct wf_brewed_asked *asked, const struct wf_catalogue *c,
                             struct wf_error *e)
{
    const struct wf_brew *old = NULL;
    struct wf_text line = {0};
    char *text = NULL;
    size_t length = 0;
    enum wf_status status;
    if (brews_that_day(files->brews, asked->hash, asked->on, &old) > 0 && !asked->again)
        return refuse_twice(files, old, asked, e);
    b->id = make_id(files->brews, asked, b->arena);
    b->log = files->pair.log;
    if (!b->id)
        return out_of_memory(e);
    WF_TRY_GOTO(draw_down(b, files, asked, c, &text, &length, e));
    wf_log_add_brew(&line, asked, b->id);
    status = write_both(files, text, length, &line, e);
done:
    wf_text_free(&line);
    wf_free(text);
    return status;
}

static struct wf_brewed *brewed_new(void)
{
    struct wf_arena *arena = wf_arena_new();
    struct wf_brewed *b = arena ? wf_arena_alloc(arena, 1, sizeof *b) : NULL;
    if (!b) {
        wf_arena_free(arena);
        return NULL;
    }
    b->arena = arena;
    return b;
}

void wf_brewed_free(struct wf_brewed *b)
{
    if (!b)
        return;
    wf_store_free(b->before);
    wf_store_free(b->after);
    wf_arena_free(b->arena);
}

enum wf_status wf_brewed(const struct wf_brewed_asked *asked, const struct wf_catalogue *c,
                         struct wf_brewed **out, struct wf_error *e)
{
    struct both files;
    struct wf_brewed *b = brewed_new();
    enum wf_status status;
    *out = NULL;
    if (!b)
        return out_of_memory(e);
    WF_TRY_GOTO(wf_brew_reckon(asked->recipe, &asked->measured, &b->figures, e));
    WF_TRY_GOTO(open_both(asked->store, b->arena, c, &files, e));
    status = record(b, &files, asked, c, e);
    close_both(&files);
    if (status == WF_OK) {
        *out = b;
        b = NULL; /* handed over */
    }
done:
    wf_brewed_free(b);
    return status;
}

/* ---- What is measured later ------------------------------------------------------------------ */

static const struct wf_brew *find_brew(const struct both *files,
                                       const struct wf_brewed_asked *asked, struct wf_error *e)
{
    const struct wf_brew *found = NULL;
    const struct wf_log *l = files->brews;
    char day[WF_DATE_TEXT_MAX];
    for (size_t i = 0; i < l->count; i++)
        if ((asked->on < 0 || l->brews[i].on == asked->on) &&
            strcmp(l->brews[i].hash, asked->hash) == 0)
            found = &l->brews[i];
    if (!found)
        wf_error_add(e, WF_BAD_INPUT, "%s: no brew of this recipe%s%s is in the log",
                     files->pair.log, asked->on < 0 ? "" : " on ",
                     asked->on < 0 ? "" : wf_date_print(asked->on, day));
    return found;
}

/* Whether the log says all of it already. */
static bool is_known(const struct wf_brew *b, struct wf_measured m)
{
    struct wf_measured old = b->measured;
    for (size_t i = 0; i < WF_MEASURED_MOST; i++)
        if (!isnan(*wf_measured_at(&m, i)) && *wf_measured_at(&m, i) != *wf_measured_at(&old, i))
            return false;
    return true;
}

static enum wf_status record_later(const struct both *files, const struct wf_brew *b,
                                   const struct wf_brewed_asked *asked, struct wf_error *e)
{
    struct wf_brew_figures figures;
    struct wf_measured all = b->measured;
    struct wf_text line = {0};
    if (is_known(b, asked->measured))
        return wf_error_add(e, WF_BAD_INPUT,
                            "%s: the log says so already of the brew in line %zu; nothing was "
                            "changed",
                            files->pair.log, b->line);
    wf_measured_join(&all, &asked->measured);
    WF_TRY(wf_brew_reckon(b->recipe, &all, &figures, e));
    wf_log_add_later(&line, b->id, b->on, &asked->measured);
    enum wf_status status = write_both(files, files->store.text, files->store.length, &line, e);
    wf_text_free(&line);
    return status;
}

enum wf_status wf_brewed_later(const struct wf_brewed_asked *asked, const struct wf_catalogue *c,
                               struct wf_log **out, const struct wf_brew **brew, struct wf_error *e)
{
    struct both files;
    struct wf_arena *arena = wf_arena_new();
    enum wf_status status;
    *out = NULL;
    if (!arena)
        return out_of_memory(e);
    WF_TRY_GOTO(open_both(asked->store, arena, c, &files, e));
    const struct wf_brew *found = find_brew(&files, asked, e);
    status = found ? record_later(&files, found, asked, e) : WF_BAD_INPUT;
    if (status == WF_OK) {
        size_t at = (size_t)(found - files.brews->brews);
        wf_measured_join(&files.brews->brews[at].measured, &asked->measured);
        *brew = found;
        *out = files.brews;
        files.brews = NULL; /* handed over */
    }
    close_both(&files);
done:
    wf_arena_free(arena);
    return status;
}
