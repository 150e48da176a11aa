/* target_rule.c: rules of the grist: whom they speak of, and what they ask. */
#include "pantry/catalogue.h"
#include "pantry/fields.h"
#include "pantry/limits.h"
#include "pantry/target_parts.h"

#include "base/alloc.h"
#include "base/text.h"
#include "base/try.h"

#include <string.h>

/* ---- Sets of malts --------------------------------------------------------------------------- */

#define BIT(class) (1u << WF_CLASS_##class)

/* The words that stand for classes in a rule, and how a class is spoken of. */
static const char *const class_word[] = {
#define WF_X(id, name) name,
    WF_MALT_CLASS_LIST(WF_X)
#undef WF_X
        "adjunct",
    NULL,
};
static const struct {
    unsigned classes;
    const char *words;
} class_row[] = {
    {BIT(BASE), "base malts"},
    {BIT(HIGH_KILNED), "high-kilned malts"},
    {BIT(CARAMEL), "caramel malts"},
    {BIT(ROAST), "roast malts"},
    {BIT(FLAKED), "flaked grains"},
    {BIT(UNMALTED), "unmalted grains"},
    {BIT(SUGAR), "sugars"},
    {BIT(OTHER), "other fermentables"},
    {BIT(FLAKED) | BIT(UNMALTED) | BIT(SUGAR), "adjuncts"},
};
_Static_assert(WF_COUNT_OF(class_row) + 1 == WF_COUNT_OF(class_word), "a row for each word");

static int find_class(const char *word)
{
    for (int i = 0; class_word[i]; i++)
        if (strcmp(class_word[i], word) == 0)
            return i;
    return -1;
}

static bool list_has(const char *const *ids, const char *id)
{
    for (; ids && id && *ids; ids++)
        if (strcmp(*ids, id) == 0)
            return true;
    return false;
}

bool wf_malt_set_has(const struct wf_malt_set *s, const struct wf_malt *m)
{
    return s->all || (s->classes >> m->class & 1u) || list_has(s->ids, m->id) ||
           list_has(s->ids, m->of);
}

/* ---- The table ------------------------------------------------------------------------------- */

struct rule_row {
    struct wf_rule rule;
    int class;              /* index in class_word, or -1 */
    const char *malt;       /* or NULL */
    const char *const *any; /* ids and class words; or NULL */
};

static const struct wf_json_field rule_fields[] = {
    {.key = "class",
     .read = wf_json_word,
     .offset = WF_JSON_AT(struct rule_row, class, int),
     .words = class_word},
    {.key = "malt", .read = wf_json_id, .offset = WF_JSON_AT(struct rule_row, malt, const char *)},
    {.key = "any",
     .read = wf_json_ids,
     .offset = WF_JSON_AT(struct rule_row, any, const char *const *),
     .high = WF_MOST_LIST},
    {WF_WANTED("share", struct rule_row, rule.share, SHARE, 0, 1, WF_TOLERANCE_SHARE)},
    {.key = "least",
     .read = wf_json_count,
     .offset = WF_JSON_AT(struct rule_row, rule.least, int),
     .high = WF_MOST_LINES},
    {.key = "most",
     .read = wf_json_count,
     .offset = WF_JSON_AT(struct rule_row, rule.most, int),
     .high = WF_MOST_LINES},
    {.key = "words",
     .read = wf_json_text,
     .offset = WF_JSON_AT(struct rule_row, rule.words, const char *),
     .high = 200},
};

static void rule_before(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct rule_row *row = at;
    (void)j;
    (void)node;
    row->class = row->rule.least = row->rule.most = -1;
    row->rule.share = wf_range_any();
}

static const char *malt_name(struct wf_json *j, const char *id)
{
    const struct wf_target_reading *reading = wf_json_user(j);
    const struct wf_malt *entry = wf_catalogue_entry(reading->catalogue, WF_KIND_MALT, id);
    return entry ? entry->name : id;
}

void wf_malt_set_from(struct wf_json *j, const char *const *list, struct wf_malt_set *out)
{
    size_t count = 0;
    while (list[count])
        count++;
    const char **ids = wf_arena_alloc(wf_json_arena(j), count + 1, sizeof *ids);
    *out = (struct wf_malt_set){.all = count == 0, .ids = ids};
    if (!ids) {
        wf_json_no_memory(j);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        int class = find_class(list[i]);
        if (class >= 0)
            out->classes |= class_row[class].classes;
        else
            *ids++ = list[i];
    }
}

/* "any": classes and ids jointly, and how they are spoken of. */
static void take_any(struct wf_json *j, struct rule_row *row, struct wf_text *words)
{
    wf_malt_set_from(j, row->any, &row->rule.who);
    for (size_t i = 0; row->any[i]; i++) {
        int class = find_class(row->any[i]);
        wf_text_add(words, "%s%s",
                    i == 0            ? ""
                    : row->any[i + 1] ? ", "
                                      : " and ",
                    class >= 0 ? class_row[class].words : malt_name(j, row->any[i]));
    }
    if (row->rule.who.all)
        wf_text_add(words, "all malts");
}

static void take_malt(struct wf_json *j, struct rule_row *row, struct wf_text *words)
{
    const char **ids = wf_arena_alloc(wf_json_arena(j), 2, sizeof *ids);
    row->rule.who.ids = ids;
    if (ids)
        ids[0] = row->malt;
    else
        wf_json_no_memory(j);
    wf_text_add(words, "%s", malt_name(j, row->malt));
}

static void set_who(struct wf_json *j, struct rule_row *row)
{
    struct wf_text words = {0};
    if (row->class >= 0) {
        row->rule.who.classes = class_row[row->class].classes;
        wf_text_add(&words, "%s", class_row[row->class].words);
    } else if (row->malt) {
        take_malt(j, row, &words);
    } else if (row->any) {
        take_any(j, row, &words);
    }
    if (!row->rule.words && words.data)
        row->rule.words = wf_arena_string(wf_json_arena(j), words.data);
    if (words.failed || (words.data && !row->rule.words))
        wf_json_no_memory(j);
    wf_text_free(&words);
}

static void rule_after(struct wf_json *j, const struct cJSON *node, void *at)
{
    struct rule_row *row = at;
    const struct wf_rule *r = &row->rule;
    int subjects =
        wf_json_has(node, "class") + wf_json_has(node, "malt") + wf_json_has(node, "any");
    if (subjects != 1)
        wf_json_refuse(j, node, "needs one of \"class\", \"malt\" and \"any\", not %s",
                       subjects == 0 ? "none" : "several");
    if (!wf_json_has(node, "share") && !wf_json_has(node, "least") && !wf_json_has(node, "most"))
        wf_json_refuse(j, node, "asks nothing; give \"share\", \"least\" or \"most\"");
    if (r->least >= 0 && r->most >= 0 && r->least > r->most)
        wf_json_refuse_read(j, wf_json_member(node, "least"), "is more than \"most\", %d", r->most);
    set_who(j, row);
}

const struct wf_json_table wf_rule_table = {
    .fields = rule_fields,
    .field_count = WF_COUNT_OF(rule_fields),
    .size = sizeof(struct rule_row),
    .before = rule_before,
    .after = rule_after,
};
