/* Brew logs that are wrong: one case a folder, with every message. */
#include "support/golden.h"

#include "wortfit/brew.h"

static struct wf_catalogue *catalogue;

static void each_slip_is_told_with_its_line(void **state)
{
    static struct wf_error e;
    const char *path = *state;
    struct wf_log *log;
    size_t length;
    char *text = golden_read(path, "log.jsonl", &length);
    assert_non_null(text);
    wf_error_clear(&e);
    enum wf_status status = wf_log_parse("log.jsonl", text, length, catalogue, &log, &e);
    free(text);
    assert_int_equal(status, WF_BAD_INPUT);
    assert_null(log);
    assert_true(e.count > 0);
    golden_compare(path, "error", e.text);
}

int main(void)
{
    if (wf_catalogue_read(&catalogue, NULL) != WF_OK)
        return 1;
    int failed = golden_run("log_invalid", each_slip_is_told_with_its_line);
    wf_catalogue_free(catalogue);
    return failed;
}
