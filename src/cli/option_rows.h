/*
 * option_rows.h: rows of options that mean the same in several commands. `at` is where the value
 * goes,
 * ".offset = offsetof(...)"; `said` is what the help page says of it.
 */
#ifndef WF_OPTION_ROWS_H
#define WF_OPTION_ROWS_H

#include "cli/options.h"

/* clang-format off */
#define WF_ROW_BATCH(at, said)                                                                     \
    {.name = "batch", .word = "VOLUME", .kind = WF_OPTION_QUANTITY, at,                            \
     .dimension = WF_DIM_VOLUME, .least = 0.5, .most = 10000, .limits = "0.5 L to 10000 L",        \
     .text = said}
#define WF_ROW_COLOUR(at)                                                                          \
    {.name = "colour", .also = "color", .word = "RANGE", .kind = WF_OPTION_RANGE, at,              \
     .dimension = WF_DIM_BEER_COLOUR, .tolerance = WF_TOLERANCE_COLOUR,                            \
     .text = "colour: \"13 SRM\", \"20..26 EBC\""}
#define WF_ROW_RATIO(at)                                                                           \
    {.name = "ratio", .word = "RANGE", .kind = WF_OPTION_RANGE, at,                                \
     .dimension = WF_DIM_NUMBER, .tolerance = WF_TOLERANCE_RATIO,                                  \
     .text = "IBU by gravity point: 0.6"}
#define WF_ROW_BITTERNESS(at)                                                                      \
    {.name = "bitterness", .word = "RANGE", .kind = WF_OPTION_RANGE, at,                           \
     .dimension = WF_DIM_BITTERNESS, .tolerance = WF_TOLERANCE_BITTERNESS,                         \
     .text = "instead of the ratio: \"35 IBU\""}
#define WF_ROW_USE(at)                                                                             \
    {.name = "use", .word = "ID", .kind = WF_OPTION_TEXTS, at,                                     \
     .text = "this must be in it (may be repeated)"}
#define WF_ROW_AVOID(at)                                                                           \
    {.name = "avoid", .word = "ID", .kind = WF_OPTION_TEXTS, at,                                   \
     .text = "this must not (may be repeated)"}
#define WF_ROW_TIME(at)                                                                            \
    {.name = "time", .word = "TIME", .kind = WF_OPTION_QUANTITY, at,                               \
     .dimension = WF_DIM_TIME, .least = 1.0 / 60, .most = 1440, .limits = "1 s to 24 h",           \
     .text = "search this long for the proof (while it pays)"}
#define WF_ROW_ON(at)                                                                              \
    {.name = "on", .word = "DATE", .kind = WF_OPTION_DATE, at,                                     \
     .text = "brewing day, for the age of hops (today)"}
#define WF_ROW_UNITS(at)                                                                           \
    {.name = "units", .word = "WORD", .kind = WF_OPTION_CHOICES, at,                               \
     .words = wf_unit_words, .preset = "metric", .text = "metric or us"}
#define WF_ROW_JSON(at, said)                                                                      \
    {.name = "json", .kind = WF_OPTION_FLAG, at, .text = said}
/* clang-format on */

#endif
