/* catalogue.h: looking up entries of any kind. */
#ifndef WF_CATALOGUE_H
#define WF_CATALOGUE_H

#include "wortfit/pantry.h"

const char *wf_kind_called(enum wf_kind kind); /* "malt" */

/* The entry with the id: a struct wf_malt, wf_hop or wf_yeast; NULL where there is none, or no
 * catalogue. */
const void *wf_catalogue_entry(const struct wf_catalogue *c, enum wf_kind kind, const char *id);

/* `; the nearest is "..."`, or "" where no id is near. Returns out. */
char *wf_catalogue_nearest(const struct wf_catalogue *c, enum wf_kind kind, const char *id,
                           char out[WF_REASON_MAX]);

#endif
