/* The nearest known word, and UTF-8. */
#include "support/test.h"

#include "base/suggest.h"
#include "base/utf8.h"

static const char *const words[] = {"colour", "bitterness", "batch", "boil",  "og",
                                    "hops",   "malts",      "yeast", "class", "character"};

static const struct {
    const char *typed, *meant; /* NULL: nothing is near enough */
} suggest_row[] = {
    {"colour", "colour"},
    {"color", "colour"},
    {"COLOR", "colour"},
    {"coluor", "colour"},
    {"bittrenes", "bitterness"},
    {"btach", "batch"},
    {"bol", "boil"},
    {"boild", "boil"},
    {"hop", "hops"},
    {"caracter", "character"},
    {"malt", "malts"},
    {"yaest", "yeast"},
    {"oog", "og"},
    {"gravity", NULL},
    {"xy", NULL},
    {"", NULL},
    {"temperature", NULL},
    {"z", NULL},
    {"clue", NULL},
    {"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", NULL},
};

static void nearest_word_is_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(suggest_row); i++) {
        int at = wf_suggest(suggest_row[i].typed, words, COUNT_OF(words));
        const char *got = at < 0 ? "nothing" : words[at];
        const char *want = suggest_row[i].meant ? suggest_row[i].meant : "nothing";
        if (strcmp(got, want) != 0)
            fail_msg("\"%s\" suggests %s, want %s", suggest_row[i].typed, got, want);
    }
    assert_int_equal(wf_suggest("malts", words, 0), -1);
    static const char *const equals[] = {"malt", "salt"};
    assert_int_equal(wf_suggest("alt", equals, 2), 0); /* of equals the first */
}

/* One wrong, missing, doubled or swapped letter of any word of four letters or more still finds
 * it. */
static void one_slip_is_forgiven(void **state)
{
    (void)state;
    for (size_t w = 0; w < COUNT_OF(words); w++) {
        size_t n = strlen(words[w]);
        for (size_t i = 0; n >= 4 && i + 1 < n; i++) {
            char slip[4][32] = {{0}};
            for (int k = 0; k < 4; k++)
                memcpy(slip[k], words[w], n);
            slip[0][i] = '#';
            memmove(slip[1] + i, slip[1] + i + 1, n - i);
            memmove(slip[2] + i + 1, slip[2] + i, n - i + 1);
            slip[3][i] = words[w][i + 1];
            slip[3][i + 1] = words[w][i];
            for (int k = 0; k < 4; k++)
                if (wf_suggest(slip[k], words, COUNT_OF(words)) != (int)w)
                    fail_msg("\"%s\" does not find %s", slip[k], words[w]);
        }
    }
}

/* ---- UTF-8: examples after table 3-7 of the Unicode Standard --------------------------------- */

static const struct {
    const char *text;
    size_t length, good, points; /* bytes, bytes before the first bad one, code points in them */
} utf8_row[] = {
    {"plain", 5, 5, 5},
    {"K\xC3\xB6lsch", 7, 7, 6},
    {"\xE2\x82\xAC", 3, 3, 1},
    {"\xF0\x9F\x8D\xBA", 4, 4, 1},
    {"\xF4\x8F\xBF\xBF", 4, 4, 1}, /* U+10FFFF */
    {"\xEF\xBF\xBF", 3, 3, 1},
    {"", 0, 0, 0},
    {"a\0b", 3, 3, 3},
    {"ab\x80", 3, 2, 2},           /* a tail alone */
    {"\xC3\xB6", 1, 0, 0},         /* its tail is past the end */
    {"ab\xC3", 3, 2, 2},           /* cut */
    {"ab\xE2\x82", 4, 2, 2},       /* cut */
    {"ab\xF0\x9F\x8D", 5, 2, 2},   /* cut */
    {"\xC0\xAF", 2, 0, 0},         /* overlong "/" */
    {"\xC1\xBF", 2, 0, 0},         /* overlong */
    {"\xE0\x80\xAF", 3, 0, 0},     /* overlong */
    {"\xE0\x9F\xBF", 3, 0, 0},     /* overlong */
    {"\xF0\x8F\xBF\xBF", 4, 0, 0}, /* overlong */
    {"\xED\xA0\x80", 3, 0, 0},     /* surrogate U+D800 */
    {"\xED\xBF\xBF", 3, 0, 0},     /* surrogate U+DFFF */
    {"\xF4\x90\x80\x80", 4, 0, 0}, /* U+110000 */
    {"\xF5\x80\x80\x80", 4, 0, 0},
    {"\xFF", 1, 0, 0},
    {"x\xE2\x28\xA1", 4, 1, 1},     /* wrong second byte */
    {"x\xE2\x82\x28", 4, 1, 1},     /* wrong third byte */
    {"x\xF0\x9F\x8D\x28", 5, 1, 1}, /* wrong fourth byte */
};

