/* report_learn.h: what brews have taught, beside what the brewhouse says. */
#ifndef WF_REPORT_LEARN_H
#define WF_REPORT_LEARN_H

#include "wortfit/learn.h"
#include "wortfit/report.h"

/* `written`: the file that it was written to; NULL: none. */
enum wf_status wf_report_learn_text(const struct wf_learning *l, const char *written,
                                    const struct wf_report_style *s, char **out,
                                    struct wf_error *e) WF_MUST_USE;
/* See learn.schema.json. */
enum wf_status wf_report_learn_json(const struct wf_learning *l, const char *written, char **out,
                                    struct wf_error *e) WF_MUST_USE;

#endif
