/* A model as LP text. */
#include "support/test.h"

#include "base/alloc.h"
#include "model/model.h"

static const char all_kinds[] = "\\ a title\n"
                                "\\ columns:\n"
                                "\\   x0  pale malt, \"2-row\"\n"
                                "\\   x1  a ? b\n"
                                "\\   x2  \n"
                                "\\   x3  fixed\n"
                                "\\   x4  used\n"
                                "\\   x5  steps\n"
                                "\\ rows:\n"
                                "\\   r0  range\n"
                                "\\   r1  equal\n"
                                "\\   r2  least\n"
                                "\\   r3  most, empty\n"
                                "\\   r4  asks nothing\n"
                                "Minimize\n"
                                " cost: + 0.1 x0 - 2 x1 + 0 x2 + 0.3333333333333333 x3 + 4.5 one\n"
                                "Subject To\n"
                                " r0lo: + 1 x0 - 1e-05 x3 >= -1.5\n"
                                " r0hi: + 1 x0 - 1e-05 x3 <= 2\n"
                                " r1: + 1 x1 + 1 x4 + 1 x5 = 3\n"
                                " r2: + 0.1 x0 >= 0\n"
                                " r3: + 0 x0 <= 7\n"
                                "Bounds\n"
                                " 0 <= x0 <= +inf\n"
                                " x1 free\n"
                                " -inf <= x2 <= -3\n"
                                " x3 = 0.1\n"
                                " -2 <= x5 <= 7\n"
                                " one = 1\n"
                                "Generals\n"
                                " x5\n"
                                "Binaries\n"
                                " x4\n"
                                "End\n";

static struct wf_model *every_kind(void)
{
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, HUGE_VAL, 0.1, false, "pale malt, \"2-row\"");
    wf_model_column(m, -HUGE_VAL, HUGE_VAL, -2, false, "a \n b");
    wf_model_column(m, -HUGE_VAL, -3, 0, false, "");
    wf_model_column(m, 0.1, 0.1, 1.0 / 3, false, "fixed");
    wf_model_column(m, 0, 1, 0, true, "used");
    wf_model_column(m, -2, 7, 0, true, "steps");
    int row = wf_model_row(m, -1.5, 2, "range");
    wf_model_term(m, row, 0, 1);
    wf_model_term(m, row, 3, -1e-5);
    row = wf_model_row(m, 3, 3, "equal");
    wf_model_term(m, row, 5, 1);
    wf_model_term(m, row, 1, 1);
    wf_model_term(m, row, 4, 1);
    row = wf_model_row(m, 0, HUGE_VAL, "least");
    wf_model_term(m, row, 0, 0.1);
    wf_model_row(m, -HUGE_VAL, 7, "most, empty");
    wf_model_row(m, -HUGE_VAL, HUGE_VAL, "asks nothing");
    wf_model_set_offset(m, 4.5);
    return m;
}

static void text_of_all_kinds(void **state)
{
    (void)state;
    struct wf_model *m = every_kind();
    char *text = NULL;
    assert_int_equal(wf_model_write_lp(m, "a title", &text, NULL), WF_OK);
    assert_string_equal(text, all_kinds);
    wf_free(text);
    wf_model_free(m);
}

static void no_line_is_long(void **state)
{
    (void)state;
    char label[1000];
    memset(label, 'k', sizeof label - 1);
    label[sizeof label - 1] = '\0';
    struct wf_model *m = wf_model_new();
    int row = wf_model_row(m, 0, 1.0 / 3, label);
    for (int j = 0; j < 200; j++)
        wf_model_term(m, row, wf_model_column(m, 0, 1e6, 1e-7 / (j + 3), true, label),
                      1e5 / (j + 7));
    char *text = NULL;
    assert_int_equal(wf_model_write_lp(m, label, &text, NULL), WF_OK);
    size_t longest = 0;
    for (const char *p = text; *p != '\0'; p += strcspn(p, "\n") + 1)
        longest = strcspn(p, "\n") > longest ? strcspn(p, "\n") : longest;
    assert_in_range(longest, 60, 120);
    wf_free(text);
    wf_model_free(m);
}

static void writing_survives_no_memory(void **state)
{
    (void)state;
    struct wf_model *m = every_kind();
    enum wf_status s = WF_MEMORY;
    char *text = NULL;
    for (long n = 0; s == WF_MEMORY; n++) {
        struct wf_error e = {0};
        wf_alloc_fail_at(n);
        s = wf_model_write_lp(m, "t", &text, &e);
        wf_alloc_fail_at(-1);
        assert_int_equal(e.status, s);
        assert_true((text != NULL) == (s == WF_OK));
    }
    assert_int_equal(s, WF_OK);
    wf_free(text);
    wf_model_free(m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_of_all_kinds),
        cmocka_unit_test(no_line_is_long),
        cmocka_unit_test(writing_survives_no_memory),
    };
    return cmocka_run_group_tests_name("model as text", tests, NULL, NULL) != 0;
}
