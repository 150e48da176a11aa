/*
 * brew_pair.h: a store and its brew log, changed together.
 *
 * No call changes two files at once. So both new texts are written beside the files first, and one
 * rename is the moment from which on they count:
 *
 *     1  cellar.brews.jsonl.brewing  the log's new text; nobody looks at it yet
 *     2  cellar.json.brewing         the store's new text: now both count
 *     3  cellar.brews.jsonl.brewing  becomes  cellar.brews.jsonl
 *     4  cellar.json.brewing         becomes  cellar.json
 *
 * While cellar.json.brewing is there, both files are what stands beside them, where that is still
 * there. Readers look there first and write nothing; whoever changes the store does what is left of
 * 3 and 4 before. A process that ends anywhere leaves both old (before 2) or both new. What needs
 * room on the disk is done before 2. Every step is on the disk before the next.
 *
 * Each name follows from the other two: none is ever taken out of a file.
 */
#ifndef WF_BREW_PAIR_H
#define WF_BREW_PAIR_H

#include "base/lock.h"
#include "pantry/source_file.h"

#include <stdbool.h>

struct wf_arena;

struct wf_pair {
    const char *store, *log;         /* cellar.json, cellar.brews.jsonl; links resolved */
    const char *store_new, *log_new; /* what will take their places */
};

/* A store with a log is called NAME.json. WF_USAGE: this one is not. Names live in the arena. */
enum wf_status wf_pair_of_store(const char *store, struct wf_arena *arena, struct wf_pair *out,
                                struct wf_error *e) WF_MUST_USE;

/* As wf_source_file_open: the text that counts. A path that has no pair, or "-", is read as it is.
 */
enum wf_status wf_pair_read_store(const char *path, struct wf_source_file *out,
                                  struct wf_error *e) WF_MUST_USE;
enum wf_status wf_pair_read_log(const char *path, struct wf_source_file *out,
                                struct wf_error *e) WF_MUST_USE;

/* Locks a store for a change, as wf_lock_take, once nothing of a pair is left to be done. */
enum wf_status wf_pair_lock(const char *store, struct wf_lock *out, struct wf_error *e) WF_MUST_USE;

/* Gives both files their new texts; the store is locked. On WF_FILE both are as they were, unless
 * the message says that the brew counts. */
enum wf_status wf_pair_write(const struct wf_pair *p, const char *store_text, size_t store_length,
                             const char *log_text, size_t log_length,
                             struct wf_error *e) WF_MUST_USE;

#endif
