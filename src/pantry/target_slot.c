/* target_slot.c: places in the hop schedule. */
#include "pantry/fields.h"
#include "pantry/hop_time.h"
#include "pantry/limits.h"
#include "pantry/target_parts.h"

struct slot_row {
    struct wf_slot slot;
    struct wf_word_ranges wishes;
};

static void read_at(struct wf_json *j, const struct wf_json_field *f, const struct cJSON *node,
                    void *at)
{
    struct wf_slot *slot = &((struct slot_row *)at)->slot;
    const char *text = wf_json_string(node);
    struct wf_hop_time time;
    char why[WF_REASON_MAX];
    wf_json_text(j, f, node, at);
    if (!text)
        return;
    if (!wf_hop_time_parse(text, &time, why)) {
        wf_json_refuse_which(j, node, why);
        return;
    }
    slot->use = time.use;
    slot->minutes = time.minutes;
    slot->celsius = time.celsius;
    slot->days = time.days;
}

static const struct wf_json_field slot_fields[] = {
    {.key = "at",
     .read = read_at,
     .offset = WF_JSON_AT(struct slot_row, slot.at, const char *),
     .high = 40,
     .required = true},
    {WF_WANTED("dose", struct slot_row, slot.dose, DOSE, 0, WF_MOST_DOSE_G_L, -1)},
    {.key = "hop",
     .read = wf_json_ids,
     .offset = WF_JSON_AT(struct slot_row, slot.hops, const char *const *),
     .low = 1,
     .high = WF_MOST_LIST},
    {.key = "origin",
     .read = wf_json_texts,
     .offset = WF_JSON_AT(struct slot_row, slot.origins, const char *const *),
     .low = 1,
     .high = WF_MOST_LIST},
    {.key = "character",
     .read = wf_json_object,
     .offset = offsetof(struct slot_row, wishes),
     .table = &wf_hop_wishes_table},
    {.key = "most",
     .read = wf_json_count,
     .offset = WF_JSON_AT(struct slot_row, slot.most, int),
     .low = 1,
     .high = 20},
};

static void slot_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct slot_row *row = at;
    (void)j;
    (void)node;
    row->slot.dose = wf_range_any();
    row->slot.most = 1;
    row->wishes = wf_word_ranges_any();
}

static void slot_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct slot_row *row = at;
    row->slot.dosed = wf_json_has(node, "dose");
    row->slot.wishes = wf_word_wishes(j, &row->wishes, &row->slot.wish_count);
}

const struct wf_json_table wf_slot_table = {
    .fields = slot_fields,
    .field_count = sizeof slot_fields / sizeof slot_fields[0],
    .size = sizeof(struct slot_row),
    .before = slot_before,
    .after = slot_after,
};
