/* brew_pair.c: see brew_pair.h. */
#define _XOPEN_SOURCE 700 /* realpath */

#include "pantry/brew_pair.h"

#include "base/alloc.h"
#include "base/file.h"
#include "base/try.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* How long another process is waited for: a change takes milliseconds. */
#define WAIT_SECONDS 10.0

static const char store_end[] = ".json", log_end[] = ".brews.jsonl", new_end[] = ".brewing";

/* ---- Names ----------------------------------------------------------------------------------- */

/* Bytes of the path before its end; 0: it has another, or nothing before it. */
static size_t stem_of(const char *path, const char *end)
{
    size_t length = strlen(path), cut = strlen(end);
    bool fits =
        length > cut && strcmp(path + length - cut, end) == 0 && path[length - cut - 1] != '/';
    return fits ? length - cut : 0;
}

/* The names round a stem; false: out of memory. */
static bool name_all(const char *path, size_t stem, struct wf_arena *arena, struct wf_pair *p)
{
    int cut = (int)stem;
    p->store = wf_arena_print(arena, "%.*s%s", cut, path, store_end);
    p->log = wf_arena_print(arena, "%.*s%s", cut, path, log_end);
    p->store_new = wf_arena_print(arena, "%.*s%s%s", cut, path, store_end, new_end);
    p->log_new = wf_arena_print(arena, "%.*s%s%s", cut, path, log_end, new_end);
    return p->store && p->log && p->store_new && p->log_new;
}

/* The path, or where it leads to as a symbolic link; links among its folders change nothing. */
static bool resolve(const char *path, char real[PATH_MAX])
{
    struct stat info;
    size_t length = strlen(path);
    if (lstat(path, &info) == 0 && S_ISLNK(info.st_mode))
        return realpath(path, real) != NULL;
    if (length >= PATH_MAX)
        return false;
    memcpy(real, path, length + 1);
    return true;
}

/* The pair that a file with such an end is of; p->store is NULL where it is of none. */
static enum wf_status find_pair(const char *path, const char *end, struct wf_arena *arena,
                                struct wf_pair *p, struct wf_error *e)
{
    char real[PATH_MAX];
    *p = (struct wf_pair){0};
    if (!resolve(path, real) || strlen(real) + sizeof log_end + sizeof new_end > sizeof real)
        return WF_OK;
    size_t stem = stem_of(real, end);
    if (stem > 0 && !name_all(real, stem, arena, p))
        return wf_error_add(e, WF_MEMORY, "%s: out of memory", path);
    return WF_OK;
}

enum wf_status wf_pair_of_store(const char *store, struct wf_arena *arena, struct wf_pair *out,
                                struct wf_error *e)
{
    struct stat info;
    if (strcmp(store, "-") == 0)
        return wf_error_add(e, WF_FILE,
                            "standard input cannot be changed in place; give the store's file");
    if (stat(store, &info) != 0)
        return wf_file_fail(e, store, "change", errno);
    WF_TRY(find_pair(store, store_end, arena, out, e));
    if (out->store)
        return WF_OK;
    return wf_error_add(e, WF_USAGE,
                        "%s: its brew log has no name; a store that is brewed from is a file "
                        "called NAME%s, its log NAME%s",
                        store, store_end, log_end);
}

/* ---- Reading --------------------------------------------------------------------------------- */

/* An ordinary file of that name; a symbolic link is none of ours. */
static bool is_there(const char *path, struct stat *info)
{
    return lstat(path, info) == 0 && S_ISREG(info->st_mode);
}

