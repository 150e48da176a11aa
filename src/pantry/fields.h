/* fields.h: rows of the commonest kinds, for field tables; T is the row's struct, M a member. */
#ifndef WF_FIELDS_H
#define WF_FIELDS_H

#include "pantry/json_read.h"

/* A figure of a dimension within limits (internal unit). */
#define WF_FIGURE(k, T, M, dim, least, greatest)                                                   \
    .key = k, .read = wf_json_quantity, .offset = WF_JSON_AT(T, M, double),                        \
    .dimension = WF_DIM_##dim, .low = least, .high = greatest

/* A wanted value, likewise; `slack` is the tolerance of a bare aim. */
#define WF_WANTED(k, T, M, dim, least, greatest, slack)                                            \
    .key = k, .read = wf_json_range, .offset = WF_JSON_AT(T, M, struct wf_range),                  \
    .dimension = WF_DIM_##dim, .low = least, .high = greatest, .tolerance = slack

#define WF_TABLE(rows)                                                                             \
    {                                                                                              \
        .fields = rows, .field_count = sizeof(rows) / sizeof(rows[0])                              \
    }

#endif
