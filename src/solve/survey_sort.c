/* Orders of a survey. */
#include "base/try.h"
#include "wortfit/survey.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef int order(const void *, const void *);

/* NaN after every number. */
static int by_number(double x, double y)
{
    if (isnan(x) || isnan(y))
        return isnan(x) - isnan(y);
    return (x > y) - (x < y);
}

static int by_verdict(const struct wf_surveyed *x, const struct wf_surveyed *y)
{
    return (x->verdict > y->verdict) - (x->verdict < y->verdict);
}

static int by_id(const struct wf_surveyed *x, const struct wf_surveyed *y)
{
    return strcmp(x->target->id, y->target->id);
}

/* The nearest recipe of what cannot be brewed costs nothing that anybody would pay. */
static double cost_of(const struct wf_surveyed *x)
{
    return x->recipe != NULL && x->verdict != WF_VERDICT_NOT ? x->recipe->cost : (double)NAN;
}

static int first_of(const int *differences, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (differences[i] != 0)
            return differences[i];
    return 0;
}

static int cost_order(const void *a, const void *b)
{
    const struct wf_surveyed *x = a, *y = b;
    const int by[] = {by_verdict(x, y), by_number(cost_of(x), cost_of(y)), by_id(x, y)};
    return first_of(by, WF_COUNT_OF(by));
}

static int aims_order(const void *a, const void *b)
{
    const struct wf_surveyed *x = a, *y = b;
    const int by[] = {by_verdict(x, y), by_number(x->off_aims, y->off_aims), by_id(x, y)};
    return first_of(by, WF_COUNT_OF(by));
}

static int name_order(const void *a, const void *b)
{
    const struct wf_surveyed *x = a, *y = b;
    const int by[] = {by_verdict(x, y), by_id(x, y)};
    return first_of(by, WF_COUNT_OF(by));
}

static int group_order(const void *a, const void *b)
{
    const struct wf_surveyed *x = a, *y = b;
    const char *in = x->target->group, *of = y->target->group;
    const int by[] = {by_verdict(x, y), strcmp(in != NULL ? in : "", of != NULL ? of : ""),
                      by_id(x, y)};
    return first_of(by, WF_COUNT_OF(by));
}

static int fewest_order(const void *a, const void *b)
{
    const struct wf_surveyed *x = a, *y = b;
    const int by[] = {by_verdict(x, y),
                      (x->basket_count > y->basket_count) - (x->basket_count < y->basket_count),
                      by_number(cost_of(x), cost_of(y)), by_id(x, y)};
    return first_of(by, WF_COUNT_OF(by));
}

void wf_survey_sort(struct wf_survey *s, enum wf_survey_order by)
{
    static order *const orders[] = {
        [WF_SURVEY_BY_COST] = cost_order,     [WF_SURVEY_BY_AIMS] = aims_order,
        [WF_SURVEY_BY_NAME] = name_order,     [WF_SURVEY_BY_GROUP] = group_order,
        [WF_SURVEY_BY_FEWEST] = fewest_order,
    };
    _Static_assert(WF_COUNT_OF(orders) == WF_SURVEY_ORDER_COUNT, "one row an order");
    qsort(s->beers, s->count, sizeof *s->beers, orders[by]);
}
