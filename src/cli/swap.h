/*
 * swap.h: "200 g vienna-malt for munich-malt-light": so much of the first malt becomes the second.
 */
#ifndef WF_SWAP_H
#define WF_SWAP_H

#include "base/alloc.h"
#include "wortfit/pantry.h"

/* Changes the recipe's weights and reckons it anew. The second malt is one of the recipe's, of the
 * store's (NULL allowed) or of the catalogue, and must outlive the recipe. */
enum wf_status wf_swap(const char *text, struct wf_recipe *r, const struct wf_store *s,
                       const struct wf_catalogue *c, struct wf_error *e) WF_MUST_USE;

#endif
