/*
 * write_lp_models.c: writes models in LP format into a folder, and what we make of them into its
 * file "index": a line "name optimal VALUE" or "name infeasible" each. For check_lp_readers.py.
 *
 *     write_lp_models FOLDER FOLDER_OF_PUBLISHED_MODELS
 */
#include "base/alloc.h"
#include "base/file.h"
#include "base/number.h"
#include "base/text.h"
#include "support/dice.h"
#include "support/lp_file.h"

#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define MODELS    48
#define PATH_SIZE 4096

/* Every kind of column that the format knows; numbers with all their digits. */
static void add_column(struct dice *d, struct wf_model *m)
{
    double at = dice_decimal(d, -50, 50, 10), cost = dice_decimal(d, -99, 99, 10) / 7;
    switch (dice_whole(d, 0, 6)) {
    case 0:
        wf_model_column(m, 0, 1, cost, true, "0 or 1");
        break;
    case 1:
        wf_model_column(m, floor(at), floor(at) + 7, cost, true, "whole, of either sign");
        break;
    case 2:
        wf_model_column(m, 3, 3, cost, true, "whole, fixed");
        break;
    case 3:
        wf_model_column(m, at / 3, at / 3, cost, false, "fixed");
        break;
    case 4:
        wf_model_column(m, -HUGE_VAL, HUGE_VAL, 0, false, "free");
        break;
    case 5:
        wf_model_column(m, at / 3, HUGE_VAL, fabs(cost), false,
                        "from below; a label: >= <= = free End");
        break;
    default:
        wf_model_column(m, -HUGE_VAL, at, -fabs(cost), false, "K\xc3\xb6lsch, from above");
    }
}

/* A row around what some point gives it, so that most models have one. */
static void add_row(struct dice *d, struct wf_model *m, const double *x)
{
    int row = wf_model_row(m, 0, 0, "row\nin two lines");
    for (int j = 0; j < wf_model_columns(m); j++)
        if (dice_chance(d, 50))
            wf_model_term(m, row, j, dice_decimal(d, -99, 99, 10) / 3);
    double sum = wf_model_row_value(m, row, x) + (dice_chance(d, 3) ? 40 : 0);
    double below = dice_decimal(d, 0, 90, 10) / 9, above = dice_decimal(d, 0, 90, 10) / 9;
    bool low = dice_chance(d, 60), high = !low || dice_chance(d, 40);
    if (dice_chance(d, 5))
        low = high = false;
    wf_model_set_row(m, row, low ? sum - below : -HUGE_VAL, high ? sum + above : HUGE_VAL);
}

static struct wf_model *roll(struct dice *d)
{
    struct wf_model *m = wf_model_new();
    double x[16];
    int columns = (int)dice_whole(d, 3, 16), rows = (int)dice_whole(d, 2, 10);
    for (int j = 0; j < columns; j++) {
        add_column(d, m);
        double low = wf_model_low(m, j), high = wf_model_high(m, j);
        x[j] = isfinite(low) ? low : isfinite(high) ? high : 1;
    }
    for (int i = 0; i < rows; i++)
        add_row(d, m, x);
    for (int j = 0; j < columns; j++) /* nothing unbounded */
        if (!isfinite(wf_model_low(m, j)) && !isfinite(wf_model_high(m, j)))
            wf_model_term(m, wf_model_row(m, -1000.0 / 3, 1000, "keeps it in"), j, 1);
    if (dice_chance(d, 50))
        wf_model_set_offset(m, dice_decimal(d, -999, 999, 10) / 7);
    return m;
}

/* Writes the model and its line. */
static bool put(const char *folder, const char *name, const struct wf_model *m,
                struct wf_text *index)
{
    char path[PATH_SIZE], *text = NULL, value[WF_NUMBER_TEXT_MAX];
    struct wf_error e = {0};
    struct wf_solver_options o = {.cutoff = nan("")};
    struct wf_solution s = {0};
    wf_snprintf(path, sizeof path, "%s/%s.lp", folder, name);
    bool ok = wf_model_write_lp(m, name, &text, &e) == WF_OK &&
              wf_file_write(path, text, strlen(text), &e) == WF_OK &&
              wf_solver_run(m, &o, &s, &e) == WF_OK;
    if (ok && s.outcome == WF_OUTCOME_OPTIMAL && wf_number_print(s.value, value))
        wf_text_add(index, "%s optimal %s\n", name, value);
    else if (ok && s.outcome == WF_OUTCOME_INFEASIBLE)
        wf_text_add(index, "%s infeasible\n", name);
    else if (!ok || s.outcome != WF_OUTCOME_UNBOUNDED)
        ok = false;
    if (!ok)
        fprintf(stderr, "%s: outcome %d %s\n", name, (int)s.outcome, e.text);
    wf_solution_clear(&s);
    wf_free(text);
    return ok;
}

static bool put_published(const char *folder, const char *from, struct wf_text *index)
{
    char path[PATH_SIZE];
    bool ok = true;
    DIR *published = opendir(from);
    if (!published)
        return false;
    for (const struct dirent *d = readdir(published); ok && d; d = readdir(published)) {
        struct lp_file f;
        if (!strstr(d->d_name, ".txt"))
            continue;
        wf_snprintf(path, sizeof path, "%s/%s", from, d->d_name);
        ok = lp_file_read(path, &f) && put(folder, d->d_name, f.model, index);
        lp_file_free(&f);
    }
    closedir(published);
    return ok;
}

int main(int argc, char **argv)
{
    char name[32], path[PATH_SIZE];
    struct dice d = {41};
    struct wf_text index = {0};
    if (argc != 3)
        return 2;
    bool ok = put_published(argv[1], argv[2], &index);
    for (int k = 0; ok && k < MODELS; k++) {
        struct wf_model *m = roll(&d);
        wf_snprintf(name, sizeof name, "rolled_%d", k);
        ok = put(argv[1], name, m, &index);
        wf_model_free(m);
    }
    wf_snprintf(path, sizeof path, "%s/index", argv[1]);
    ok = ok && !index.failed && wf_file_write(path, index.data, index.length, NULL) == WF_OK;
    wf_text_free(&index);
    return ok ? 0 : 1;
}
