#include "support/solver_models.h"

#include "support/dice.h"

#include <math.h>

/* max 5 a + 4 b + 3 c, 2 a + 3 b + c <= 5, 4 a + b + 2 c <= 11, 3 a + 4 b + 2 c <= 8, whole 0..10:
 * as a linear program V. Chvatal, Linear Programming, 1983, ch. 1 (from memory): 13 at (2, 0, 1).
 */
struct wf_model *easy(void)
{
    static const double a[3][3] = {{2, 3, 1}, {4, 1, 2}, {3, 4, 2}}, high[] = {5, 11, 8};
    struct wf_model *m = wf_model_new();
    for (int j = 0; j < 3; j++)
        wf_model_column(m, 0, 10, j - 5, true, "c");
    for (int i = 0; i < 3; i++) {
        wf_model_row(m, -HUGE_VAL, high[i], "r");
        for (int j = 0; j < 3; j++)
            wf_model_term(m, i, j, a[i][j]);
    }
    return m;
}

/* As "market split" (G. Cornuejols, M. Dawande, A Class of Hard Small 0-1 Programs, 1998): split
 * all markets evenly between two divisions; with slack, least slack in all. Hard from four rows on.
 */
struct wf_model *hard(int rows, bool slack)
{
    struct wf_model *m = wf_model_new();
    struct dice d = {11};
    int columns = 10 * (rows - 1);
    for (int j = 0; j < columns; j++)
        wf_model_column(m, 0, 1, 0, true, "market");
    for (int i = 0; i < rows; i++) {
        double sum = 0;
        wf_model_row(m, 0, 0, "product");
        for (int j = 0; j < columns; j++) {
            double a = dice_decimal(&d, 0, 99, 1);
            wf_model_term(m, i, j, a);
            sum += a;
        }
        wf_model_set_row(m, i, floor(sum / 2), floor(sum / 2));
        for (int side = -1; slack && side <= 1; side += 2)
            wf_model_term(m, i, wf_model_column(m, 0, HUGE_VAL, 1, false, "slack"), side);
    }
    return m;
}

struct wf_model *lp_infeasible(void)
{
    struct wf_model *m = easy();
    wf_model_set_row(m, 0, 51, 100); /* 2 a + 3 b + c is at most 60, but then row 2 is broken */
    return m;
}

/* 2 x - 2 y = 1 has points, but none that are whole. */
struct wf_model *parity(double most)
{
    struct wf_model *m = wf_model_new();
    wf_model_column(m, 0, most, 1, true, "x");
    wf_model_column(m, 0, most, 1, true, "y");
    wf_model_row(m, 1, 1, "r");
    wf_model_term(m, 0, 0, 2);
    wf_model_term(m, 0, 1, -2);
    return m;
}

struct wf_model *parity_easy(void)
{
    return parity(10);
}

/* One column between its own whole numbers: presolve sees it. */
struct wf_model *between(void)
{
    struct wf_model *m = easy();
    int row = wf_model_row(m, 0.4, 0.6, "between");
    wf_model_term(m, row, 0, 1);
    return m;
}

struct wf_model *unbounded(void)
{
    struct wf_model *m = easy();
    int z = wf_model_column(m, 0, HUGE_VAL, -1, false, "z");
    int row = wf_model_row(m, 0, HUGE_VAL, "nothing stops z");
    wf_model_term(m, row, z, 1);
    return m;
}

/* The relaxation is unbounded, but there is no whole point. */
struct wf_model *unbounded_empty(void)
{
    struct wf_model *m = parity(10);
    int z = wf_model_column(m, 0, HUGE_VAL, -1, false, "z");
    int row = wf_model_row(m, 0, HUGE_VAL, "nothing stops z");
    wf_model_term(m, row, z, 1);
    return m;
}

struct wf_model *fixed(void)
{
    struct wf_model *m = easy();
    wf_model_set_bounds(m, 0, 1, 1);
    return m;
}

struct wf_model *split(void)
{
    return hard(4, false);
}

struct wf_model *split_slack(void)
{
    return hard(5, true);
}
