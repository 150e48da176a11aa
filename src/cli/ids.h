/*
 * ids.h: ids of ingredients given on the command line. Lists are NULL-terminated; NULL is empty.
 */
#ifndef WF_IDS_H
#define WF_IDS_H

#include "base/alloc.h"
#include "wortfit/pantry.h"

bool wf_ids_have(const char *const *list, const char *id);

/* Refuses ids that neither the catalogue nor the store has, all at once, naming the nearest. For
 * yeasts a family is right too. */
enum wf_status wf_ids_check(const char *const *use, const char *const *avoid,
                            const char *const *yeasts, const struct wf_catalogue *c,
                            const struct wf_store *s, struct wf_error *e) WF_MUST_USE;

/* *out = first and second, but for those in `without`; in the arena. */
enum wf_status wf_ids_join(const char *const *first, const char *const *second,
                           const char *const *without, struct wf_arena *arena,
                           const char *const **out, struct wf_error *e) WF_MUST_USE;

#endif
