/* recipe_inputs.c: see recipe_inputs.h. */
#include "cli/recipe_inputs.h"

#include "base/try.h"
#include "cli/terminal.h"
#include "cli/today.h"

#include <string.h>

static enum wf_units units_of(const struct wf_recipe_options *o)
{
    return (enum wf_units)o->units.picked[0];
}

enum wf_status wf_recipe_inputs_read(struct wf_recipe_inputs *in, const struct wf_recipe_options *o,
                                     struct wf_error *e)
{
    WF_TRY(wf_catalogue_read(&in->catalogue, e));
    if (o->store) {
        WF_TRY(wf_store_read(o->store, in->catalogue, &in->store, e));
        WF_TRY(wf_store_age(in->store, o->on >= 0 ? o->on : wf_today(), e));
    }
    return o->brewhouse ? wf_brewhouse_read(o->brewhouse, units_of(o), &in->brewhouse, e) : WF_OK;
}

void wf_recipe_inputs_free(struct wf_recipe_inputs *in)
{
    wf_brewhouse_free(in->brewhouse);
    wf_store_free(in->store);
    wf_catalogue_free(in->catalogue);
}

enum wf_status wf_recipe_inputs_recipe(const struct wf_recipe_inputs *in, const char *path,
                                       const struct wf_brewhouse *b, struct wf_recipe **out,
                                       struct wf_error *e)
{
    WF_TRY(wf_recipe_read_on(path, in->store, in->catalogue, b, out, e));
    return in->store ? wf_recipe_price(*out, in->store, e) : WF_OK;
}

struct wf_report_style wf_recipe_style(const struct wf_recipe_options *o)
{
    return (struct wf_report_style){units_of(o), wf_terminal_colour()};
}

void wf_add_report(struct wf_text *out, char *report)
{
    if (report)
        wf_text_append(out, report, strlen(report));
    wf_text_release(report);
}
