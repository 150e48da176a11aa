/*
 * model_write_lp.c: a model as CPLEX LP text that GLPK and COIN-OR read to the same model.
 *
 * Kept to what all readers share: names x0.. and r0.., short lines, numbers that read back
 * identical. LP text has no rows with two sides, so such a row is written twice (r7lo, r7hi), and
 * no constant in the objective, so the offset is the cost of a column fixed at 1.
 */
#include "model/model_parts.h"

#include "base/alloc.h"
#include "base/number.h"
#include "base/text.h"
#include "base/try.h"
#include "base/utf8.h"

#include <math.h>
#include <string.h>

#define LINE_FULL 60  /* bytes after which a sum goes on in a new line */
#define NOTE_SIZE 100 /* bytes of a label in a comment; some readers cut longer lines */

struct writer {
    const struct wf_model *m;
    struct wf_text text;
    size_t line; /* where the current line starts */
};

/* ---- Pieces ---------------------------------------------------------------------------------- */

static void end_line(struct writer *w)
{
    wf_text_append(&w->text, "\n", 1);
    w->line = w->text.length;
}

static void note(struct writer *w, const char *name, int index, const char *label)
{
    char safe[NOTE_SIZE];
    wf_utf8_safe(label, strlen(label), safe, sizeof safe);
    if (index >= 0)
        wf_text_add(&w->text, "\\   %s%d  %s", name, index, safe);
    else
        wf_text_add(&w->text, "\\ %s", safe);
    end_line(w);
}

static const char *number(double v, char out[WF_NUMBER_TEXT_MAX])
{
    if (!wf_number_print(v, out)) /* infinite: the check has refused NaN */
        wf_snprintf(out, WF_NUMBER_TEXT_MAX, v > 0 ? "+inf" : "-inf");
    return out;
}

/* One term of a sum; `name` is "x" with its index, or a whole name with index -1. */
static void term(struct writer *w, double a, const char *name, int column)
{
    char digits[WF_NUMBER_TEXT_MAX];
    if (w->text.length - w->line > LINE_FULL) {
        end_line(w);
        wf_text_add(&w->text, "   ");
    }
    wf_text_add(&w->text, " %c %s %s", a < 0 ? '-' : '+', number(fabs(a), digits), name);
    if (column >= 0)
        wf_text_add(&w->text, "%d", column);
}

static void terms(struct writer *w, const struct wf_model_row *r)
{
    int written = 0;
    for (int k = 0; k < r->count; k++) {
        if (!wf_model_term_counts(&r->terms[k]))
            continue;
        term(w, r->terms[k].value, "x", r->terms[k].column);
        written++;
    }
    if (written == 0)
        term(w, 0, "x", 0); /* a sum is never empty */
}

/* ---- Sections -------------------------------------------------------------------------------- */

static void write_legend(struct writer *w, const char *title)
{
    note(w, "", -1, title ? title : "");
    note(w, "", -1, "columns:");
    for (int j = 0; j < w->m->column_count; j++)
        note(w, "x", j, w->m->columns[j].label);
    note(w, "", -1, "rows:");
    for (int i = 0; i < w->m->row_count; i++)
        note(w, "r", i, w->m->rows[i].label);
}

/* Marks the columns that some row takes. */
static void mark_used(const struct wf_model *m, bool *used)
{
    for (int i = 0; i < m->row_count; i++)
        for (int k = 0; k < m->rows[i].count; k++)
            if (wf_model_term_counts(&m->rows[i].terms[k]))
                used[m->rows[i].terms[k].column] = true;
}

/* A column that nothing else names stands here with cost 0, for readers know no other columns. */
static void write_objective(struct writer *w, const bool *used)
{
    wf_text_add(&w->text, "Minimize");
    end_line(w);
    wf_text_add(&w->text, " cost:");
    for (int j = 0; j < w->m->column_count; j++)
        if (w->m->columns[j].cost != 0 || !used[j] || j == 0)
            term(w, w->m->columns[j].cost, "x", j);
    if (w->m->offset != 0)
        term(w, w->m->offset, "one", -1);
    end_line(w);
}

static void write_side(struct writer *w, int row, const char *suffix, const char *sense,
                       double bound)
{
    char digits[WF_NUMBER_TEXT_MAX];
    wf_text_add(&w->text, " r%d%s:", row, suffix);
    terms(w, &w->m->rows[row]);
    wf_text_add(&w->text, " %s %s", sense, number(bound, digits));
    end_line(w);
}

/* A row without bounds asks for nothing and is left out. */
static void write_row(struct writer *w, int row)
{
    const struct wf_model_row *r = &w->m->rows[row];
    bool low = isfinite(r->low), high = isfinite(r->high);
    if (low && r->low == r->high) {
        write_side(w, row, "", "=", r->low);
        return;
    }
    if (low)
        write_side(w, row, high ? "lo" : "", ">=", r->low);
    if (high)
        write_side(w, row, low ? "hi" : "", "<=", r->high);
}

static void write_rows(struct writer *w)
{
    wf_text_add(&w->text, "Subject To");
    end_line(w);
    size_t before = w->text.length;
    for (int i = 0; i < w->m->row_count; i++)
        write_row(w, i);
    if (w->text.length == before)
        wf_text_add(&w->text, " none: 0 x0 <= 0\n"); /* the section must not be empty */
}

static bool is_binary(const struct wf_model_column *c)
{
    return c->integer && c->low == 0 && c->high == 1;
}

static void write_bounds(struct writer *w)
{
    char low[WF_NUMBER_TEXT_MAX], high[WF_NUMBER_TEXT_MAX];
    wf_text_add(&w->text, "Bounds");
    end_line(w);
    for (int j = 0; j < w->m->column_count; j++) {
        const struct wf_model_column *c = &w->m->columns[j];
        if (is_binary(c))
            continue;
        if (c->low == c->high)
            wf_text_add(&w->text, " x%d = %s", j, number(c->low, low));
        else if (isinf(c->low) && isinf(c->high))
            wf_text_add(&w->text, " x%d free", j);
        else
            wf_text_add(&w->text, " %s <= x%d <= %s", number(c->low, low), j,
                        number(c->high, high));
        end_line(w);
    }
    if (w->m->offset != 0)
        wf_text_add(&w->text, " one = 1\n");
}

/* One name a line; an empty section would not be read by all. */
static void write_kind(struct writer *w, const char *section, bool binary)
{
    bool open = false;
    for (int j = 0; j < w->m->column_count; j++) {
        const struct wf_model_column *c = &w->m->columns[j];
        if (!c->integer || is_binary(c) != binary)
            continue;
        if (!open)
            wf_text_add(&w->text, "%s\n", section);
        open = true;
        wf_text_add(&w->text, " x%d\n", j);
    }
}

enum wf_status wf_model_write_lp(const struct wf_model *m, const char *title, char **text,
                                 struct wf_error *e)
{
    struct writer w = {.m = m};
    *text = NULL;
    WF_TRY(wf_model_check(m, e));
    bool *used = wf_alloc((size_t)m->column_count, sizeof *used);
    if (!used)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    mark_used(m, used);
    write_legend(&w, title);
    write_objective(&w, used);
    wf_free(used);
    write_rows(&w);
    write_bounds(&w);
    write_kind(&w, "Generals", false);
    write_kind(&w, "Binaries", true);
    wf_text_add(&w.text, "End\n");
    if (w.text.failed) {
        wf_text_free(&w.text);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    *text = w.text.data;
    return WF_OK;
}
