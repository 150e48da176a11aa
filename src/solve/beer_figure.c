#include "solve/beer_figure.h"

#include <string.h>

#define ROW(beer, target, wish_kind, dim, words)                                                   \
    {                                                                                              \
        offsetof(struct wf_beer, beer), offsetof(struct wf_target, target), WF_WISH_##wish_kind,   \
            WF_DIM_##dim, words                                                                    \
    }
#define MORE(beer)                                                                                 \
    {                                                                                              \
        offsetof(struct wf_beer, beer), WF_NO_WISH, WF_WISH_OTHER, WF_DIM_NUMBER, NULL             \
    }

const struct wf_beer_figure wf_beer_figures[WF_BEER_FIGURES] = {
    ROW(og, og, OG, GRAVITY, "original gravity"),
    ROW(srm, colour, COLOUR, BEER_COLOUR, "colour"),
    ROW(ratio, ratio, RATIO, NUMBER, "bitterness ratio"),
    ROW(ibu, bitterness, BITTERNESS, BITTERNESS, "bitterness"),
    ROW(fg, fg, FG, GRAVITY, "final gravity"),
    ROW(abv, abv, ABV, SHARE, "alcohol"),
    MORE(plato),
    MORE(ebc),
    MORE(attenuation),
};

double *wf_beer_figure_at(const struct wf_beer_figure *f, struct wf_beer *b)
{
    return (double *)(void *)((char *)b + f->in_beer);
}

double wf_beer_figure_value(const struct wf_beer_figure *f, const struct wf_beer *b)
{
    double value;
    memcpy(&value, (const char *)b + f->in_beer, sizeof value);
    return value;
}

struct wf_range *wf_beer_figure_wish(const struct wf_beer_figure *f, struct wf_target *t)
{
    return (struct wf_range *)(void *)((char *)t + f->in_target);
}

struct wf_range wf_beer_figure_wanted(const struct wf_beer_figure *f, const struct wf_target *t)
{
    struct wf_range wanted = wf_range_any();
    if (t != NULL && f->in_target != WF_NO_WISH)
        memcpy(&wanted, (const char *)t + f->in_target, sizeof wanted);
    return wanted;
}
