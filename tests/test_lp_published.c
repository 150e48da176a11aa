/* Linear and integer programs with printed optima: one test a file of published/lp. */
#include "support/test.h"

#include "support/lp_file.h"

#include <dirent.h>

#define FOLDER     WF_SOURCE_DIR "/tests/published/lp/"
#define FILES_MOST 64
#define NAME_SIZE  64

static bool is_whole(const struct wf_model *m)
{
    for (int j = 0; j < wf_model_columns(m); j++)
        if (wf_model_integer(m, j))
            return true;
    return false;
}

static void check_want(const struct lp_file *f, const struct wf_solution *s,
                       const struct lp_want *w)
{
    double got = 0;
    if (w->kind == LP_X)
        got = s->x[w->index];
    else if (w->kind == LP_ACTIVITY)
        got = wf_model_row_value(f->model, w->index, s->x);
    else if (w->kind == LP_DUAL)
        got = f->sign * s->dual[w->index];
    else
        got = f->sign * s->reduced[w->index];
    if (!(fabs(got - w->value) <= w->tolerance))
        print_error("kind %d, index %d:\n", (int)w->kind, w->index);
    assert_close(got, w->value, w->tolerance);
}

static void check_answer(const struct lp_file *f, const struct wf_solution *s)
{
    assert_int_equal(s->outcome, f->outcome);
    if (f->outcome != WF_OUTCOME_OPTIMAL) {
        assert_null(s->x);
        assert_true(isnan(s->value));
        return;
    }
    assert_close(f->sign * s->value, f->optimum, f->tolerance);
    assert_close(s->bound, s->value, 1e-6 * fmax(1, fabs(s->value)));
    for (size_t i = 0; i < f->count; i++)
        check_want(f, s, &f->want[i]);
}

/* The same once more, by an open linear program. */
static void check_kept_open(const struct lp_file *f)
{
    struct wf_lp *lp = NULL;
    struct wf_error e = {0};
    struct wf_lp_answer a = {0};
    assert_int_equal(wf_lp_open(f->model, &lp, &e), WF_OK);
    for (int again = 0; again < 2; again++) {
        assert_int_equal(wf_lp_solve(lp, HUGE_VAL, &a, &e), WF_OK);
        assert_int_equal(a.outcome, f->outcome);
        if (f->outcome == WF_OUTCOME_OPTIMAL)
            assert_close(f->sign * a.value, f->optimum, f->tolerance);
    }
    wf_lp_close(lp);
}

static void one_file(void **state)
{
    const char *name = *state;
    char path[sizeof FOLDER + NAME_SIZE];
    struct lp_file f;
    struct wf_solution s = {0};
    struct wf_error e = {0};
    snprintf(path, sizeof path, "%s%s", FOLDER, name);
    assert_true(lp_file_read(path, &f));
    bool whole = is_whole(f.model);
    struct wf_solver_options o = {.relax = !whole, .cutoff = nan("")};
    assert_int_equal(wf_solver_run(f.model, &o, &s, &e), WF_OK);
    check_answer(&f, &s);
    if (!whole)
        check_kept_open(&f);
    wf_solution_clear(&s);
    lp_file_free(&f);
}

int main(void)
{
    static char names[FILES_MOST][NAME_SIZE];
    static struct CMUnitTest tests[FILES_MOST];
    size_t count = 0;
    DIR *folder = opendir(FOLDER);
    if (!folder)
        return 1;
    for (const struct dirent *d = readdir(folder); d && count < FILES_MOST; d = readdir(folder)) {
        if (!strstr(d->d_name, ".txt") || strlen(d->d_name) >= NAME_SIZE)
            continue;
        memcpy(names[count], d->d_name, strlen(d->d_name) + 1);
        tests[count] = (struct CMUnitTest){
            .name = names[count], .test_func = one_file, .initial_state = names[count]};
        count++;
    }
    closedir(folder);
    return count < 20 || _cmocka_run_group_tests("published/lp", tests, count, NULL, NULL) != 0;
}
