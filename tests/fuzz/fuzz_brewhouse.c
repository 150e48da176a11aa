/* fuzz_brewhouse.c: brewhouse files, and a brew day there. */
#include "fuzz/fuzz_day.h"

static const char plain[] =
    "{\"recipe\": \"A\", \"malts\": [{\"id\": \"pilsner-malt\", \"name\": \"M\", \"weight\": \"4 "
    "kg\"},"
    "{\"id\": \"cane-sugar\", \"name\": \"S\", \"weight\": \"300 g\"}],"
    "\"hops\": [{\"id\": \"saaz\", \"name\": \"H\", \"weight\": \"60 g\", \"at\": \"60 min\"},"
    "{\"id\": \"saaz\", \"name\": \"H\", \"weight\": \"40 g\", \"at\": \"dry 4 days\"}],"
    "\"yeast\": {\"id\": \"german-lager\", \"name\": \"Y\"}}";

/* Its own system, the brewhouse's losses and vessels; and all that the brewhouse says. */
static void brew_there(const struct wf_brewhouse *read)
{
    static struct wf_error e;
    struct wf_brewhouse b = *read;
    struct wf_recipe *r = NULL;
    b.name = "B";
    wf_error_clear(&e);
    FUZZ_MUST(wf_recipe_parse("r", plain, sizeof plain - 1, NULL, fuzz_catalogue(), &r, &e) ==
              WF_OK);
    fuzz_day(r, &b, true);
    r->kettle.batch_l = b.batch_l;
    r->kettle.efficiency = b.efficiency;
    r->kettle.boil_minutes = b.boil_minutes;
    r->kettle.evaporation_l_h = b.evaporation_l_h;
    if (wf_recipe_predict(r, &e) == WF_OK)
        fuzz_day(r, &b, true);
    wf_recipe_free(r);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct wf_error e;
    struct wf_brewhouse *brewhouse = NULL;
    char *text = fuzz_text(data, size);
    wf_error_clear(&e);
    enum wf_status status =
        wf_brewhouse_parse("brewhouse.json", text, size, WF_UNITS_METRIC, &brewhouse, &e);
    fuzz_check_status(status, &e);
    FUZZ_MUST((status == WF_OK) == (brewhouse != NULL));
    if (brewhouse) {
        FUZZ_MUST(brewhouse->batch_l > 0);
        FUZZ_MUST(brewhouse->efficiency > 0 && brewhouse->efficiency <= 1);
        FUZZ_MUST(brewhouse->kettle_loss_l >= 0 && brewhouse->step_malt_kg > 0);
        brew_there(brewhouse);
    }
    wf_brewhouse_free(brewhouse);
    free(text);
    return 0;
}