static void utf8_is_checked_and_counted(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(utf8_row); i++) {
        size_t good = wf_utf8_first_bad(utf8_row[i].text, utf8_row[i].length);
        size_t points = wf_utf8_count(utf8_row[i].text, good);
        if (good != utf8_row[i].good || points != utf8_row[i].points)
            fail_msg("row %zu: %zu good bytes and %zu points", i, good, points);
    }
}

/* Every code point that has a well-formed sequence is taken, and its length is right. */
static void every_code_point_is_known(void **state)
{
    (void)state;
    size_t taken = 0;
    for (unsigned long a = 0; a < 0x110000; a++) {
        unsigned char s[4];
        size_t n = a < 0x80 ? 1 : a < 0x800 ? 2 : a < 0x10000 ? 3 : 4;
        static const unsigned char lead[] = {0, 0, 0xC0, 0xE0, 0xF0};
        unsigned long rest = a;
        for (size_t k = n; k-- > 1; rest >>= 6)
            s[k] = (unsigned char)(0x80 | (rest & 0x3F));
        s[0] = (unsigned char)(lead[n] | rest);
        size_t got = wf_utf8_sequence(s, n);
        bool surrogate = a >= 0xD800 && a <= 0xDFFF;
        if (got != (surrogate ? 0 : n))
            fail_msg("U+%04lX: length %zu", a, got);
        taken += got > 0;
    }
    assert_int_equal(taken, 0x110000 - 0x800);
}

static const struct {
    const char *text, *shown;
    size_t size;
} safe_row[] = {
    {"4.5 kg", "4.5 kg", 32},
    {"K\xC3\xB6lsch", "K\xC3\xB6lsch", 32},
    {"a\x1B[31mred", "a?[31mred", 32},
    {"tab\there\n", "tab?here?", 32},
    {"\x7F\xC2\x85", "??", 32}, /* DEL, next line */
    {"a\xE2\x80\xAE"
     "b",
     "a?b", 32}, /* right-to-left override */
    {"\xD8\x9C|\xE2\x81\xA0|\xE2\x81\xAF", "?|?|?",
     32},                                         /* Arabic letter mark, word joiner, digits */
    {"\xEF\xBF\xB9|\xF3\xA0\x81\x81", "?|?", 32}, /* an annotation, a tag */
    {"\xD8\x9B|\xE2\x81\x9F", "\xD8\x9B|\xE2\x81\x9F", 32}, /* their neighbours */
    {"bad \xFF\xC3", "bad ??", 32},
    {"0123456789", "0123456789", 11}, /* fits to the byte */
    {"0123456789", "012345...", 10},
    {"K\xC3\xB6\xC3\xB6\xC3\xB6", "K\xC3\xB6...", 7}, /* never through a character */
    {"abcdef", "...", 4},
    {"abcdef", "..", 3},
    {"abcdef", "", 1},
};

static void text_is_made_safe_for_a_terminal(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT_OF(safe_row); i++) {
        char out[64];
        const char *text = safe_row[i].text;
        memset(out, '#', sizeof out);
        assert_string_equal(wf_utf8_safe(text, strlen(text), out, safe_row[i].size),
                            safe_row[i].shown);
        assert_int_equal(out[safe_row[i].size], '#');
        assert_true(strlen(out) < safe_row[i].size);
    }
    char out[8];
    assert_string_equal(wf_utf8_safe("a\0b", 3, out, sizeof out), "a?b");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nearest_word_is_named),
        cmocka_unit_test(one_slip_is_forgiven),
        cmocka_unit_test(utf8_is_checked_and_counted),
        cmocka_unit_test(every_code_point_is_known),
        cmocka_unit_test(text_is_made_safe_for_a_terminal),
    };
    return cmocka_run_group_tests_name("words", tests, NULL, NULL) != 0;
}
