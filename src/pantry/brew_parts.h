/* brew_parts.h: what the parts of brew.h share. */
#ifndef WF_BREW_PARTS_H
#define WF_BREW_PARTS_H

#include "base/text.h"
#include "pantry/json_read.h"
#include "wortfit/brew.h"

#define WF_LOG_VERSION 1

/* Figures that may be measured, by the keys of a log. */
#define WF_MEASURED_MOST 8
extern const struct wf_measured_row {
    const char *key;
    size_t offset; /* in struct wf_measured */
    bool later;    /* known only once the beer is there */
} wf_measured_rows[WF_MEASURED_MOST];
double *wf_measured_at(struct wf_measured *m, size_t row);
/* Figures that were measured take the places of those in `to`. */
void wf_measured_join(struct wf_measured *to, const struct wf_measured *from);

extern const struct wf_json_table wf_log_line_table;

/* Adds a line of the log, newline included (brew_log_write.c). */
void wf_log_add_brew(struct wf_text *out, const struct wf_brewed_asked *b, const char *id);
void wf_log_add_later(struct wf_text *out, const char *id, long on, const struct wf_measured *m);

#endif
