/* What is left of an amount, and what a brewer's words become. */
#include "support/test.h"

#include "base/text.h"
#include "pantry/ingredient.h"
#include "pantry/stock_parts.h"

#include <stdbool.h>

/* ---- Amounts --------------------------------------------------------------------------------- */

/* By hand: 1 lb = 16 oz = 453.59237 g. `left` NULL: refused, and why. */
static const struct {
    enum wf_dimension dimension;
    const char *there, *taken, *left, *why;
} left_row[] = {
    {WF_DIM_MASS, "14.2 kg", "4.2 kg", "10 kg", NULL},
    {WF_DIM_MASS, "14.2 kg", "350 g", "13.85 kg", NULL},
    {WF_DIM_MASS, "85 g", "30 g", "55 g", NULL},
    {WF_DIM_MASS, "85g", "0.5 g", "84.5 g", NULL},
    {WF_DIM_MASS, "0.3 kg", "0.1 kg", "0.2 kg", NULL}, /* 0.19999999999999998 in doubles */
    {WF_DIM_MASS, "1 kg", "1 mg", "0.999999 kg", NULL},
    {WF_DIM_MASS, "900 g", "900 g", "0 g", NULL},
    {WF_DIM_MASS, "0.9 kg", "900 g", "0 kg", NULL},
    {WF_DIM_MASS, "0 g", "0 g", "0 g", NULL},
    {WF_DIM_MASS, "1 lb", "4 oz", "0.75 lb", NULL},
    {WF_DIM_MASS, "10 lb", "100 g", "9.779538 lb", NULL}, /* 10 - 100 / 453.59237 = 9.7795378 */
    {WF_DIM_MASS, "8 oz", "1.5 oz", "6.5 oz", NULL},
    {WF_DIM_MASS, "9 lb 9.5 oz", "8 oz", "9 lb 1.5 oz", NULL},
    {WF_DIM_MASS, "9 lb 9.5 oz", "9.5 oz", "9 lb", NULL},
    {WF_DIM_MASS, "9 lb 4 oz", "8 oz", "8 lb 12 oz", NULL},
    {WF_DIM_MASS, "1 lb 4 oz", "8 oz", "0.75 lb", NULL},
    {WF_DIM_MASS, "1 kg 200 g", "300 g", "0.9 kg", NULL},
    {WF_DIM_MASS, "0.0253 t", "300 g", "0.025 t", NULL},
    {WF_DIM_NUMBER, "2", "1", "1", NULL},
    {WF_DIM_NUMBER, "2", "0.5", "1.5", NULL},
    {WF_DIM_NUMBER, "1", "1", "0", NULL},
    {WF_DIM_MASS, "900 g", "4.2 kg", NULL, "4.2 kg is more than is there: 900 g"},
    {WF_DIM_MASS, "900 g", "900.001 g", NULL, "900.001 g is more than is there: 900 g"},
    {WF_DIM_NUMBER, "1", "2", NULL, "2 is more than is there: 1"},
    {WF_DIM_MASS, "900 g", "4", NULL,
     "read \"4\", which needs a unit: write \"4 kg\", \"4 g\", \"4 lb\" or \"4 oz\""},
    {WF_DIM_MASS, "900 g", "-4 g", NULL,
     "read \"-4 g\", which goes below zero, which a weight "
     "cannot"},
    {WF_DIM_MASS, "900 g", "4 L", NULL, "read \"4 L\", which"},
    {WF_DIM_NUMBER, "2", "1 pack", NULL, "read \"1 pack\", which"},
};

static void what_is_left_is_exact(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(left_row); i++) {
        char left[WF_STOCK_AMOUNT_MAX] = "", why[WF_REASON_MAX] = "";
        bool good =
            wf_stock_left(left_row[i].dimension, left_row[i].there, left_row[i].taken, left, why);
        const char *got = good ? left : why;
        const char *want = left_row[i].left ? left_row[i].left : left_row[i].why;
        bool same =
            left_row[i].left ? strcmp(got, want) == 0 : strncmp(got, want, strlen(want)) == 0;
        if (good != (left_row[i].left != NULL) || !same)
            fail_msg("%s less %s: \"%s\", not \"%s\"", left_row[i].there, left_row[i].taken, got,
                     want);
    }
}

