/*
 * The laws of brewing against what others have printed. The check points are rows of
 * tests/published/: law, inputs, what the source prints, and how far from it the law may be, with
 * the reason. Each row is a test of its own.
 */
#include "support/test.h"

#include "support/printed_laws.h"
#include "support/rows.h"

#include <stdbool.h>

struct point {
    const struct printed_law *law;
    double in[PRINTED_INPUTS_MOST], expected, tolerance;
    size_t inputs;
    const char *source;
    char name[200];
};

static void one_point(void **state)
{
    const struct point *p = *state;
    double value = p->law->value(p->in, p->inputs);
    if (!(fabs(value - p->expected) <= p->tolerance)) /* NaN fails */
        fail_msg("%s is %.9g, printed %.9g +- %g: %s", p->name, value, p->expected, p->tolerance,
                 p->source);
}

/* A row that is not understood stops the program: it would be a test that is not run. */
static void read_point(const struct rows *rows, size_t i, const char *file, struct point *p)
{
    const char *inputs = row_text(rows, i, "inputs");
    p->law = printed_law_find(row_text(rows, i, "law"));
    if (!p->law)
        p->law = printed_process_find(row_text(rows, i, "law"));
    p->inputs = row_numbers(inputs, p->in, PRINTED_INPUTS_MOST);
    p->source = row_text(rows, i, "source");
    bool good = p->law && p->inputs <= PRINTED_INPUTS_MOST &&
                strlen(row_text(rows, i, "tolerance_is")) > 3 &&
                (p->law->inputs == 0 || p->law->inputs == p->inputs) &&
                row_numbers(row_text(rows, i, "expected"), &p->expected, 1) == 1 &&
                row_numbers(row_text(rows, i, "tolerance"), &p->tolerance, 1) == 1 &&
                p->tolerance >= 0;
    if (!good) {
        printf("%s:%d: unknown law, or numbers that are not wanted\n", file, rows->row[i].line);
        exit(1);
    }
    snprintf(p->name, sizeof p->name, "%s:%d %s(%.120s)", file, rows->row[i].line, p->law->name,
             inputs);
}

static int run_file(const char *file)
{
    struct rows rows;
    if (!rows_read(file, &rows))
        return 1;
    struct point *point = calloc(rows.count, sizeof *point);
    struct CMUnitTest *test = calloc(rows.count, sizeof *test);
    for (size_t i = 0; i < rows.count; i++) {
        read_point(&rows, i, file, &point[i]);
        test[i] = (struct CMUnitTest){
            .name = point[i].name, .test_func = one_point, .initial_state = &point[i]};
    }
    int failed = _cmocka_run_group_tests(file, test, rows.count, NULL, NULL);
    free(test);
    free(point);
    rows_free(&rows);
    return failed;
}

int main(void)
{
    static const char *const files[] = {
        "published/gravity.csv",      "published/colour.csv",       "published/bitterness.csv",
        "published/tinseth_grid.csv", "published/fermentation.csv", "published/worked_forward.csv",
        "published/trade.csv",        "published/brewday.csv"};
    int failed = 0;
    for (size_t i = 0; i < COUNT_OF(files); i++)
        failed += run_file(files[i]) != 0;
    return failed != 0;
}
