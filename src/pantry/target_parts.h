/*
 * target_parts.h: the parts of a target that have tables of their own: rules of the grist
 * (target_rule.c), places in the hop schedule (target_slot.c), wishes by word (target_wish.c).
 */
#ifndef WF_TARGET_PARTS_H
#define WF_TARGET_PARTS_H

#include "pantry/json_read.h"
#include "wortfit/pantry.h"

/* The `user` of the reading of a target. */
struct wf_target_reading {
    const struct wf_catalogue *catalogue; /* for the names of malts; may be NULL */
};

/* Rows begin with the struct wf_rule or struct wf_slot. */
extern const struct wf_json_table wf_rule_table, wf_slot_table;

/* The set that a list of ids and class words means; an empty list means every malt. */
void wf_malt_set_from(struct wf_json *j, const char *const *list, struct wf_malt_set *out);

/* What is wished of each word; wf_range_any() where nothing is. */
struct wf_word_ranges {
    struct wf_range word[WF_WORD_COUNT];
};
extern const struct wf_json_table wf_wishes_table;     /* any word */
extern const struct wf_json_table wf_hop_wishes_table; /* the hops' words */

struct wf_word_ranges wf_word_ranges_any(void);
/* The words of which something is wished, in the arena. */
const struct wf_word_wish *wf_word_wishes(struct wf_json *j, const struct wf_word_ranges *ranges,
                                          size_t *count);

#endif
