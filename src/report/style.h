/*
 * style.h: what all text reports share: names made safe for a terminal, and emphasis. A mark never
 * carries meaning alone: the words beside it say the same.
 */
#ifndef WF_STYLE_H
#define WF_STYLE_H

#include "base/text.h"
#include "wortfit/report.h"

enum wf_mark { WF_MARK_NONE, WF_MARK_STRONG, WF_MARK_GOOD, WF_MARK_BAD, WF_MARK_COUNT };

/* Bytes of the longest piece of text from a file that a report shows; the rest is cut. */
#define WF_PLAIN_MOST 1024

/* The terminal's escape that turns a mark on, and the one that turns it off; "" without colour. */
const char *wf_style_on(const struct wf_report_style *s, enum wf_mark mark);
const char *wf_style_off(const struct wf_report_style *s, enum wf_mark mark);

/* Adds text from a file, made safe by wf_utf8_safe. NULL: nothing. */
void wf_plain_add(struct wf_text *out, const char *text);

/* Figures as wf_quantity_print and wf_range_print write them, but plain numbers (counts, scores,
 * the ratio) without zeros at their end: "3", "0.62", "1..3". */
char *wf_style_figure(enum wf_dimension d, double value, enum wf_units units, char *buffer,
                      size_t size);
char *wf_style_range(enum wf_dimension d, struct wf_range r, enum wf_units units, char *buffer,
                     size_t size);

/* Adds one line in the given mark. */
void wf_style_line(struct wf_text *out, const struct wf_report_style *s, enum wf_mark mark,
                   const char *line);

/* Adds running text with line breaks between words, each line at most `width` code points. */
void wf_style_wrap(struct wf_text *out, const char *text, size_t width);

/* Adds "label  value": the label in a column of `width` and in the given mark, the value wrapped
 * beside it to the page. */
#define WF_PAGE_WIDTH 79 /* code points */
void wf_style_labelled(struct wf_text *out, const struct wf_report_style *s, enum wf_mark mark,
                       const char *label, size_t width, const char *value);

/* The end of every report: hands the text over to the caller, or tells that memory ran out. */
enum wf_status wf_text_hand_over(struct wf_text *t, char **out, struct wf_error *e) WF_MUST_USE;

#endif
