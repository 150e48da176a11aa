/* basis.c: see basis.h. */
#include "report/basis.h"

#include "base/number.h"

#include <string.h>

/* What the brewhouse's beers have of what a law says, where that is not all. */
static void add_factor(char *line, size_t size, const char *words, double factor)
{
    size_t used = strlen(line);
    if (factor > 0 && factor != 1)
        wf_snprintf(line + used, size - used, "%s%.2f", words, factor);
}

void wf_basis_add(struct wf_text *out, const struct wf_recipe *r, const struct wf_report_style *s)
{
    static const char *const law[] = {[WF_TINSETH] = "Tinseth", [WF_RAGER] = "Rager"};
    const struct wf_kettle *k = &r->kettle;
    char batch[32], boil[32], rate[32], line[200];
    wf_snprintf(line, sizeof line,
                "for %s after the boil, %.4g %% efficiency, a boil of %s that loses %s, bitterness "
                "after %s",
                wf_quantity_print(WF_DIM_VOLUME, k->batch_l, s->units, batch, sizeof batch),
                100 * k->efficiency,
                wf_quantity_print(WF_DIM_TIME, k->boil_minutes, s->units, boil, sizeof boil),
                wf_quantity_print(WF_DIM_RATE, k->evaporation_l_h, s->units, rate, sizeof rate),
                law[k->law]);
    add_factor(line, sizeof line, " x ", k->bitterness_factor);
    add_factor(line, sizeof line, ", colour after Morey x ", k->colour_factor);
    wf_text_add(out, "\n");
    wf_style_labelled(out, s, WF_MARK_STRONG, "Reckoned", WF_BASIS_LABEL, line);
}
