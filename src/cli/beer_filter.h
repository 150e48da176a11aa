/*
 * beer_filter.h: which of the built-in beers are meant: the options that beers and survey share.
 */
#ifndef WF_BEER_FILTER_H
#define WF_BEER_FILTER_H

#include "cli/command.h"
#include "wortfit/wortfit.h"

struct wf_beer_filter {
    const char *word, *group;
    struct wf_range og, colour, abv;
};

/* Their rows; `at` is the offset of the filter in the command's options. */
#define WF_BEER_FILTER_OPTIONS(at)                                                                 \
    {.name = "word",                                                                               \
     .word = "TEXT",                                                                               \
     .kind = WF_OPTION_TEXT,                                                                       \
     .offset = (at) + offsetof(struct wf_beer_filter, word),                                       \
     .text = "that are described so: roast, wheat, strong, ..."},                                  \
        {.name = "group",                                                                          \
         .word = "TEXT",                                                                           \
         .kind = WF_OPTION_TEXT,                                                                   \
         .offset = (at) + offsetof(struct wf_beer_filter, group),                                  \
         .text = "of this group, or a part of its name"},                                          \
        {.name = "og",                                                                             \
         .word = "RANGE",                                                                          \
         .kind = WF_OPTION_RANGE,                                                                  \
         .dimension = WF_DIM_GRAVITY,                                                              \
         .offset = (at) + offsetof(struct wf_beer_filter, og),                                     \
         .text = "original gravity: 1.055, \"<= 1.045\""},                                         \
        {.name = "colour",                                                                         \
         .also = "color",                                                                          \
         .word = "RANGE",                                                                          \
         .kind = WF_OPTION_RANGE,                                                                  \
         .dimension = WF_DIM_BEER_COLOUR,                                                          \
         .offset = (at) + offsetof(struct wf_beer_filter, colour),                                 \
         .text = "colour: \"10..20 SRM\", \"<= 8 EBC\""},                                          \
    {                                                                                              \
        .name = "abv", .word = "RANGE", .kind = WF_OPTION_RANGE, .dimension = WF_DIM_SHARE,        \
        .offset = (at) + offsetof(struct wf_beer_filter, abv),                                     \
        .text = "alcohol by volume: \"<= 4 %\""                                                    \
    }

bool wf_beer_filter_keeps(const struct wf_beer_filter *f, const struct wf_target *t);

/* All built-in targets. beers has room for wf_target_builtin_count(); *count says how many of them
 * must be freed, also after a failure. */
enum wf_status wf_beers_read_all(const struct wf_catalogue *c, struct wf_target **beers,
                                 size_t *count, struct wf_error *e) WF_MUST_USE;

#endif
