/*
 * The sheet of a brew day in its forms: what files say is shown and never run, the HTML needs no
 * other file and closes what it opens, and memory that runs out is told.
 */
#include "support/test.h"

#include "base/alloc.h"
#include "wortfit/wortfit.h"

static const char hostile[] =
    "{\"recipe\": \"<script>alert(1)</script> & \\\"x\\\" 'y'\","
    " \"malts\": [{\"id\": \"pilsner-malt\", \"name\": \"<script>malt</script>\", \"weight\": \"4 "
    "kg\"}, {\"id\": \"lactose\", \"name\": \"\\\"><img src=x onerror=alert(2)>\", \"weight\": "
    "\"300 g\"}],"
    " \"hops\": [{\"id\": \"saaz\", \"name\": \"</svg><script>hop</script>\", \"weight\": \"60 g\","
    " \"at\": \"60 min\"}, {\"id\": \"saaz\", \"weight\": \"20 g\", \"at\": \"stand 20 min 80 C\"},"
    " {\"id\": \"saaz\", \"weight\": \"20 g\", \"at\": \"dry 4 days\"}],"
    " \"yeast\": {\"id\": \"german-lager\", \"name\": \"</p><b>yeast\"}}";

static struct wf_catalogue *catalogue;
static struct wf_recipe *recipe;
static struct wf_brewday *day;

static int plan_hostile(void **state)
{
    (void)state;
    struct wf_error e = {0};
    struct wf_brewday_options o;
    wf_brewday_usual(&o);
    if (wf_catalogue_read(&catalogue, &e) != WF_OK ||
        wf_recipe_parse("hostile", hostile, strlen(hostile), NULL, catalogue, &recipe, &e) !=
            WF_OK ||
        wf_brewday_plan(recipe, NULL, NULL, catalogue, &o, &day, &e) != WF_OK) {
        print_error("%s\n", e.text);
        return 1;
    }
    return 0;
}

static int free_all(void **state)
{
    (void)state;
    wf_brewday_free(day);
    wf_recipe_free(recipe);
    wf_catalogue_free(catalogue);
    return 0;
}

static char *html_of_day(void)
{
    struct wf_report_style style = {WF_UNITS_METRIC, false};
    struct wf_error e = {0};
    char *html = NULL;
    assert_int_equal(wf_report_sheet_html(day, &style, &html, &e), WF_OK);
    return html;
}

static size_t count_of(const char *text, const char *part)
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, part)); at += strlen(part))
        count++;
    return count;
}

static void names_are_shown_not_run(void **state)
{
    (void)state;
    char *html = html_of_day();
    assert_null(strstr(html, "<script"));
    assert_null(strstr(html, "<img"));
    assert_null(strstr(html, "<b>"));
    assert_non_null(strstr(html, "&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;x&quot; "
                                 "&#39;y&#39;"));
    assert_non_null(strstr(html, "&lt;script&gt;malt&lt;/script&gt;"));
    assert_non_null(strstr(html, "&quot;&gt;&lt;img src=x onerror=alert(2)&gt;"));
    wf_text_release(html);
}

static void the_file_needs_no_other(void **state)
{
    (void)state;
    static const char *const outside[] = {"http:",  "https:",  "//",   "url(",  "@import", "<link",
                                          "src=\"", "<iframe", "href", "xlink", "<object"};
    char *html = html_of_day();
    for (size_t i = 0; i < COUNT_OF(outside); i++)
        if (strstr(html, outside[i]))
            fail_msg("the sheet has %s", outside[i]);
    wf_text_release(html);
}

/* Elements without an end. */
static bool is_void(const char *name, size_t length)
{
    static const char *const names[] = {"meta", "input"};
    for (size_t i = 0; i < COUNT_OF(names); i++)
        if (strlen(names[i]) == length && memcmp(names[i], name, length) == 0)
            return true;
    return false;
}

