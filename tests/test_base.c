/* Statuses, allocation that fails on demand, arenas and growing text. */
#include "support/test.h"

#include "base/alloc.h"
#include "base/text.h"
#include "wortfit/status.h"

/* ---- Status ---------------------------------------------------------------------------------- */

static void every_status_has_text_and_exit_code(void **state)
{
    (void)state;
    for (int s = 0; s < WF_STATUS_COUNT; s++) {
        enum wf_status status = (enum wf_status)s;
        assert_non_null(wf_status_text(status));
        assert_true(strlen(wf_status_text(status)) > 0);
        assert_in_range(wf_status_exit(status), 0, 4);
        assert_true((status == WF_OK) == (wf_status_exit(status) == 0));
        for (int t = 0; t < s; t++)
            assert_string_not_equal(wf_status_text(status), wf_status_text((enum wf_status)t));
    }
    assert_int_equal(wf_status_exit(WF_STATUS_COUNT), wf_status_exit(WF_INTERNAL));
}

static void first_error_wins_and_all_are_told(void **state)
{
    (void)state;
    struct wf_error e = {0};
    assert_int_equal(wf_error_add(&e, WF_BAD_INPUT, "%s is %d", "this", 1), WF_BAD_INPUT);
    assert_int_equal(wf_error_add(&e, WF_FILE, "that is %.1f", 2.5), WF_FILE);
    assert_int_equal(e.status, WF_BAD_INPUT);
    assert_int_equal(e.count, 2);
    assert_int_equal(e.hidden, 0);
    assert_string_equal(e.text, "this is 1\nthat is 2.5");
    wf_error_clear(&e);
    assert_int_equal(e.count, 0);
    assert_string_equal(e.text, "");
    wf_error_clear(NULL);
    assert_int_equal(wf_error_add(NULL, WF_MEMORY, "nobody listens"), WF_MEMORY);
}

/* What a message quotes begins no message; a line of a file under it, and messages passed on, stay.
 */
static void quoted_text_begins_no_message(void **state)
{
    (void)state;
    struct wf_error e = {0}, again = {0};
    wf_error_add(&e, WF_FILE, "%s: missing", "a\nwortfit: all is well");
    wf_error_add(&e, WF_FILE, "wrong%s%s", "\n", "    { \"og\" }\n      ^");
    wf_error_add(&again, WF_FILE, "%s", e.text);
    assert_string_equal(e.text, "a?wortfit: all is well: missing\nwrong\n    { \"og\" }\n      ^");
    assert_string_equal(again.text, e.text);
}

/* Every message in the text is whole, whatever does not fit is counted. */
static void messages_that_do_not_fit_are_counted(void **state)
{
    (void)state;
    struct wf_error e = {0};
    char line[101];
    memset(line, 'x', sizeof line - 1);
    line[sizeof line - 1] = '\0';
    for (int i = 0; i < 200; i++)
        assert_int_equal(wf_error_add(&e, WF_BAD_INPUT, "%s", line), WF_BAD_INPUT);
    assert_int_equal(e.count, 200);
    size_t shown = e.count - e.hidden;
    assert_int_equal(shown, WF_ERROR_TEXT_MAX / 101); /* 100 letters and a newline or NUL each */
    assert_int_equal(strlen(e.text), shown * 101 - 1);
    wf_error_add(&e, WF_BAD_INPUT, "short"); /* stays in order: nothing after a hidden one */
    assert_null(strstr(e.text, "short"));
}

static void one_message_of_exactly_the_room_fits(void **state)
{
    (void)state;
    struct wf_error e = {0};
    char *line = malloc(WF_ERROR_TEXT_MAX + 1);
    memset(line, 'y', WF_ERROR_TEXT_MAX);
    line[WF_ERROR_TEXT_MAX] = '\0';
    wf_error_add(&e, WF_FILE, "%s", line);
    assert_int_equal(e.hidden, 1);
    assert_string_equal(e.text, "");
    wf_error_clear(&e);
    wf_error_add(&e, WF_FILE, "%s", line + 1);
    assert_int_equal(e.hidden, 0);
    assert_int_equal(strlen(e.text), WF_ERROR_TEXT_MAX - 1);
    free(line);
}

/* ---- Allocation ------------------------------------------------------------------------------ */

static void allocation_is_zeroed_and_counted(void **state)
{
    (void)state;
    wf_alloc_fail_at(-1);
    unsigned char *p = wf_alloc(100, 3);
    assert_non_null(p);
    for (size_t i = 0; i < 300; i++)
        assert_int_equal(p[i], 0);
    p = wf_realloc(p, 1000, 1);
    assert_non_null(p);
    assert_int_equal(wf_alloc_count(), 2);
    wf_free(p);
    wf_free(NULL);
    void *nothing = wf_alloc(0, 8);
    assert_non_null(nothing);
    wf_free(nothing);
}

static void overflow_is_refused(void **state)
{
    (void)state;
    assert_null(wf_alloc(SIZE_MAX, 2));
    assert_null(wf_alloc(SIZE_MAX / 8 + 1, 8));
    assert_null(wf_realloc(NULL, SIZE_MAX, SIZE_MAX));
    struct wf_arena *a = wf_arena_new();
    assert_null(wf_arena_alloc(a, SIZE_MAX, 1));
    assert_null(wf_arena_alloc(a, SIZE_MAX / 4, 8));
    assert_null(wf_arena_copy(a, "x", SIZE_MAX));
    wf_arena_free(a);
}

static void nth_allocation_fails_and_only_it(void **state)
{
    (void)state;
    void *p[5];
    wf_alloc_fail_at(2);
    for (size_t i = 0; i < 5; i++)
        p[i] = wf_alloc(1, 1);
    for (size_t i = 0; i < 5; i++) {
        assert_true((p[i] == NULL) == (i == 2));
        wf_free(p[i]);
    }
    assert_int_equal(wf_alloc_count(), 5);
    wf_alloc_fail_at(-1);
    assert_int_equal(wf_alloc_count(), 0);
}