static bool same_file(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/*
 * Reads `beside` where the pair counts from, else `path`. The store's new text is there only while
 * the pair counts; the log's is there before, too: so after it was read, the store's must still be
 * the same file, and if it is not, another brew has come between and all is looked at again.
 */
static enum wf_status read_front(const struct wf_pair *p, const char *beside, const char *path,
                                 struct wf_source_file *out, struct wf_error *e)
{
    struct stat before, after, info;
    while (p->store && is_there(p->store_new, &before) && is_there(beside, &info)) {
        struct wf_error none = {0};
        enum wf_status status = wf_file_read(beside, &out->text, &out->length, &none);
        bool counts = is_there(p->store_new, &after) && same_file(&before, &after);
        if (status == WF_OK && counts)
            return WF_OK;
        if (status == WF_OK)
            wf_free(out->text);
        else if (status == WF_MEMORY || (counts && is_there(beside, &info)))
            return wf_error_add(e, status, "%s", none.text);
    }
    return wf_file_read(path, &out->text, &out->length, e);
}

static enum wf_status read_one(const char *path, bool log, struct wf_source_file *out,
                               struct wf_error *e)
{
    struct wf_pair p;
    if (strcmp(path, "-") == 0)
        return wf_source_file_open(path, out, e);
    struct wf_arena *arena = wf_arena_new();
    if (!arena)
        return wf_error_add(e, WF_MEMORY, "%s: out of memory", path);
    out->name = path;
    enum wf_status status = find_pair(path, log ? log_end : store_end, arena, &p, e);
    if (status == WF_OK)
        status = read_front(&p, log ? p.log_new : p.store_new, path, out, e);
    wf_arena_free(arena);
    return status;
}

enum wf_status wf_pair_read_store(const char *path, struct wf_source_file *out, struct wf_error *e)
{
    return read_one(path, false, out, e);
}

enum wf_status wf_pair_read_log(const char *path, struct wf_source_file *out, struct wf_error *e)
{
    return read_one(path, true, out, e);
}

/* ---- Writing --------------------------------------------------------------------------------- */

/* Steps 3 and 4, or what is left of them. */
static enum wf_status put_in_place(const struct wf_pair *p, struct wf_error *e)
{
    struct stat info;
    if (is_there(p->log_new, &info))
        WF_TRY(wf_file_move(p->log_new, p->log, e));
    return wf_file_move(p->store_new, p->store, e);
}

/* Takes the lock; *settled where nothing was left to be done. What was done has put another file in
 * the locked one's place, so that the lock must be taken anew. */
static enum wf_status lock_once(const char *store, const struct wf_pair *p, struct wf_lock *out,
                                bool *settled, struct wf_error *e)
{
    struct stat info;
    enum wf_status status = WF_OK;
    WF_TRY(wf_lock_take(store, WAIT_SECONDS, out, e));
    *settled = !p->store || !is_there(p->store_new, &info);
    if (*settled)
        return WF_OK;
    status = put_in_place(p, e);
    wf_lock_release(out);
    return status;
}

enum wf_status wf_pair_lock(const char *store, struct wf_lock *out, struct wf_error *e)
{
    struct wf_pair p;
    bool settled = false;
    struct wf_arena *arena = wf_arena_new();
    if (!arena)
        return wf_error_add(e, WF_MEMORY, "%s: out of memory", store);
    enum wf_status status = find_pair(store, store_end, arena, &p, e);
    while (status == WF_OK && !settled)
        status = lock_once(store, &p, out, &settled, e);
    wf_arena_free(arena);
    return status;
}

enum wf_status wf_pair_write(const struct wf_pair *p, const char *store_text, size_t store_length,
                             const char *log_text, size_t log_length, struct wf_error *e)
{
    struct stat info;
    if (lstat(p->log, &info) == 0 && !S_ISREG(info.st_mode))
        return wf_error_add(e, WF_FILE, "%s: cannot change it: it is no ordinary file", p->log);
    WF_TRY(wf_file_write_beside(p->log_new, p->log, log_text, log_length, e));
    enum wf_status status =
        wf_file_write_beside(p->store_new, p->store, store_text, store_length, e);
    if (status != WF_OK) {
        (void)unlink(p->log_new); /* else it is overwritten by the next brew */
        return status;
    }
    status = put_in_place(p, e);
    if (status != WF_OK)
        wf_error_add(e, status,
                     "the brew counts all the same: it stands in %s, and whatever "
                     "changes the store next puts it in its place",
                     p->store_new);
    return status;
}
