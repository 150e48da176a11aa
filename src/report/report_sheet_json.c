/* report_sheet_json.c: a brew day for programs: see sheet.schema.json. */
#include "report/json_put.h"
#include "report/style.h"

#include "base/try.h"

#include <math.h>

struct row {
    const char *key;
    double value;
};

static void put_rows(struct wf_json_put *j, const char *key, const struct row *rows, size_t count)
{
    wf_put_open(j, key, '{', false);
    for (size_t i = 0; i < count; i++)
        wf_put_number(j, rows[i].key, rows[i].value);
    wf_put_close(j, '}');
}

static void put_water(struct wf_json_put *j, const struct wf_brewday_water *w)
{
    const struct row rows[] = {
        {"mash", w->mash_l},
        {"sparge", w->sparge_l},
        {"absorbed", w->absorbed_l},
        {"dead_space", w->dead_l},
        {"extracts", w->early_l},
        {"before_boil", w->before_boil_l},
        {"before_boil_hot", w->before_hot_l},
        {"evaporated", w->evaporated_l},
        {"sugars", w->late_l},
        {"after_boil", w->after_boil_l},
        {"after_boil_hot", w->after_hot_l},
        {"kettle_loss", w->kettle_loss_l},
        {"fermenter", w->fermenter_l},
        {"fermenter_loss", w->fermenter_loss_l},
        {"dry_hops", w->dry_hops_l},
        {"packaged", w->packaged_l},
    };
    put_rows(j, "water_l", rows, WF_COUNT_OF(rows));
}

static void put_mash(struct wf_json_put *j, const struct wf_brewday_mash *m)
{
    static const char *const body[] = {
        [WF_BODY_LIGHT] = "light", [WF_BODY_MEDIUM] = "medium", [WF_BODY_FULL] = "full"};
    if (m->grain_kg == 0)
        return;
    wf_put_open(j, "mash", '{', false);
    wf_put_number(j, "grain_kg", m->grain_kg);
    wf_put_number(j, "grain_c", m->grain_celsius);
    wf_put_string(j, "body", body[m->body]);
    wf_put_number(j, "liquor_l_kg", m->liquor_l_kg);
    wf_put_number(j, "tun_heat_l", m->tun_heat_l);
    wf_put_number(j, "mash_out_l", m->out_l);
    wf_put_number(j, "efficiency_to_expect", m->reach);
    wf_put_number(j, "gravity_to_expect", m->reach_sg);
    if (m->too_strong)
        wf_put_bool(j, "beyond_reach", true);
    wf_put_open(j, "rests", '[', false);
    for (size_t i = 0; i < m->rest_count; i++) {
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "rest", m->rests[i].what);
        wf_put_number(j, "temperature_c", m->rests[i].celsius);
        wf_put_number(j, "minutes", m->rests[i].minutes);
        wf_put_number(j, "water_l", m->rests[i].water_l);
        wf_put_number(j, "water_c", m->rests[i].water_celsius);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
    wf_put_close(j, '}');
}

