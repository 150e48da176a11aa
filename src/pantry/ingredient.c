/* ingredient.c: what malts, hops and yeasts have in common when they are read. */
#include "pantry/ingredient.h"

#include "base/alloc.h"
#include "base/try.h"

#include <string.h>

#define WF_X(id, word, text)                                                                       \
    {.key = word,                                                                                  \
     .read = wf_json_quantity,                                                                     \
     .dimension = WF_DIM_NUMBER,                                                                   \
     .offset = WF_WORD_##id * sizeof(double),                                                      \
     .high = WF_MOST_SCORE},
static const struct wf_json_field malt_score_fields[] = {WF_MALT_WORDS(WF_X)};
#undef WF_X

#define WF_X(id, word, text)                                                                       \
    {.key = word,                                                                                  \
     .read = wf_json_quantity,                                                                     \
     .dimension = WF_DIM_NUMBER,                                                                   \
     .offset = (WF_WORD_##id - WF_MALT_WORD_COUNT) * sizeof(double),                               \
     .high = WF_MOST_SCORE},
static const struct wf_json_field hop_score_fields[] = {WF_HOP_WORDS(WF_X)};
#undef WF_X

const struct wf_json_table wf_malt_scores_table = {.fields = malt_score_fields,
                                                   .field_count = WF_COUNT_OF(malt_score_fields)};
const struct wf_json_table wf_hop_scores_table = {.fields = hop_score_fields,
                                                  .field_count = WF_COUNT_OF(hop_score_fields)};

void *wf_ingredient_pack(struct wf_arena *a, const struct wf_json_list *list,
                         const struct wf_json_table *table, size_t size)
{
    char *packed = wf_arena_alloc(a, list->count, size);
    for (size_t i = 0; packed && i < list->count; i++)
        memcpy(packed + i * size, (const char *)list->items + i * table->size, size);
    return packed;
}

struct wf_identity wf_ingredient_identity(struct wf_json *j, const struct cJSON *node,
                                          enum wf_kind kind)
{
    const struct wf_ingredient_reading *reading = wf_json_user(j);
    struct wf_identity who = {.id = wf_json_string(wf_json_member(node, "id")),
                              .is = wf_json_string(wf_json_member(node, "is"))};
    who.id = who.id && wf_json_is_id(who.id) ? who.id : NULL; /* else it is refused as such */
    who.is = who.is && wf_json_is_id(who.is) ? who.is : NULL;
    const char *key = who.is ? who.is : who.id;
    if (key)
        who.entry = wf_catalogue_entry(reading->catalogue, kind, key);
    return who;
}

const char *wf_ingredient_keep(struct wf_json *j, const char *text)
{
    const char *copy = wf_arena_string(wf_json_arena(j), text);
    if (text && !copy)
        wf_json_no_memory(j);
    return copy;
}

const char *const *wf_ingredient_keep_list(struct wf_json *j, const char *const *texts)
{
    size_t count = 0;
    while (texts && texts[count])
        count++;
    if (count == 0)
        return NULL;
    const char **copy = wf_arena_alloc(wf_json_arena(j), count + 1, sizeof *copy);
    if (!copy)
        wf_json_no_memory(j);
    for (size_t i = 0; copy && i < count; i++)
        copy[i] = wf_ingredient_keep(j, texts[i]);
    return copy;
}

const char *wf_ingredient_name(struct wf_json *j, const struct wf_identity *who,
                               const char *entry_name)
{
    return who->is ? NULL : wf_ingredient_keep(j, entry_name);
}

const char *wf_ingredient_of(struct wf_json *j, const char *id, const char *of)
{
    const struct wf_ingredient_reading *reading = wf_json_user(j);
    return reading->reference ? id : of;
}

static void check_entry(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                        const struct wf_identity *who)
{
    const struct wf_ingredient_reading *reading = wf_json_user(j);
    const char *called = wf_kind_called(kind);
    char hint[WF_REASON_MAX];
    if (!who->is)
        return;
    if (!who->entry)
        wf_json_refuse(j, wf_json_member(node, "is"), "no %s \"%s\" is in the catalogue%s", called,
                       who->is, wf_catalogue_nearest(reading->catalogue, kind, who->is, hint));
    else if (who->id && strcmp(who->id, who->is) != 0 &&
             wf_catalogue_entry(reading->catalogue, kind, who->id))
        wf_json_refuse(j, wf_json_member(node, "id"),
                       "\"%s\" is itself a %s of the catalogue; give this lot a name of its own",
                       who->id, called);
}

static void check_figures(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                          const struct wf_identity *who, const char *missing)
{
    const struct wf_ingredient_reading *reading = wf_json_user(j);
    char hint[WF_REASON_MAX];
    if (who->entry || !who->id || wf_json_has(node, "is") || missing[0] == '\0')
        return;
    if (reading->reference)
        wf_json_refuse(j, node, "lacks %s", missing);
    else
        wf_json_refuse(j, node,
                       "no %s \"%s\" is in the catalogue%s; give \"is\", the entry that it is, or "
                       "else %s",
                       wf_kind_called(kind), who->id,
                       wf_catalogue_nearest(reading->catalogue, kind, who->id, hint), missing);
}

static void check_id_is_new(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                            const struct wf_identity *who)
{
    struct wf_ingredient_reading *reading = wf_json_user(j);
    size_t place = reading->seen[kind]++;
    const struct wf_name *old;
    if (!who->id)
        return;
    const char *id = wf_arena_string(wf_json_arena(j), who->id);
    struct wf_name name = {.text = id, .length = strlen(who->id), .scope = kind, .value = place};
    if (!id || wf_names_add(&reading->ids, name, &old) != WF_OK) {
        wf_json_no_memory(j);
        return;
    }
    if (old)
        wf_json_refuse(j, wf_json_member(node, "id"),
                       "\"%s\" is already %ss[%zu]; give this lot a name of its own, with \"is\" "
                       "for the catalogue's",
                       who->id, wf_kind_called(kind), old->value);
}

void wf_ingredient_check(struct wf_json *j, const struct cJSON *node, enum wf_kind kind,
                         const char *const *needs, size_t need_count, const char *more)
{
    const char *missing[WF_JSON_FIELDS_MOST];
    char list[WF_REASON_MAX];
    size_t count = 0;
    for (size_t i = 0; i < need_count; i++)
        if (!wf_json_has(node, needs[i]))
            missing[count++] = needs[i];
    if (more[0] != '\0')
        missing[count++] = more;
    struct wf_identity who = wf_ingredient_identity(j, node, kind);
    check_entry(j, node, kind, &who);
    check_figures(j, node, kind, &who, wf_json_join(missing, count, list));
    check_id_is_new(j, node, kind, &who);
}

void wf_ingredient_check_dates(struct wf_json *j, const struct cJSON *node, long packed,
                               long opened)
{
    if (packed != WF_NO_DATE && opened != WF_NO_DATE && opened < packed)
        wf_json_refuse(j, wf_json_member(node, "opened"), "is before \"packed\"");
}
