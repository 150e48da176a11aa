/*
 * bench_case.c: one generated problem for run.py, as files or solved here.
 *
 *     bench_case files FOLDER SEED MALTS HOPS tight|loose coarse|fine
 *         writes store.json, brewhouse.json and target.json, and prints the planted recipe's cost
 *     bench_case again SEED MALTS HOPS tight|loose coarse|fine
 *         solves the problem, then once more with the gravity moved by a point, as a brewer does
 * who tries another wish on the same store; prints the seconds of both
 */
#include "support/judge.h"

#include "base/number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* A whole number of at least 1; the program ends where it is none. */
static size_t number(const char *word)
{
    const char *end;
    double value;
    if (!wf_number_parse(word, &end, &value) || *end != '\0' || !(value >= 1 && value <= 1e9)) {
        fprintf(stderr, "bench_case: \"%s\" is not a whole number of at least 1\n", word);
        exit(1);
    }
    return (size_t)value;
}

static struct gen *make(char **words)
{
    const struct gen_options o = {.seed = (uint64_t)number(words[0]),
                                  .malts = number(words[1]),
                                  .hops = number(words[2]),
                                  .yeasts = 3,
                                  .slots = 3,
                                  .scale = strcmp(words[4], "fine") == 0 ? GEN_FINE : GEN_COARSE,
                                  .planted = true,
                                  .tight = strcmp(words[3], "tight") == 0,
                                  .fermented = true};
    return gen_make(&o);
}

static int write_file(const struct gen *g, const char *folder, const char *name,
                      void (*write)(const struct gen *, FILE *))
{
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *out = fopen(path, "w");
    if (out == NULL) {
        perror(path);
        return 1;
    }
    write(g, out);
    return fclose(out) != 0;
}

static int write_files(const struct gen *g, const char *folder)
{
    struct verdict v;
    judge(g, &g->drawn, &v);
    printf("%.9g\n", v.value[WF_GOAL_COST]);
    return write_file(g, folder, "store.json", gen_write_store) +
           write_file(g, folder, "brewhouse.json", gen_write_brewhouse) +
           write_file(g, folder, "target.json", gen_write_target);
}

/* Seconds that a solve takes; NaN where it gives no recipe. */
static double solve(const struct gen *g)
{
    const struct wf_solve_options o = {.today = GEN_TODAY};
    struct wf_error e = {0};
    struct wf_recipe *r = NULL;
    double start = now();
    enum wf_status status = wf_solve(&g->target, &g->store, &g->brewhouse, &o, &r, &e);
    double took = now() - start;
    wf_recipe_free(r);
    return status == WF_OK ? took : (double)NAN;
}

static int solve_again(struct gen *g)
{
    double first = solve(g);
    g->target.og.low += 0.001;
    g->target.og.high += 0.001;
    printf("%.6f %.6f\n", first, solve(g));
    return 0;
}

int main(int count, char **words)
{
    bool files = count == 8 && strcmp(words[1], "files") == 0;
    bool again = count == 7 && strcmp(words[1], "again") == 0;
    if (!files && !again) {
        fputs("bench_case files FOLDER | again, then SEED MALTS HOPS tight|loose coarse|fine\n",
              stderr);
        return 1;
    }
    struct gen *g = make(words + (files ? 3 : 2));
    int status = files ? write_files(g, words[2]) : solve_again(g);
    gen_free(g);
    return status;
}
