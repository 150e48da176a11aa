/*
 * long_run.c: many problems in one process, as a program that stays up for months would solve them.
 *
 *     long_run PROBLEMS THREADS...
 *
 * as in `long_run 100000 1 8`: solves problems 1..PROBLEMS with so many threads, then the same with
 * the next number of threads. A round is a fiftieth of them; its threads are started and ended with
 * it. It fails where
 *
 *     a block of memory is left after a round, or the resident set of the second half grows by
 *     more than 8 MB a thread (of 10 000 problems or more): hard problems leave each thread's heap
 * in pieces, so it does not come down; a problem of the first hundredth has another answer at the
 * end than at the start, or any has another with one number of threads than with the first: not the
 * same bytes; a call ends in anything but a recipe, none, or none in the time.
 *
 * Times are processor time of the solving thread, of wf_solve alone.
 */
#include "long/live_blocks.h"
#include "long/long_problem.h"

#include "base/number.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define ROUNDS       50
#define WARM_ROUNDS  25
#define THREADS_MOST 64
#define GROWTH_MB    8.0
#define MANY         10000 /* problems; of fewer the resident set says little */
#define SLOW_SECONDS 9.0   /* by the clock: past it, time may have ended the search */

struct run {
    size_t problems, threads;
    struct long_answer *answers; /* [problem] */
    double *seconds;             /* room to sort in */
    size_t wrong;                /* told of */
    size_t by_time;              /* answers that were not compared, since time ended them */
};

/* ---- Memory ---------------------------------------------------------------------------------- */

/* MB of the resident set; 0 where the system does not tell. */
static double resident_mb(void)
{
    long pages[2] = {0};
    FILE *in = fopen("/proc/self/statm", "r");
    if (in == NULL)
        return 0;
    bool read = fscanf(in, "%ld %ld", &pages[0], &pages[1]) == 2;
    fclose(in);
    return read ? (double)pages[1] * (double)sysconf(_SC_PAGESIZE) / 1048576 : 0;
}

struct memory {
    double warm_mb, most_mb, end_mb; /* after the first half, greatest from then on, at the end */
    long blocks;                     /* at the start */
};

static void look_at_memory(struct run *r, struct memory *m, size_t round)
{
    long left = live_blocks() - m->blocks;
    m->end_mb = resident_mb();
    if (round + 1 == WARM_ROUNDS)
        m->warm_mb = m->end_mb;
    if (round + 1 >= WARM_ROUNDS && m->end_mb > m->most_mb)
        m->most_mb = m->end_mb;
    if (left != 0) {
        fprintf(stderr, "after round %zu: %ld blocks are left\n", round + 1, left);
        r->wrong++;
    }
}

static void judge_memory(struct run *r, const struct memory *m)
{
    printf("  memory: %.1f MB after half, at most %.1f MB from then on, %.1f MB at the end; "
           "0 blocks after each round\n",
           m->warm_mb, m->most_mb, m->end_mb);
    double most = GROWTH_MB * (double)r->threads;
    if (r->problems >= MANY && m->most_mb > m->warm_mb + most) {
        fprintf(stderr, "the resident set grew by more than %g MB\n", most);
        r->wrong++;
    }
}

/* ---- Rounds ---------------------------------------------------------------------------------- */

struct round {
    struct run *run;
    atomic_size_t next;
    size_t end;
};

static void *work(void *data)
{
    struct round *round = data;
    for (size_t i = atomic_fetch_add(&round->next, 1); i < round->end;
         i = atomic_fetch_add(&round->next, 1))
        round->run->answers[i] = long_solve(i + 1);
    return NULL;
}

static void run_round(struct run *r, size_t number)
{
    struct round round = {.run = r, .end = r->problems * (number + 1) / ROUNDS};
    pthread_t threads[THREADS_MOST];
    atomic_init(&round.next, r->problems * number / ROUNDS);
    for (size_t i = 0; i < r->threads; i++)
        if (pthread_create(&threads[i], NULL, work, &round) != 0) {
            perror("long_run: a thread");
            exit(1);
        }
    for (size_t i = 0; i < r->threads; i++)
        pthread_join(threads[i], NULL);
}

