/*
 * html_put.h: writes HTML and SVG whose text is escaped because there is no other way in. Names of
 * elements and attributes are literals of the program; every text and value is made safe and
 * escaped.
 */
#ifndef WF_HTML_PUT_H
#define WF_HTML_PUT_H

#include "base/text.h"

#include <stdbool.h>

#define WF_HTML_DEPTH_MOST 24

/* Begin with {.out = &text}. Every open has its close. */
struct wf_html {
    struct wf_text *out;
    const char *open[WF_HTML_DEPTH_MOST];
    int depth;
    bool in_tag; /* attributes may follow */
};

void wf_html_open(struct wf_html *h, const char *element);
void wf_html_close(struct wf_html *h);
/* An element without content: "meta", "br", "rect". `svg`: closed as XML wants it. */
void wf_html_empty(struct wf_html *h, const char *element);
void wf_html_empty_end(struct wf_html *h, bool svg);
/* Attributes of the element opened last. */
void wf_html_attribute(struct wf_html *h, const char *name, const char *value);
void wf_html_number(struct wf_html *h, const char *name, double value); /* to a hundredth */
void wf_html_text(struct wf_html *h, const char *text);
/* An element with nothing but text. */
void wf_html_leaf(struct wf_html *h, const char *element, const char *text);
/* What is a literal of the program: the style sheet. */
void wf_html_literal(struct wf_html *h, const char *literal);
void wf_html_newline(struct wf_html *h);

#endif
