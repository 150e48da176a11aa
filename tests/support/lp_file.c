#include "support/lp_file.h"

#include "base/alloc.h"
#include "base/file.h"
#include "base/number.h"
#include "base/try.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define WORDS_MOST 256

struct line {
    char *word[WORDS_MOST];
    size_t count;
};

static bool number(const char *text, double *out)
{
    const char *end;
    if (strcmp(text, "inf") == 0 || strcmp(text, "-inf") == 0) {
        *out = text[0] == '-' ? -HUGE_VAL : HUGE_VAL;
        return true;
    }
    return wf_number_parse(text, &end, out) && *end == '\0';
}

static int column_of(const struct wf_model *m, const char *name)
{
    for (int j = 0; j < wf_model_columns(m); j++)
        if (strcmp(wf_model_column_label(m, j), name) == 0)
            return j;
    return -1;
}

static int row_of(const struct wf_model *m, const char *name)
{
    for (int i = 0; i < wf_model_rows(m); i++)
        if (strcmp(wf_model_row_label(m, i), name) == 0)
            return i;
    return -1;
}

/* ---- One reader a word ----------------------------------------------------------------------- */

static bool read_source(struct lp_file *f, const struct line *l)
{
    f->has_source = l->count > 1;
    return f->has_source;
}

static bool read_sense(struct lp_file *f, const struct line *l)
{
    f->sign = strcmp(l->word[0], "max") == 0 ? -1 : 1;
    return l->count == 1;
}

static bool read_column(struct lp_file *f, const struct line *l)
{
    bool whole = strcmp(l->word[0], "int") == 0;
    double cost, low = 0, high = HUGE_VAL;
    if ((l->count != 5 && (whole || l->count != 3)) || column_of(f->model, l->word[1]) >= 0 ||
        !number(l->word[2], &cost))
        return false;
    if (l->count == 5 && (!number(l->word[3], &low) || !number(l->word[4], &high)))
        return false;
    wf_model_column(f->model, low, high, f->sign * cost, whole, l->word[1]);
    return true;
}

static bool read_row(struct lp_file *f, const struct line *l)
{
    double low, high, a;
    if (l->count < 4 || l->count % 2 != 0 || row_of(f->model, l->word[1]) >= 0 ||
        !number(l->word[2], &low) || !number(l->word[3], &high))
        return false;
    int row = wf_model_row(f->model, low, high, l->word[1]);
    for (size_t i = 4; i < l->count; i += 2) {
        int column = column_of(f->model, l->word[i + 1]);
        if (column < 0 || !number(l->word[i], &a))
            return false;
        wf_model_term(f->model, row, column, a);
    }
    return true;
}

static bool read_outcome(struct lp_file *f, const struct line *l)
{
    f->outcome = l->count == 2 && strcmp(l->word[1], "unbounded") == 0 ? WF_OUTCOME_UNBOUNDED
                                                                       : WF_OUTCOME_INFEASIBLE;
    return l->count == 2;
}

static bool read_optimum(struct lp_file *f, const struct line *l)
{
    return l->count == 3 && number(l->word[1], &f->optimum) && number(l->word[2], &f->tolerance);
}

static bool read_want(struct lp_file *f, const struct line *l)
{
    static const char *const kinds[] = {
        [LP_X] = "x", [LP_DUAL] = "dual", [LP_REDUCED] = "reduced", [LP_ACTIVITY] = "activity"};
    if (l->count != 4 || f->count == LP_WANTS_MOST)
        return false;
    struct lp_want *w = &f->want[f->count++];
    while (strcmp(l->word[0], kinds[w->kind]) != 0)
        w->kind++;
    bool of_row = w->kind == LP_DUAL || w->kind == LP_ACTIVITY;
    w->index = of_row ? row_of(f->model, l->word[1]) : column_of(f->model, l->word[1]);
    return w->index >= 0 && number(l->word[2], &w->value) && number(l->word[3], &w->tolerance);
}

static const struct {
    const char *word;
    bool (*read)(struct lp_file *, const struct line *);
} readers[] = {
    {"source", read_source},   {"min", read_sense},       {"max", read_sense},
    {"col", read_column},      {"int", read_column},      {"row", read_row},
    {"outcome", read_outcome}, {"optimum", read_optimum}, {"x", read_want},
    {"dual", read_want},       {"reduced", read_want},    {"activity", read_want},
};

/* ---- The file -------------------------------------------------------------------------------- */

static bool read_line(struct lp_file *f, char *text)
{
    struct line l = {.count = 0};
    for (char *p = text + strspn(text, " "); *p != '\0'; p += strspn(p, " ")) {
        if (l.count == WORDS_MOST)
            return false;
        l.word[l.count++] = p;
        p += strcspn(p, " ");
        if (*p != '\0')
            *p++ = '\0';
    }
    if (l.count == 0 || l.word[0][0] == '#')
        return true;
    for (size_t i = 0; i < WF_COUNT_OF(readers); i++)
        if (strcmp(l.word[0], readers[i].word) == 0)
            return readers[i].read(f, &l);
    return false;
}

bool lp_file_read(const char *path, struct lp_file *out)
{
    struct wf_error e = {0};
    char *text = NULL;
    size_t length, number_of_line = 0;
    *out = (struct lp_file){.model = wf_model_new(), .sign = 1};
    bool ok = out->model && wf_file_read(path, &text, &length, &e) == WF_OK;
    for (char *p = text, *next; ok && p && *p != '\0'; p = next) {
        size_t end = strcspn(p, "\n");
        next = p[end] == '\0' ? p + end : p + end + 1;
        p[end] = '\0';
        number_of_line++;
        ok = read_line(out, p);
    }
    if (!ok)
        fprintf(stderr, "%s:%zu: not a line that is understood %s\n", path, number_of_line, e.text);
    wf_free(text);
    return ok && out->has_source;
}

void lp_file_free(struct lp_file *f)
{
    wf_model_free(f->model);
    *f = (struct lp_file){0};
}