/* ---- Answers --------------------------------------------------------------------------------- */

/* The same bytes; or time ended one of them, which is counted but no fault. */
static void compare(struct run *r, size_t i, const struct long_answer *before, const char *what)
{
    const struct long_answer *now = &r->answers[i];
    if (now->print == before->print)
        return;
    bool slow = now->on_clock > SLOW_SECONDS || before->on_clock > SLOW_SECONDS ||
                now->end == LONG_UNDECIDED || before->end == LONG_UNDECIDED;
    r->by_time += slow;
    if (slow)
        return;
    fprintf(stderr, "problem %zu: not the same bytes %s\n", i + 1, what);
    r->wrong++;
}

static void solve_first_again(struct run *r)
{
    size_t count = r->problems / 100 + 1;
    for (size_t i = 0; i < count; i++) {
        struct long_answer first = r->answers[i];
        r->answers[i] = long_solve(i + 1);
        compare(r, i, &first, "at the end as at the start");
    }
    printf("  the first %zu again: compared\n", count);
}

static int ascending(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

static void tell_times(struct run *r)
{
    size_t ends[LONG_END_COUNT] = {0}, n = r->problems, longest = 0;
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        r->seconds[i] = r->answers[i].seconds;
        sum += r->seconds[i];
        longest = r->seconds[i] > r->seconds[longest] ? i : longest;
        ends[r->answers[i].end]++;
    }
    qsort(r->seconds, n, sizeof *r->seconds, ascending);
    printf("  ends: %zu recipes, %zu none, %zu undecided, %zu wrong\n", ends[LONG_RECIPE],
           ends[LONG_NONE], ends[LONG_UNDECIDED], ends[LONG_WRONG]);
    printf("  ms: p50 %.2f, p99 %.1f, p99.9 %.1f, longest %.0f (problem %zu); %.0f s in all\n",
           1e3 * r->seconds[n / 2], 1e3 * r->seconds[n * 99 / 100],
           1e3 * r->seconds[n * 999 / 1000], 1e3 * r->seconds[n - 1], longest + 1, sum);
    r->wrong += ends[LONG_WRONG];
}

static void run(struct run *r)
{
    struct memory m = {.blocks = live_blocks()};
    printf("%zu problems, threads: %zu\n", r->problems, r->threads);
    for (size_t i = 0; i < ROUNDS; i++) {
        run_round(r, i);
        look_at_memory(r, &m, i);
        fflush(stdout);
    }
    tell_times(r);
    judge_memory(r, &m);
    solve_first_again(r);
}

/* ---- The whole ------------------------------------------------------------------------------- */

static size_t number(const char *word, double most)
{
    const char *end;
    double value;
    if (!wf_number_parse(word, &end, &value) || *end != '\0' || !(value >= 1 && value <= most)) {
        fprintf(stderr, "long_run: \"%s\" is not a whole number, 1..%.0f\n", word, most);
        exit(1);
    }
    return (size_t)value;
}

static void *room(size_t count, size_t size)
{
    void *p = calloc(count, size);
    if (p == NULL) {
        fputs("long_run: out of memory\n", stderr);
        exit(1);
    }
    memset(p, 1, count * size); /* resident from the start */
    return p;
}

int main(int count, char **words)
{
    if (count < 3) {
        fputs("long_run PROBLEMS THREADS...\n", stderr);
        return 1;
    }
    struct run r = {.problems = number(words[1], 1e8)};
    r.answers = room(r.problems, sizeof *r.answers);
    r.seconds = room(r.problems, sizeof *r.seconds);
    struct long_answer *first = room(r.problems, sizeof *first);
    for (int i = 2; i < count; i++) {
        r.threads = number(words[i], THREADS_MOST);
        run(&r);
        for (size_t k = 0; i > 2 && k < r.problems; k++)
            compare(&r, k, &first[k], "as with the first number of threads");
        if (i == 2)
            memcpy(first, r.answers, r.problems * sizeof *first);
    }
    free(first);
    free(r.seconds);
    free(r.answers);
    printf("%zu faults; %zu answers differ since time ended them\n", r.wrong, r.by_time);
    return r.wrong > 0;
}
