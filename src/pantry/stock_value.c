/* stock_value.c: keys of lots, and what a brewer writes of them as JSON: by the reader's own
 * tables.
 */
#include "pantry/stock_parts.h"

#include "pantry/ingredient.h"

#include "base/ascii.h"
#include "base/number.h"
#include "base/quote.h"
#include "base/try.h"

#include <string.h>

/* ---- Keys ------------------------------------------------------------------------------------ */

static const struct {
    const char *list;
    const struct wf_json_table *table;
} kind_row[WF_KIND_COUNT] = {
    [WF_KIND_MALT] = {"malts", &wf_malt_table},
    [WF_KIND_HOP] = {"hops", &wf_hop_table},
    [WF_KIND_YEAST] = {"yeasts", &wf_yeast_table},
};

const char wf_stock_kind_key[] = "kind";

enum wf_kind wf_stock_kind_of(const char *word)
{
    int kind = 0;
    while (kind < WF_KIND_COUNT && !wf_ascii_same(word, kind_row[kind].list) &&
           !wf_ascii_same(word, wf_kind_called((enum wf_kind)kind)))
        kind++;
    return (enum wf_kind)kind;
}

const char *wf_stock_list_key(enum wf_kind kind)
{
    return kind_row[kind].list;
}

const struct wf_json_table *wf_stock_table(enum wf_kind kind)
{
    return kind_row[kind].table;
}

const struct wf_json_field *wf_stock_row(enum wf_kind kind, const char *key)
{
    const struct wf_json_table *t = kind_row[kind].table;
    for (size_t i = 0; i < t->field_count; i++)
        if (strcmp(t->fields[i].key, key) == 0)
            return &t->fields[i];
    return NULL;
}

void wf_stock_refuse_key(enum wf_kind kind, const char *key, char why[WF_REASON_MAX])
{
    const char *keys[WF_JSON_FIELDS_MOST];
    char hint[WF_REASON_MAX];
    const struct wf_json_table *t = kind_row[kind].table;
    for (size_t i = 0; i < t->field_count; i++)
        keys[i] = t->fields[i].key;
    wf_snprintf(why, WF_REASON_MAX, "a %s has no \"%.64s\"%s", wf_kind_called(kind), key,
                wf_json_nearest(key, keys, t->field_count, hint));
}

size_t wf_stock_keys(const char *keys[WF_STOCK_KEYS_MOST])
{
    size_t count = 0;
    for (int kind = 0; kind < WF_KIND_COUNT; kind++) {
        const struct wf_json_table *t = kind_row[kind].table;
        for (size_t i = 0; i < t->field_count; i++) {
            bool known = false;
            for (int before = 0; before < kind && !known; before++)
                known = wf_stock_row((enum wf_kind)before, t->fields[i].key) != NULL;
            if (!known)
                keys[count++] = t->fields[i].key;
        }
    }
    return count;
}

/* ---- Values ---------------------------------------------------------------------------------- */

typedef bool value_fn(const struct wf_json_field *row, const char *text, struct wf_text *out,
                      char why[WF_REASON_MAX]);

static bool quoted(const struct wf_json_field *row, const char *text, struct wf_text *out,
                   char why[WF_REASON_MAX])
{
    (void)row, (void)why;
    wf_quote_add(out, text);
    return true;
}

/* A plain number where no unit is needed, as "have": 2; a figure with its unit is text. */
static bool figure(const struct wf_json_field *row, const char *text, struct wf_text *out,
                   char why[WF_REASON_MAX])
{
    const char *end;
    char number[WF_NUMBER_TEXT_MAX];
    double value;
    if (row->dimension != WF_DIM_NUMBER || !wf_number_parse(text, &end, &value) || *end ||
        !wf_number_print(value, number))
        return quoted(row, text, out, why);
    wf_text_add(out, "%s", number);
    return true;
}

static bool yes_or_no(const struct wf_json_field *row, const char *text, struct wf_text *out,
                      char why[WF_REASON_MAX])
{
    static const char *const words[] = {"no", "yes", "false", "true"};
    for (size_t i = 0; i < WF_COUNT_OF(words); i++)
        if (strcmp(text, words[i]) == 0) {
            wf_text_add(out, "%s", i % 2 ? "true" : "false");
            return true;
        }
    (void)row;
    wf_snprintf(why, WF_REASON_MAX, "read \"%.64s\"; must be yes or no", text);
    return false;
}

/* The next part of a list that is parted by commas, without blanks round it; false at the end. */
static bool next_part(const char **text, struct wf_text *part)
{
    const char *p = wf_ascii_skip_blanks(*text);
    if (*p == '\0')
        return false;
    size_t all = strcspn(p, ",;"), length = all;
    while (length > 0 && wf_ascii_blank(p[length - 1]))
        length--;
    wf_text_free(part);
    wf_text_append(part, p, length);
    *text = p + all + (p[all] != '\0');
    return !part->failed;
}

static bool list(const struct wf_json_field *row, const char *text, struct wf_text *out,
                 char why[WF_REASON_MAX])
{
    struct wf_text part = {0};
    (void)row, (void)why;
    wf_text_add(out, "[");
    for (bool first = true; next_part(&text, &part); first = false) {
        wf_text_add(out, "%s", first ? "" : ", ");
        wf_quote_add(out, part.data);
    }
    out->failed = out->failed || part.failed;
    wf_text_add(out, "]");
    wf_text_free(&part);
    return true;
}

/* "caramel 4, body 1" */
static bool scores(const struct wf_json_field *row, const char *text, struct wf_text *out,
                   char why[WF_REASON_MAX])
{
    struct wf_text part = {0};
    bool good = true;
    const char *rest = text;
    (void)row;
    wf_text_add(out, "{");
    for (bool first = true; good && next_part(&rest, &part); first = false) {
        char *blank = strrchr(part.data, ' ');
        good = blank != NULL;
        if (!good)
            break;
        char *word_end = blank;
        while (word_end > part.data && word_end[-1] == ' ')
            word_end--;
        *word_end = '\0';
        wf_text_add(out, "%s", first ? " " : ", ");
        wf_quote_add(out, part.data);
        wf_text_add(out, ": ");
        good = figure(&(struct wf_json_field){.dimension = WF_DIM_NUMBER}, blank + 1, out, why);
    }
    out->failed = out->failed || part.failed;
    wf_text_add(out, " }");
    wf_text_free(&part);
    if (!good)
        wf_snprintf(why, WF_REASON_MAX,
                    "read \"%.64s\"; words and their scores are written \"caramel 4, body 1\"",
                    text);
    return good;
}

static const struct {
    wf_json_reader *reader;
    value_fn *value;
} value_row[] = {
    {wf_json_quantity, figure}, {wf_json_range, figure}, {wf_json_bool, yes_or_no},
    {wf_json_texts, list},      {wf_json_ids, list},     {wf_json_object, scores},
};

bool wf_stock_value(const struct wf_json_field *row, const char *text, struct wf_text *out,
                    char why[WF_REASON_MAX])
{
    for (size_t i = 0; i < WF_COUNT_OF(value_row); i++)
        if (row->read == value_row[i].reader)
            return value_row[i].value(row, text, out, why);
    return quoted(row, text, out, why);
}
