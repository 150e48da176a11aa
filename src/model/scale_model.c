#include "model/scale_model.h"

#include "base/try.h"
#include "model/wish_rows.h"

#include <math.h>

/* An exact weight this close to a whole step is one. */
#define WHOLE 1e-6

/* The two choices; at least one step, for what is in the recipe stays in it. */
static double steps_below(double exact)
{
    return fmax(1, floor(exact + WHOLE));
}

static double steps_above(double exact)
{
    return fmax(1, ceil(exact - WHOLE));
}

static void add_item(struct wf_model *m, const struct wf_scale_item *item)
{
    double below = steps_below(item->exact), above = steps_above(item->exact);
    double at_below = fabs(item->exact - below), at_above = fabs(item->exact - above);
    wf_model_column(m, 0, above - below, (at_above - at_below) / item->notch, true, item->label);
    wf_model_set_offset(m, wf_model_offset(m) + at_below / item->notch);
}

static void add_sum(struct wf_model *m, const struct wf_scale_item *items, size_t count,
                    const struct wf_scale_sum *sum)
{
    double wanted = sum->wanted;
    for (size_t i = 0; i < count; i++)
        wanted -= sum->per_step[i] * steps_below(items[i].exact);
    int row = wf_wish_row(m, wanted, wanted, true, sum->notch, sum->label);
    for (size_t i = 0; i < count; i++)
        wf_model_term(m, row, (int)i, sum->per_step[i]);
}

enum wf_status wf_scale_model_make(const struct wf_scale_item *items, size_t count,
                                   const struct wf_scale_sum *sums, size_t sum_count,
                                   struct wf_model **out, struct wf_error *e)
{
    struct wf_model *m = wf_model_new();
    enum wf_status status = WF_MEMORY;
    *out = NULL;
    if (m == NULL)
        return wf_error_add(e, WF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        add_item(m, &items[i]);
    for (size_t k = 0; k < sum_count; k++)
        add_sum(m, items, count, &sums[k]);
    WF_TRY_GOTO(wf_model_check(m, e));
    *out = m;
    return WF_OK;
done:
    wf_model_free(m);
    return status;
}

void wf_scale_model_steps(const struct wf_scale_item *items, size_t count, const double *x,
                          double *steps)
{
    for (size_t i = 0; i < count; i++)
        steps[i] = steps_below(items[i].exact) + round(x[i]);
}