static void put_vessels(struct wf_json_put *j, const struct wf_brewday *d)
{
    static const char *const name[] = {[WF_VESSEL_TUN] = "mash tun",
                                       [WF_VESSEL_KETTLE] = "kettle",
                                       [WF_VESSEL_FERMENTER] = "fermenter"};
    static const char *const fit[] = {
        [WF_FIT_GOOD] = "good", [WF_FIT_TIGHT] = "tight", [WF_FIT_OVER] = "over"};
    wf_put_open(j, "vessels", '[', false);
    for (size_t i = 0; i < WF_VESSEL_COUNT; i++) {
        const struct wf_brewday_vessel *v = &d->vessels[i];
        if (v->fit == WF_FIT_UNKNOWN)
            continue;
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "vessel", name[i]);
        wf_put_number(j, "holds_l", v->room_l);
        wf_put_number(j, "filled_l", v->filled_l);
        wf_put_string(j, "fit", fit[v->fit]);
        wf_put_number(j, "largest_batch_l", v->batch_l);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_boil(struct wf_json_put *j, const struct wf_brewday *d)
{
    static const char *const what[] = {
        [WF_ADD_HOP] = "hop", [WF_ADD_EXTRACT] = "extract", [WF_ADD_SUGAR] = "sugar"};
    static const char *const use[] = {[WF_HOP_FIRST_WORT] = "first-wort",
                                      [WF_HOP_BOIL] = "boil",
                                      [WF_HOP_STAND] = "stand",
                                      [WF_HOP_DRY] = "dry"};
    wf_put_number(j, "boil_minutes", d->boil_minutes);
    wf_put_open(j, "additions", '[', false);
    for (size_t i = 0; i < d->addition_count; i++) {
        const struct wf_brewday_addition *a = &d->additions[i];
        wf_put_open(j, NULL, '{', true);
        wf_put_string(j, "what", what[a->what]);
        wf_put_string(j, "name", a->name);
        wf_put_number(j, "kg", round(a->kg * 1e9) / 1e9); /* grams over 1000 end in noise */
        wf_put_string(j, "use", use[a->use]);
        wf_put_number(j, "clock_minutes", a->clock);
        wf_put_number(j, "minutes_to_go", a->to_go);
        wf_put_number(j, "temperature_c", a->celsius);
        wf_put_number(j, "days", a->days);
        wf_put_number(j, "ibu", a->ibu);
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_yeast(struct wf_json_put *j, const struct wf_brewday_yeast *y)
{
    const struct row rows[] = {
        {"million_per_ml_plato", y->rate},
        {"billion_cells", y->billion},
        {"dry_g", y->dry_g},
        {"slurry_l", y->slurry_l},
        {"low_c", y->celsius_low},
        {"high_c", y->celsius_high},
        {"gas_l", y->gas_l},
    };
    put_rows(j, "yeast", rows, WF_COUNT_OF(rows));
}

static void put_packaging(struct wf_json_put *j, const struct wf_brewday_packaging *k)
{
    static const char *const sugar[] = {
        [WF_SUCROSE] = "sucrose", [WF_DEXTROSE] = "dextrose", [WF_DRY_EXTRACT] = "malt extract"};
    wf_put_open(j, "packaging", '{', false);
    wf_put_string(j, "in", k->keg ? "keg" : "bottles");
    wf_put_number(j, "volumes", k->volumes);
    wf_put_number(j, "beer_c", k->celsius);
    wf_put_number(j, "residual_volumes", k->residual);
    if (!k->keg) {
        wf_put_string(j, "priming", sugar[k->priming]);
        wf_put_number(j, "priming_g_l", k->g_per_l);
        wf_put_number(j, "priming_g", k->sugar_g);
    }
    wf_put_number(j, "keg_bar", k->bar);
    wf_put_number(j, "bottle_bar", k->bottle_bar);
    wf_put_number(j, "bottle_c", k->bottle_celsius);
    wf_put_number(j, "volumes_per_point", k->volumes_per_point);
    wf_put_close(j, '}');
}

static void put_remedy(struct wf_json_put *j, const struct wf_correction *r)
{
    wf_put_open(j, NULL, '{', true);
    wf_put_number(j, "reading", r->reading);
    wf_put_number(j, "gravity_beside", r->beside_sg);
    wf_put_number(j, "boil_longer_minutes", r->minutes);
    wf_put_number(j, "leaves_l", r->left_l);
    wf_put_number(j, "dry_extract_kg", r->extract_kg);
    wf_put_number(j, "water_l", r->water_l);
    wf_put_number(j, "water_c", r->water_celsius);
    wf_put_number(j, "converted", r->converted);
    wf_put_number(j, "og_as_it_is", r->og);
    wf_put_number(j, "volumes_to_come", r->volumes);
    wf_put_number(j, "abv", r->abv);
    wf_put_close(j, '}');
}

static void put_points(struct wf_json_put *j, const struct wf_brewday *d)
{
    wf_put_open(j, "readings", '[', false);
    for (size_t i = 0; i < d->point_count; i++) {
        const struct wf_measuring *m = &d->points[i];
        wf_put_open(j, NULL, '{', false);
        wf_put_string(j, "what", wf_measure_name(m->what));
        wf_put_number(j, "expected", m->expected);
        wf_put_number(j, "near_enough", m->near_enough);
        wf_put_open(j, "remedies", '[', false);
        for (size_t k = 0; k < m->remedy_count; k++)
            put_remedy(j, &m->remedies[k]);
        wf_put_close(j, ']');
        wf_put_close(j, '}');
    }
    wf_put_close(j, ']');
}

static void put_hundredth(struct wf_json_put *j, const struct wf_hundredth *h)
{
    if (isnan(h->points_l))
        return;
    wf_put_open(j, "points_before_boil", '{', false);
    wf_put_number(j, "points_l", h->points_l);
    wf_put_number(j, "hundredth_dry_extract_kg", h->extract_kg);
    wf_put_number(j, "hundredth_l", h->litres);
    wf_put_close(j, '}');
}

enum wf_status wf_report_sheet_json(const struct wf_brewday *d, char **out, struct wf_error *e)
{
    struct wf_text text = {0};
    struct wf_json_put j = {.out = &text};
    wf_put_open(&j, NULL, '{', false);
    wf_put_string(&j, "recipe", d->recipe->name);
    wf_put_string(&j, "brewhouse", d->brewhouse);
    if (d->altitude_m != 0)
        wf_put_number(&j, "altitude_m", d->altitude_m);
    wf_put_number(&j, "boiling_c", d->boiling_celsius);
    put_water(&j, &d->water);
    put_vessels(&j, d);
    put_mash(&j, &d->mash);
    wf_put_number(&j, "first_runnings", d->first_sg);
    wf_put_number(&j, "before_boil", d->before_sg);
    wf_put_number(&j, "after_boil", d->after_sg);
    put_boil(&j, d);
    put_yeast(&j, &d->yeast);
    put_packaging(&j, &d->packaging);
    put_points(&j, d);
    put_hundredth(&j, &d->hundredth);
    if (*d->allergens)
        wf_put_string(&j, "allergens", d->allergens);
    wf_put_close(&j, '}');
    return wf_text_hand_over(&text, out, e);
}
