/* The small tools of reports: tables, wrapped text, JSON, and the field tables of lists. */
#include "support/test.h"

#include "base/alloc.h"
#include "report/json_put.h"
#include "report/report_list.h"
#include "report/table.h"

static const struct wf_report_style plain = {WF_UNITS_METRIC, false};

static void table_aligns_and_cuts(void **state)
{
    static const struct wf_column columns[] = {
        {.title = "name", .most = 8}, {.title = "g", .right = true}, {.title = ""}};
    struct wf_table t = {.columns = columns, .column_count = COUNT_OF(columns)};
    struct wf_text out = {0};
    wf_table_titles(&t);
    wf_table_cell(&t, "Hop");
    wf_table_figure(&t, WF_DIM_MASS, 0.0125, WF_UNITS_METRIC);
    wf_table_cell(&t, "ok");
    wf_table_cell(&t, "\xC3\xA4\xC3\xB6\xC3\xBC"); /* three letters, six bytes */
    wf_table_figure(&t, WF_DIM_MASS, (double)NAN, WF_UNITS_METRIC);
    wf_table_cell(&t, "%s", "");
    wf_table_cell(&t, "\xC3\xA4"
                      "bcdefghi"); /* nine letters: cut to eight */
    wf_table_cell(&t, "%s", "");
    wf_table_cell(&t, "a\tb\n");
    wf_table_write(&t, &plain, 2, &out);
    assert_string_equal(out.data, "  name           g\n"
                                  "  Hop       12.5 g  ok\n"
                                  "  \xC3\xA4\xC3\xB6\xC3\xBC            -\n"
                                  "  \xC3\xA4"
                                  "bcdef..          a?b?\n");
    wf_text_free(&out);
    (void)state;
}

static void wrapped_text_keeps_its_words(void **state)
{
    struct wf_text out = {0};
    wf_style_wrap(&out, "  a bb ccc  dddd eeeeeeeeeeee f", 8);
    assert_string_equal(out.data, "a bb ccc\ndddd\neeeeeeeeeeee\nf\n");
    wf_text_free(&out);
    (void)state;
}

static void json_is_indented_and_escaped(void **state)
{
    struct wf_text out = {0};
    struct wf_json_put j = {.out = &out};
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "text", "a\"\\\n\x01\x7F\xC3\xA4\xFF");
    wf_put_string(&j, "none", NULL);
    wf_put_number(&j, "third", 1.0 / 3);
    wf_put_number(&j, "nan", (double)NAN);
    wf_put_open(&j, "flat", '{', true);
    wf_put_bool(&j, "yes", true);
    wf_put_count(&j, "n", 2);
    wf_put_close(&j, '}');
    wf_put_open(&j, "list", '[', true);
    wf_put_string(&j, NULL, "a");
    wf_put_string(&j, NULL, "b");
    wf_put_close(&j, ']');
    wf_put_open(&j, "empty", '[', false);
    wf_put_close(&j, ']');
    wf_put_close(&j, '}');
    assert_string_equal(out.data, "{\n"
                                  "  \"text\": \"a\\\"\\\\\\u000a\\u0001\\u007f\xC3\xA4\\ufffd\",\n"
                                  "  \"third\": 0.3333333333333333,\n"
                                  "  \"flat\": { \"yes\": true, \"n\": 2 },\n"
                                  "  \"list\": [\"a\", \"b\"],\n"
                                  "  \"empty\": []\n"
                                  "}\n");
    wf_text_free(&out);
    (void)state;
}

static void json_refuses_to_nest_without_end(void **state)
{
    struct wf_text out = {0};
    struct wf_json_put j = {.out = &out};
    for (int i = 0; i < WF_JSON_DEPTH_MOST - 1; i++)
        wf_put_open(&j, NULL, '[', true);
    assert_false(out.failed);
    wf_put_open(&j, NULL, '[', true);
    assert_true(out.failed);
    wf_text_free(&out);
    (void)state;
}

/* ---- Lists ----------------------------------------------------------------------------------- */

static const struct wf_item_kind *const kinds[] = {&wf_kind_malt, &wf_kind_hop, &wf_kind_yeast,
                                                   &wf_kind_beer};

static void fields_are_whole(void **state)
{
    for (size_t k = 0; k < COUNT_OF(kinds); k++) {
        const struct wf_field *fields = kinds[k]->fields;
        size_t listed = 0;
        assert_string_equal(fields[0].key, "id");
        assert_string_equal(fields[1].key, "name");
        for (const struct wf_field *f = fields; f->key; f++) {
            assert_non_null(f->label);
            listed += f->listed;
            assert_true(f->kind != WF_FIELD_SPAN || f->high > f->offset);
            assert_true(f->kind != WF_FIELD_SCORES || f->count > 0);
            for (const struct wf_field *other = fields; other < f; other++)
                assert_string_not_equal(other->key, f->key);
        }
        assert_in_range(listed, 3, WF_COLUMNS_MOST);
    }
    (void)state;
}

