/* Numbers and dates: text to figures and back, in any locale. */
#include "support/test.h"

#include "base/date.h"
#include "base/number.h"

#include <limits.h>
#include <locale.h>

static const struct {
    const char *text;
    size_t length; /* read; 0: refused */
    double value;
} number_row[] = {
    {"0", 1, 0.0},
    {"1.5", 3, 1.5},
    {"-1.5e-3x", 7, -1.5e-3},
    {"+2", 2, 2.0},
    {".5 oz", 2, 0.5},
    {"007", 3, 7.0},
    {"1..2", 1, 1.0},
    {"1.", 1, 1.0},
    {"1.050..1.060", 5, 1.050},
    {"5EBC", 1, 5.0},
    {"5e", 1, 5.0},
    {"5e+", 1, 5.0},
    {"5E2", 3, 500.0},
    {"1,5", 1, 1.0},
    {"9007199254740993", 16, 9007199254740992.0}, /* 2^53 + 1 ties to even */
    {"2.2250738585072014e-308", 23, 2.2250738585072014e-308},
    {"1e-400", 6, 0.0},
    {"1e400", 0, 0},
    {"-1e400", 0, 0},
    {"0x10", 0, 0},
    {"-0X1p3", 0, 0},
    {"inf", 0, 0},
    {"-infinity", 0, 0},
    {"nan", 0, 0},
    {"", 0, 0},
    {".", 0, 0},
    {"-", 0, 0},
    {"+-1", 0, 0},
    {" 1", 0, 0},
    {"e5", 0, 0},
};

static void numbers_are_read_as_written(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(number_row); i++) {
        const char *text = number_row[i].text, *end = NULL;
        double value = 77.0;
        bool good = wf_number_parse(text, &end, &value);
        if (good != (number_row[i].length > 0))
            fail_msg("\"%s\" was %s", text, good ? "accepted" : "refused");
        if (good)
            assert_int_equal(end - text, number_row[i].length);
        assert_close(value, good ? number_row[i].value : 77.0, 0.0);
    }
}

/* Doubles of every magnitude survive being written and read: a small generator of bit patterns
 * (xorshift, Marsaglia 2003) reaches them all. */
static void written_numbers_read_back_identical(void **state)
{
    (void)state;
    uint64_t bits = 88172645463325252u;
    for (int i = 0; i < 20000; i++) {
        char text[WF_NUMBER_TEXT_MAX];
        const char *end;
        double value, back;
        bits ^= bits << 13;
        bits ^= bits >> 7;
        bits ^= bits << 17;
        memcpy(&value, &bits, sizeof value);
        assert_true(wf_number_print(value, text) == isfinite(value));
        if (!isfinite(value))
            continue;
        assert_true(wf_number_parse(text, &end, &back));
        assert_int_equal(*end, '\0');
        assert_memory_equal(&back, &value, sizeof value);
    }
}

static void written_numbers_are_the_shortest(void **state)
{
    (void)state;
    char text[WF_NUMBER_TEXT_MAX];
    assert_true(wf_number_print(0.1, text));
    assert_string_equal(text, "0.1");
    assert_true(wf_number_print(1.0 / 3.0, text));
    assert_string_equal(text, "0.3333333333333333");
    assert_true(wf_number_print(-4.35, text));
    assert_string_equal(text, "-4.35");
    assert_false(wf_number_print((double)NAN, text));
    assert_false(wf_number_print((double)INFINITY, text));
}

/* A program that sets a locale with a decimal comma gets the same figures; and the library leaves
 * that locale as it found it. Skipped where the system has none of these locales. */
