/* store_text.h: a store from a text that was made from something else. */
#ifndef WF_STORE_TEXT_H
#define WF_STORE_TEXT_H

#include "pantry/json_read.h"
#include "wortfit/pantry.h"

/* As wf_store_parse, with the words of `teller` (NULL allowed) for the places of what is refused.
 */
enum wf_status wf_store_parse_told(const struct wf_json_source *source,
                                   const struct wf_json_teller *teller,
                                   const struct wf_catalogue *c, struct wf_store **out,
                                   struct wf_error *e) WF_MUST_USE;

#endif
