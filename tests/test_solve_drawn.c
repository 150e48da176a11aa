/*
 * What must hold of the solver whatever the problem: a problem that is changed in a way of which
 * the consequence is known, on many small problems, plain and odd. A case that fails is made small
 * and kept as files.
 *
 *     test_solve_drawn [TIMES [FIRST]]    so many times as many problems, of seeds from FIRST on
 */
#include "support/test.h"

#include "drawn/odd.h"
#include "drawn/property.h"

#include "base/number.h"

#define PROBLEMS 250 /* that are tried by all properties */
#define BLOCK    25  /* problems a test */
/* Of a hundred cases that are asked, those that tolerances or time may leave open. */
#define UNSURE_PERCENT 6
#define TOLD_MOST      3 /* failures of a property that are made small */

#define ROWS_MOST 32
static struct row {
    const char *name;
    property *property;
    const void *data;
    size_t asked, unsure, failed;
} rows[ROWS_MOST];
static size_t row_count;

/* ---- A case that fails ----------------------------------------------------------------------- */

/* A name for files. */
static void file_name(const char *name, uint64_t seed, char *out, size_t size)
{
    snprintf(out, size, "%s-%llu", name, (unsigned long long)seed);
    for (char *c = out; *c != '\0'; c++)
        *c = *c == ' ' ? '-' : *c;
}

static void tell_failed(const struct row *row, struct property_case *p, const char *what)
{
    char name[96];
    fprintf(stderr, "%s, seed %llu: not so: %s\n", row->name, (unsigned long long)p->seed, what);
    struct gen small = property_shrink(p, row->property, row->data);
    file_name(row->name, p->seed, name, sizeof name);
    property_keep(&small, name, p->goal);
    if (row->property != property_of_change)
        return;
    const struct change *change = row->data;
    struct dice d = {.state = p->seed};
    struct changed c;
    change_start(&small, &c);
    if (!change->make(&small, &d, &c))
        return;
    snprintf(name + strlen(name), sizeof name - strlen(name), "-changed");
    property_keep(&c.g, name, p->goal);
}

/* ---- All properties on some problems --------------------------------------------------------- */

struct block {
    uint64_t first;
    char name[48];
};

static bool try_row(struct row *row, struct property_case *p)
{
    struct property_result r = row->property(p, row->data);
    row->asked += r.end != PROPERTY_NOT_ASKED;
    row->unsure += r.end == PROPERTY_UNSURE;
    row->failed += r.end == PROPERTY_FAILED;
    if (r.end == PROPERTY_FAILED && row->failed <= TOLD_MOST)
        tell_failed(row, p, r.what);
    return r.end != PROPERTY_FAILED;
}

static void one_block(void **state)
{
    const struct block *block = *state;
    bool good = true;
    for (uint64_t seed = block->first; seed < block->first + BLOCK; seed++) {
        struct property_case p;
        property_begin(&p, odd_make(seed), odd_goal(seed), seed);
        bool right = try_row(&rows[0], &p);
        for (size_t i = 1; right && i < row_count; i++)
            good = try_row(&rows[i], &p) && good;
        good = good && right;
        property_end(&p);
        gen_free(p.g);
    }
    assert_true(good);
}

/* The cases are worth something: each change applies now and then, and few are left open. */
static void cases_were_telling(void **state)
{
    size_t asked = 0;
    const size_t *problems = *state;
    for (size_t i = 0; i < row_count; i++) {
        const struct row *r = &rows[i];
        print_message("%-26s %6zu cases, %zu left open, %zu failed\n", r->name, r->asked, r->unsure,
                      r->failed);
        assert_true(r->asked * 20 >= *problems);
        assert_true(r->unsure * 100 <= r->asked * UNSURE_PERCENT);
        asked += r->asked;
    }
    print_message("%zu cases of %zu problems\n", asked, *problems);
}

/* ---- The whole ------------------------------------------------------------------------------- */

static void add(const char *name, property *p, const void *data)
{
    rows[row_count++] = (struct row){.name = name, .property = p, .data = data};
}

static void add_changes(const struct change *c)
{
    for (; c->name != NULL; c++)
        add(c->name, property_of_change, c);
}

static size_t number(const char *word)
{
    const char *end;
    double value;
    if (!wf_number_parse(word, &end, &value) || *end != '\0' || !(value >= 1 && value <= 1e9)) {
        print_error("test_solve_drawn: \"%s\" is not a whole number of at least 1\n", word);
        exit(1);
    }
    return (size_t)value;
}

int main(int argc, char **words)
{
    static const enum file_form forms[] = {FILE_PLAIN, FILE_MEMBERS, FILE_UNITS};
    size_t times = argc > 1 ? number(words[1]) : 1, first = argc > 2 ? number(words[2]) : 1;
    size_t problems = PROBLEMS * times, count = problems / BLOCK;
    struct block *blocks = calloc(count, sizeof *blocks);
    struct CMUnitTest *tests = calloc(count + 1, sizeof *tests);
    if (blocks == NULL || tests == NULL)
        return 1;
    add("the answer by itself", property_by_itself, NULL); /* must be first: the rest rests on it */
    add_changes(wish_changes);
    add_changes(lot_changes);
    add_changes(scale_changes);
    add("files", property_of_file, &forms[0]);
    add("members in another order", property_of_file, &forms[1]);
    add("other units", property_of_file, &forms[2]);
    add("the same bytes", property_same_bytes, NULL);
    for (size_t i = 0; i < count; i++) {
        blocks[i].first = first + BLOCK * i;
        snprintf(blocks[i].name, sizeof blocks[i].name, "problems from %llu on",
                 (unsigned long long)blocks[i].first);
        tests[i] = (struct CMUnitTest){
            .name = blocks[i].name, .test_func = one_block, .initial_state = &blocks[i]};
    }
    tests[count] = (struct CMUnitTest){
        .name = "cases were telling", .test_func = cases_were_telling, .initial_state = &problems};
    int failed = _cmocka_run_group_tests("drawn problems", tests, count + 1, NULL, NULL);
    free(tests);
    free(blocks);
    return failed != 0;
}