static const char *const places[] = {"magnum", "nugget", NULL};

static struct wf_hop sample_hop(void)
{
    struct wf_hop h = {.id = "galena",
                       .name = "Galena",
                       .origin = "USA",
                       .alpha = 0.125,
                       .alpha_low = 0.08,
                       .alpha_high = 0.149,
                       .six_month_loss = (double)NAN,
                       .bittering = true,
                       .substitutes = places,
                       .source =
                           "a page with a name that is long enough to need a second line, and "
                           "then some more of it",
                       .have_g = (double)INFINITY};
    h.character[WF_WORD_CITRUS - WF_MALT_WORD_COUNT] = 1;
    h.character[WF_WORD_WOODY - WF_MALT_WORD_COUNT] = 2;
    return h;
}

static void one_thing_is_told_line_by_line(void **state)
{
    struct wf_hop h = sample_hop();
    char *text = NULL;
    assert_int_equal(wf_report_item_text(&wf_kind_hop, &h, &plain, &text, NULL), WF_OK);
    assert_string_equal(
        text, "id                              galena\n"
              "name                            Galena\n"
              "origin                          USA\n"
              "alpha acid                      12.5 %\n"
              "usual alpha                     8..14.9 %\n"
              "for bittering                   yes\n"
              "for aroma                       no\n"
              "character, 0 to 5               citrus 1, woody 2\n"
              "in its place                    magnum, nugget\n"
              "source                          a page with a name that is long enough to need\n"
              "                                a second line, and then some more of it\n");
    wf_free(text);
    (void)state;
}

static void list_is_a_line_each(void **state)
{
    struct wf_hop h = sample_hop(), other = {.id = "x", .name = "X", .alpha_low = (double)NAN};
    const void *items[] = {&h, &other};
    char *text = NULL;
    assert_int_equal(wf_report_list_text(&wf_kind_hop, items, 2, &plain, &text, NULL), WF_OK);
    assert_string_equal(text, "id      name    origin  usual alpha\n"
                              "galena  Galena  USA       8..14.9 %\n"
                              "x       X                         -\n");
    wf_free(text);
    (void)state;
}

static void list_as_json(void **state)
{
    struct wf_hop h = sample_hop();
    const void *items[] = {&h};
    char *text = NULL;
    h.source = NULL;
    assert_int_equal(wf_report_list_json(&wf_kind_hop, items, 1, &text, NULL), WF_OK);
    assert_string_equal(text, "[\n"
                              "  {\n"
                              "    \"id\": \"galena\",\n"
                              "    \"name\": \"Galena\",\n"
                              "    \"origin\": \"USA\",\n"
                              "    \"alpha\": 0.125,\n"
                              "    \"alpha_range\": { \"low\": 0.08, \"high\": 0.149 },\n"
                              "    \"bittering\": true,\n"
                              "    \"aroma\": false,\n"
                              "    \"character\": { \"citrus\": 1, \"woody\": 2 },\n"
                              "    \"substitutes\": [\"magnum\", \"nugget\"]\n"
                              "  }\n"
                              "]\n");
    wf_free(text);
    (void)state;
}

static void lists_survive_want_of_memory(void **state)
{
    struct wf_hop h = sample_hop();
    const void *items[] = {&h};
    for (int way = 0; way < 3; way++) {
        enum wf_status status = WF_MEMORY;
        for (long n = 0; status != WF_OK; n++) {
            char *text = NULL;
            wf_alloc_fail_at(n);
            status = way == 0   ? wf_report_list_text(&wf_kind_hop, items, 1, &plain, &text, NULL)
                     : way == 1 ? wf_report_item_text(&wf_kind_hop, &h, &plain, &text, NULL)
                                : wf_report_list_json(&wf_kind_hop, items, 1, &text, NULL);
            wf_alloc_fail_at(-1);
            assert_true(status == WF_OK || (status == WF_MEMORY && !text));
            wf_free(text);
        }
    }
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_aligns_and_cuts),
        cmocka_unit_test(wrapped_text_keeps_its_words),
        cmocka_unit_test(json_is_indented_and_escaped),
        cmocka_unit_test(json_refuses_to_nest_without_end),
        cmocka_unit_test(fields_are_whole),
        cmocka_unit_test(one_thing_is_told_line_by_line),
        cmocka_unit_test(list_is_a_line_each),
        cmocka_unit_test(list_as_json),
        cmocka_unit_test(lists_survive_want_of_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
