/* report_list.c: see report_list.h. */
#include "report/report_list.h"

#include "base/try.h"
#include "report/field_value.h"
#include "report/table.h"

#include <string.h>

static bool is_figure(const struct wf_field *f)
{
    return f->kind == WF_FIELD_FIGURE || f->kind == WF_FIELD_SPAN || f->kind == WF_FIELD_RANGE;
}

/* Cuts the unit off, where the column's title names it: "10..17 SRM". */
static void cut_unit(const struct wf_field *f, char *text)
{
    char *space = f->column && !wf_dimension_is_bare(f->dimension) ? strrchr(text, ' ') : NULL;
    if (space)
        *space = '\0';
}

static void add_item(struct wf_table *t, const struct wf_item_kind *kind, const void *item,
                     const struct wf_report_style *s)
{
    char text[WF_FIELD_TEXT_MOST];
    for (const struct wf_field *f = kind->fields; f->key; f++) {
        if (!f->listed)
            continue;
        cut_unit(f, wf_field_print(f, item, s->units, text));
        wf_table_cell(t, "%s", *text ? text : is_figure(f) ? "-" : "");
    }
}

enum wf_status wf_report_list_text(const struct wf_item_kind *kind, const void *const *items,
                                   size_t count, const struct wf_report_style *s, char **out,
                                   struct wf_error *e)
{
    struct wf_column columns[WF_COLUMNS_MOST];
    struct wf_table t = {.columns = columns};
    struct wf_text text = {0};
    for (const struct wf_field *f = kind->fields; f->key; f++)
        if (f->listed)
            columns[t.column_count++] =
                (struct wf_column){f->column ? f->column : f->label, is_figure(f), f->most};
    wf_table_titles(&t);
    for (size_t i = 0; i < count; i++)
        add_item(&t, kind, items[i], s);
    wf_table_write(&t, s, 0, &text);
    return wf_text_hand_over(&text, out, e);
}

static size_t widest_label(const struct wf_item_kind *kind)
{
    size_t widest = 0;
    for (const struct wf_field *f = kind->fields; f->key; f++)
        if (!f->elsewhere && strlen(f->label) > widest)
            widest = strlen(f->label);
    return widest;
}

enum wf_status wf_report_item_text(const struct wf_item_kind *kind, const void *item,
                                   const struct wf_report_style *s, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    char value[WF_FIELD_TEXT_MOST];
    size_t width = widest_label(kind);
    for (const struct wf_field *f = kind->fields; f->key; f++)
        if (!f->elsewhere && *wf_field_print(f, item, s->units, value))
            wf_style_labelled(&text, s, WF_MARK_NONE, f->label, width, value);
    if (kind->more)
        kind->more(&text, item, s);
    return wf_text_hand_over(&text, out, e);
}

enum wf_status wf_report_list_json(const struct wf_item_kind *kind, const void *const *items,
                                   size_t count, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '[', false);
    for (size_t i = 0; i < count; i++) {
        wf_put_open(&j, NULL, '{', false);
        for (const struct wf_field *f = kind->fields; f->key; f++)
            wf_field_write(f, items[i], &j);
        wf_put_close(&j, '}');
    }
    wf_put_close(&j, ']');
    return wf_text_hand_over(&text, out, e);
}

/* ---- Words ----------------------------------------------------------------------------------- */

static const char *spoken_of(int word)
{
    return word < WF_MALT_WORD_COUNT ? "malts" : "hops";
}

enum wf_status wf_report_words_text(const struct wf_report_style *s, char **out, struct wf_error *e)
{
    static const struct wf_column columns[] = {
        {.title = "word"}, {.title = "of"}, {.title = "what it means"}};
    struct wf_table t = {.columns = columns, .column_count = WF_COUNT_OF(columns)};
    struct wf_text text = {0};
    wf_table_titles(&t);
    for (int w = 0; w < WF_WORD_COUNT; w++) {
        wf_table_cell(&t, "%s", wf_word_name((enum wf_word)w));
        wf_table_cell(&t, "%s", spoken_of(w));
        wf_table_cell(&t, "%s", wf_word_text((enum wf_word)w));
    }
    wf_table_write(&t, s, 0, &text);
    return wf_text_hand_over(&text, out, e);
}

enum wf_status wf_report_words_json(char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '[', false);
    for (int w = 0; w < WF_WORD_COUNT; w++) {
        wf_put_open(&j, NULL, '{', true);
        wf_put_string(&j, "word", wf_word_name((enum wf_word)w));
        wf_put_string(&j, "of", spoken_of(w));
        wf_put_string(&j, "text", wf_word_text((enum wf_word)w));
        wf_put_close(&j, '}');
    }
    wf_put_close(&j, ']');
    return wf_text_hand_over(&text, out, e);
}
