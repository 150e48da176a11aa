/*
 * quote.h: text as JSON writes it.
 */
#ifndef WF_QUOTE_H
#define WF_QUOTE_H

#include "base/text.h"

/* Adds the text in double quotes (RFC 8259, section 7). Bytes that are not UTF-8, which JSON must
 * be throughout, become U+FFFD. */
void wf_quote_add(struct wf_text *out, const char *text);

#endif