static void what_is_opened_is_closed(void **state)
{
    (void)state;
    char *html = html_of_day();
    struct {
        const char *name;
        size_t length;
    } open[64];
    size_t depth = 0;
    const char *at = strstr(html, "<html");
    for (; at && (at = strchr(at, '<')); at++) {
        bool closes = at[1] == '/';
        const char *name = at + 1 + closes, *end = strchr(at, '>');
        size_t length = strcspn(name, " />");
        assert_non_null(end);
        if (closes) {
            assert_true(depth > 0);
            depth--;
            assert_int_equal(open[depth].length, length);
            assert_memory_equal(open[depth].name, name, length);
        } else if (end[-1] != '/' && !is_void(name, length)) {
            assert_true(depth < COUNT_OF(open));
            open[depth].name = name;
            open[depth++].length = length;
        }
    }
    assert_int_equal(depth, 0);
    wf_text_release(html);
}

static void the_file_says_what_it_is(void **state)
{
    (void)state;
    char *html = html_of_day();
    assert_true(strncmp(html, "<!DOCTYPE html>\n", 16) == 0);
    assert_int_equal(count_of(html, "lang=\"en-GB\""), 1);
    assert_int_equal(count_of(html, "<h1>"), 1);
    assert_int_equal(count_of(html, "<title>"), 1);
    assert_int_equal(count_of(html, "<svg "), 5);
    assert_int_equal(count_of(html, "role=\"img\" aria-label="), 5);
    assert_int_equal(count_of(html, "<figcaption>"), 5);
    assert_int_equal(count_of(html, "<table"), count_of(html, "<caption>"));
    assert_non_null(strstr(html, "width=device-width"));
    wf_text_release(html);
}

/* Both forms are of one plan: each line of the text is in the HTML, figure for figure. */
static void both_forms_say_the_same(void **state)
{
    (void)state;
    static const char *const said[] = {"1.04", "gluten", "milk", "Lager", "dextrose"};
    struct wf_report_style style = {WF_UNITS_METRIC, false};
    struct wf_error e = {0};
    char *text = NULL, *html = html_of_day();
    assert_int_equal(wf_report_sheet_text(day, &style, &text, &e), WF_OK);
    for (size_t i = 0; i < COUNT_OF(said); i++)
        assert_int_equal(strstr(text, said[i]) != NULL, strstr(html, said[i]) != NULL);
    assert_int_equal(count_of(text, "Caution  "), count_of(html, "<p class=\"caution\">"));
    assert_int_equal(count_of(text, "Read     "), count_of(html, "<p class=\"read\">"));
    wf_text_release(text);
    wf_text_release(html);
}

typedef enum wf_status writer(char **out, struct wf_error *e);

static enum wf_status write_text(char **out, struct wf_error *e)
{
    struct wf_report_style style = {WF_UNITS_US, true};
    return wf_report_sheet_text(day, &style, out, e);
}

static enum wf_status write_html(char **out, struct wf_error *e)
{
    struct wf_report_style style = {WF_UNITS_US, false};
    return wf_report_sheet_html(day, &style, out, e);
}

static enum wf_status write_json(char **out, struct wf_error *e)
{
    return wf_report_sheet_json(day, out, e);
}

static void failed_allocations_are_told(void **state)
{
    (void)state;
    static writer *const writers[] = {write_text, write_html, write_json};
    for (size_t i = 0; i < COUNT_OF(writers); i++) {
        for (long n = 0;; n++) {
            struct wf_error e = {0};
            char *out = NULL;
            wf_alloc_fail_at(n);
            enum wf_status status = writers[i](&out, &e);
            wf_alloc_fail_at(-1);
            if (status == WF_OK) {
                assert_true(n > 0);
                wf_text_release(out);
                break;
            }
            assert_int_equal(status, WF_MEMORY);
            assert_null(out);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_are_shown_not_run),  cmocka_unit_test(the_file_needs_no_other),
        cmocka_unit_test(what_is_opened_is_closed), cmocka_unit_test(the_file_says_what_it_is),
        cmocka_unit_test(both_forms_say_the_same),  cmocka_unit_test(failed_allocations_are_told),
    };
    return cmocka_run_group_tests(tests, plan_hostile, free_all);
}