static void locale_with_a_comma_changes_nothing(void **state)
{
    (void)state;
    static const char *const names[] = {"de_DE.UTF-8", "de_DE", "fr_FR.UTF-8", "nl_NL.UTF-8"};
    const char *set = NULL;
    for (size_t i = 0; i < COUNT_OF(names) && !set; i++)
        set = setlocale(LC_NUMERIC, names[i]);
    if (!set)
        skip();
    char text[WF_NUMBER_TEXT_MAX], comma[8];
    const char *end;
    double value = 0.0;
    bool read = wf_number_parse("1.5", &end, &value), written = wf_number_print(2.5, text);
    snprintf(comma, sizeof comma, "%.1f", 3.5);
    setlocale(LC_NUMERIC, "C");
    assert_true(read && written);
    assert_close(value, 1.5, 0.0);
    assert_string_equal(text, "2.5");
    assert_string_equal(comma, "3,5");
}

static void snprintf_measures_and_cuts(void **state)
{
    (void)state;
    char text[5];
    assert_int_equal(wf_snprintf(NULL, 0, "%.3f", 1.0625), 5);
    assert_int_equal(wf_snprintf(text, sizeof text, "%.3f", 1.0625), 5);
    assert_string_equal(text, "1.06");
}

/* ---- Dates ----------------------------------------------------------------------------------- */

static const struct {
    const char *text;
    long days; /* -1: refused */
} date_row[] = {
    {"1970-01-01", 0},     {"1970-12-31", 364},
    {"1972-02-29", 789},   {"2000-02-29", 11016},
    {"2000-03-01", 11017}, {"2026-03-01", 20513},
    {"2038-01-19", 24855}, {"9999-12-31", 2932896},
    {"2100-02-28", 47540}, {"2100-03-01", 47541}, /* 2100 is no leap year */
    {"2100-02-29", -1},    {"2026-02-29", -1},
    {"2026-13-01", -1},    {"2026-00-01", -1},
    {"2026-01-00", -1},    {"2026-01-32", -1},
    {"2026-04-31", -1},    {"1969-12-31", -1},
    {"2026-3-1", -1},      {"2026-03-01 ", -1},
    {" 2026-03-01", -1},   {"2026/03/01", -1},
    {"26-03-01", -1},      {"", -1},
    {"2026-03", -1},       {"12026-03-01", -1},
    {"2026-03-0x", -1},    {"-026-03-01", -1},
};

static void dates_are_counted_from_1970(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(date_row); i++) {
        long days = -1;
        bool good = wf_date_parse(date_row[i].text, &days);
        if (good != (date_row[i].days >= 0) || days != date_row[i].days)
            fail_msg("\"%s\" gave %ld, want %ld", date_row[i].text, days, date_row[i].days);
    }
}

/* Every day of 1970..2199 follows the one before it. */
static void days_follow_each_other(void **state)
{
    (void)state;
    long expected = 0;
    for (int year = 1970; year < 2200; year++)
        for (int month = 1; month <= 12; month++)
            for (int day = 1; day <= 31; day++) {
                char text[48], again[WF_DATE_TEXT_MAX];
                long days;
                snprintf(text, sizeof text, "%04d-%02d-%02d", year, month, day);
                if (!wf_date_parse(text, &days))
                    continue;
                assert_int_equal(days, expected++);
                assert_string_equal(wf_date_print(days, again), text);
            }
    assert_int_equal(expected, 84006); /* 230 years, 56 of them leap years */
}

static void days_outside_the_calendar_are_not_printed(void **state)
{
    char text[WF_DATE_TEXT_MAX];
    (void)state;
    assert_string_equal(wf_date_print(-1, text), "");
    assert_string_equal(wf_date_print(2932896, text), "9999-12-31");
    assert_string_equal(wf_date_print(2932897, text), "");
    assert_string_equal(wf_date_print(LONG_MAX, text), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_as_written),
        cmocka_unit_test(written_numbers_read_back_identical),
        cmocka_unit_test(written_numbers_are_the_shortest),
        cmocka_unit_test(locale_with_a_comma_changes_nothing),
        cmocka_unit_test(snprintf_measures_and_cuts),
        cmocka_unit_test(dates_are_counted_from_1970),
        cmocka_unit_test(days_follow_each_other),
        cmocka_unit_test(days_outside_the_calendar_are_not_printed),
    };
    return cmocka_run_group_tests_name("number and date", tests, NULL, NULL) != 0;
}
