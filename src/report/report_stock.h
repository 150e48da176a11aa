/*
 * report_stock.h: lots of a store as tables, and as JSON (stock.schema.json).
 */
#ifndef WF_REPORT_STOCK_H
#define WF_REPORT_STOCK_H

#include "report/style.h"
#include "wortfit/stock.h"

struct wf_stock_view {
    const struct wf_store *store;
    const size_t *lots[WF_KIND_COUNT]; /* places in the store's lists */
    size_t count[WF_KIND_COUNT];
    long today;                     /* that ages are reckoned to */
    bool change;                    /* it shows what a change came to: */
    size_t added, changed, removed; /* lots */
};

/* *out is the caller's to free with wf_text_release(). */
enum wf_status wf_report_stock_text(const struct wf_stock_view *v, const struct wf_report_style *s,
                                    char **out, struct wf_error *e) WF_MUST_USE;
enum wf_status wf_report_stock_json(const struct wf_stock_view *v, char **out,
                                    struct wf_error *e) WF_MUST_USE;

#endif
