/* target_wish.c: wishes of character, by word. */
#include "pantry/fields.h"
#include "pantry/limits.h"
#include "pantry/target_parts.h"

#include "base/alloc.h"

#define WF_X(id, name, text)                                                                       \
    {WF_WANTED(name, struct wf_word_ranges, word[WF_WORD_##id], NUMBER, 0, WF_MOST_INDEX,          \
               WF_TOLERANCE_INDEX)},
static const struct wf_json_field wish_fields[] = {WF_MALT_WORDS(WF_X) WF_HOP_WORDS(WF_X)};
static const struct wf_json_field hop_wish_fields[] = {WF_HOP_WORDS(WF_X)};
#undef WF_X

const struct wf_json_table wf_wishes_table = WF_TABLE(wish_fields);
const struct wf_json_table wf_hop_wishes_table = WF_TABLE(hop_wish_fields);

struct wf_word_ranges wf_word_ranges_any(void)
{
    struct wf_word_ranges ranges;
    for (int w = 0; w < WF_WORD_COUNT; w++)
        ranges.word[w] = wf_range_any();
    return ranges;
}

const struct wf_word_wish *wf_word_wishes(struct wf_json *j, const struct wf_word_ranges *ranges,
                                          size_t *count)
{
    struct wf_word_wish *wishes = wf_arena_alloc(wf_json_arena(j), WF_WORD_COUNT, sizeof *wishes);
    *count = 0;
    if (!wishes)
        wf_json_no_memory(j);
    for (int w = 0; wishes && w < WF_WORD_COUNT; w++)
        if (!wf_range_is_any(ranges->word[w]))
            wishes[(*count)++] = (struct wf_word_wish){(enum wf_word)w, ranges->word[w]};
    return wishes;
}