/* ---- Arenas ---------------------------------------------------------------------------------- */

static void arena_gives_aligned_zeroed_separate_room(void **state)
{
    (void)state;
    struct wf_arena *a = wf_arena_new();
    unsigned char *piece[300];
    for (size_t i = 0; i < COUNT_OF(piece); i++) {
        piece[i] = wf_arena_alloc(a, i * 7 + 1, 1); /* up to 2094 bytes: crosses blocks */
        assert_non_null(piece[i]);
        assert_int_equal((uintptr_t)piece[i] % _Alignof(max_align_t), 0);
        for (size_t j = 0; j < i * 7 + 1; j++)
            assert_int_equal(piece[i][j], 0);
        memset(piece[i], (int)(i % 251) + 1, i * 7 + 1);
    }
    for (size_t i = 0; i < COUNT_OF(piece); i++)
        for (size_t j = 0; j < i * 7 + 1; j++)
            assert_int_equal(piece[i][j], i % 251 + 1);
    unsigned char *large = wf_arena_alloc(a, 1024 * 1024, 1);
    assert_non_null(large);
    memset(large, 1, 1024 * 1024);
    wf_arena_free(a);
    wf_arena_free(NULL);
}

/* Blocks double, so that a large file costs few allocations. */
static void arena_grows_by_doubling(void **state)
{
    (void)state;
    wf_alloc_fail_at(-1);
    struct wf_arena *a = wf_arena_new();
    for (int i = 0; i < 65536; i++)
        assert_non_null(wf_arena_alloc(a, 1, 16)); /* 1 MiB in all */
    assert_in_range(wf_alloc_count(), 1, 12);
    wf_arena_free(a);
}

static void arena_copies_and_prints(void **state)
{
    (void)state;
    struct wf_arena *a = wf_arena_new();
    assert_string_equal(wf_arena_copy(a, "munich malt", 6), "munich");
    assert_string_equal(wf_arena_copy(a, NULL, 0), "");
    assert_string_equal(wf_arena_string(a, "hop"), "hop");
    assert_null(wf_arena_string(a, NULL));
    assert_string_equal(wf_arena_print(a, "%s[%d].%.2f", "malts", 3, 0.5), "malts[3].0.50");
    wf_arena_free(a);
}

static void arena_survives_every_failed_allocation(void **state)
{
    (void)state;
    for (long n = 0;; n++) {
        wf_alloc_fail_at(n);
        struct wf_arena *a = wf_arena_new();
        size_t failed = a ? 0 : 1;
        for (size_t i = 0; a && i < 20; i++)
            if (!wf_arena_alloc(a, 1000, 1) || !wf_arena_print(a, "%d", (int)i))
                failed++;
        long made = wf_alloc_count();
        wf_alloc_fail_at(-1);
        wf_arena_free(a);
        assert_int_equal(failed, n < made ? 1 : 0);
        if (failed == 0)
            break;
    }
}

/* ---- Text ------------------------------------------------------------------------------------ */

static void text_grows(void **state)
{
    (void)state;
    struct wf_text t = {0};
    for (int i = 0; i < 1000; i++)
        wf_text_add(&t, "%03d,", i);
    wf_text_append(&t, "end\0hidden", 10);
    assert_false(t.failed);
    assert_int_equal(t.length, 4010);
    assert_memory_equal(t.data + 4 * 789, "789,", 4);
    assert_string_equal(t.data + 4000, "end");
    assert_int_equal(t.data[t.length], '\0');
    wf_text_free(&t);
    assert_null(t.data);
    assert_int_equal(t.length, 0);
}

/* Room is doubled, so that n bytes cost about log2(n) allocations. */
static void text_grows_by_doubling(void **state)
{
    (void)state;
    struct wf_text t = {0};
    wf_alloc_fail_at(-1);
    for (int i = 0; i < 100000; i++)
        wf_text_append(&t, "x", 1);
    assert_in_range(wf_alloc_count(), 1, 12);
    wf_text_free(&t);
}

/* A failure in the middle is not healed by a later success: the text would lack a piece. */
static void text_failure_is_sticky(void **state)
{
    (void)state;
    struct wf_text t = {0};
    wf_text_add(&t, "kept");
    wf_alloc_fail_at(0);
    wf_text_add(&t, "%500d", 1);
    wf_alloc_fail_at(-1);
    wf_text_add(&t, "lost");
    assert_true(t.failed);
    assert_string_equal(t.data, "kept");
    wf_text_free(&t);
    assert_false(t.failed);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_status_has_text_and_exit_code),
        cmocka_unit_test(first_error_wins_and_all_are_told),
        cmocka_unit_test(quoted_text_begins_no_message),
        cmocka_unit_test(messages_that_do_not_fit_are_counted),
        cmocka_unit_test(one_message_of_exactly_the_room_fits),
        cmocka_unit_test(allocation_is_zeroed_and_counted),
        cmocka_unit_test(overflow_is_refused),
        cmocka_unit_test(nth_allocation_fails_and_only_it),
        cmocka_unit_test(arena_gives_aligned_zeroed_separate_room),
        cmocka_unit_test(arena_grows_by_doubling),
        cmocka_unit_test(arena_copies_and_prints),
        cmocka_unit_test(arena_survives_every_failed_allocation),
        cmocka_unit_test(text_grows),
        cmocka_unit_test(text_grows_by_doubling),
        cmocka_unit_test(text_failure_is_sticky),
    };
    return cmocka_run_group_tests_name("base", tests, NULL, NULL) != 0;
}
