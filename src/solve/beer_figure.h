/*
 * beer_figure.h: the figures of a beer as a table: where each stands in the beer, and which of the
 * target's wishes is about it.
 */
#ifndef WF_BEER_FIGURE_H
#define WF_BEER_FIGURE_H

#include "wortfit/pantry.h"

struct wf_beer_figure {
    size_t in_beer;   /* offset of a double */
    size_t in_target; /* offset of a struct wf_range; WF_NO_WISH: it cannot be wished for */
    enum wf_wish_kind kind;
    enum wf_dimension dimension;
    const char *wish; /* as in wf_wish_result */
};
#define WF_NO_WISH ((size_t)-1)

/* Those that can be wished for come first. */
#define WF_BEER_WISHES  6
#define WF_BEER_FIGURES 9
extern const struct wf_beer_figure wf_beer_figures[WF_BEER_FIGURES];

double *wf_beer_figure_at(const struct wf_beer_figure *f, struct wf_beer *b);
double wf_beer_figure_value(const struct wf_beer_figure *f, const struct wf_beer *b);
struct wf_range *wf_beer_figure_wish(const struct wf_beer_figure *f, struct wf_target *t);
/* What the target wishes of it; any if nothing, or t is NULL. */
struct wf_range wf_beer_figure_wanted(const struct wf_beer_figure *f, const struct wf_target *t);

#endif