/* A gram a time, a thousand times: nothing is lost in rounding. */
static void many_small_takes_add_up(void **state)
{
    static const struct {
        const char *start, *end;
    } rows[] = {{"5 kg", "4 kg"}, {"1200 g", "200 g"}, {"1.2345 kg", "0.2345 kg"}};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char amount[WF_STOCK_AMOUNT_MAX], left[WF_STOCK_AMOUNT_MAX], why[WF_REASON_MAX];
        snprintf(amount, sizeof amount, "%s", rows[i].start);
        for (int n = 0; n < 1000; n++) {
            assert_true(wf_stock_left(WF_DIM_MASS, amount, "1 g", left, why));
            memcpy(amount, left, sizeof amount);
        }
        assert_string_equal(amount, rows[i].end);
    }
}

/* ---- Values ---------------------------------------------------------------------------------- */

static const struct {
    enum wf_kind kind;
    const char *key, *text, *json; /* json NULL: refused */
} value_row[] = {
    {WF_KIND_MALT, "have", "4.5 kg", "\"4.5 kg\""},
    {WF_KIND_MALT, "have", "4.5", "\"4.5\""}, /* the reader says that a unit is missing */
    {WF_KIND_YEAST, "have", "2", "2"},
    {WF_KIND_YEAST, "have", "0.50", "0.5"},
    {WF_KIND_YEAST, "have", "two", "\"two\""},
    {WF_KIND_YEAST, "price", "4.50", "\"4.50\""},
    {WF_KIND_YEAST, "attenuation", "75..78 %", "\"75..78 %\""},
    {WF_KIND_YEAST, "eats_dextrins", "yes", "true"},
    {WF_KIND_MALT, "mash", "false", "false"},
    {WF_KIND_MALT, "mash", "no", "false"},
    {WF_KIND_MALT, "mash", "maybe", NULL},
    {WF_KIND_MALT, "note", "a \"b\" \\ c", "\"a \\\"b\\\" \\\\ c\""},
    {WF_KIND_MALT, "allergens", "gluten", "[\"gluten\"]"},
    {WF_KIND_MALT, "allergens", " gluten ;milk,", "[\"gluten\", \"milk\"]"},
    {WF_KIND_HOP, "substitutes", "citra, mosaic", "[\"citra\", \"mosaic\"]"},
    {WF_KIND_MALT, "character", "caramel 4, body  1", "{ \"caramel\": 4, \"body\": 1 }"},
    {WF_KIND_MALT, "character", "caramel", NULL},
    {WF_KIND_HOP, "oil", "1.2", "1.2"},
    {WF_KIND_HOP, "packed", "2026-03-01", "\"2026-03-01\""},
};

static void words_become_json(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(value_row); i++) {
        struct wf_text out = {0};
        char why[WF_REASON_MAX] = "";
        const struct wf_json_field *row = wf_stock_row(value_row[i].kind, value_row[i].key);
        assert_non_null(row);
        bool good = wf_stock_value(row, value_row[i].text, &out, why);
        if (good != (value_row[i].json != NULL) || (good && strcmp(out.data, value_row[i].json)))
            fail_msg("%s %s: %s", value_row[i].key, value_row[i].text, good ? out.data : why);
        assert_true(good || why[0]);
        wf_text_free(&out);
    }
}

static void keys_of_all_kinds_are_known_once(void **state)
{
    const char *keys[WF_STOCK_KEYS_MOST];
    size_t count = wf_stock_keys(keys), rows = 0;
    (void)state;
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(keys[i], keys[k]);
    for (int kind = 0; kind < WF_KIND_COUNT; kind++)
        for (size_t i = 0; i < count; i++)
            rows += wf_stock_row((enum wf_kind)kind, keys[i]) != NULL;
    assert_int_equal(rows, wf_malt_table.field_count + wf_hop_table.field_count +
                               wf_yeast_table.field_count);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_left_is_exact),
        cmocka_unit_test(many_small_takes_add_up),
        cmocka_unit_test(words_become_json),
        cmocka_unit_test(keys_of_all_kinds_are_known_once),
    };
    return cmocka_run_group_tests_name("stock_value", tests, NULL, NULL) != 0;
}
