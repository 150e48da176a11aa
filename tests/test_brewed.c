/* Brews: what they tell, what is written of them and read again, what was really taken. */
#include "support/dice.h"
#include "support/memory.h"
#include "support/test.h"

#include "base/text.h"
#include "pantry/brew_parts.h"
#include "wortfit/brew.h"

#include <stdbool.h>
#include <unistd.h>

static struct wf_catalogue *catalogue;
static char folder[] = "/tmp/wortfit-brews-XXXXXX";
static char store_path[64], log_path[64];

static int set_up(void **state)
{
    (void)state;
    if (!mkdtemp(folder) || wf_catalogue_read(&catalogue, NULL) != WF_OK)
        return -1;
    snprintf(store_path, sizeof store_path, "%s/s.json", folder);
    snprintf(log_path, sizeof log_path, "%s/s.brews.jsonl", folder);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    remove(store_path);
    remove(log_path);
    wf_catalogue_free(catalogue);
    return rmdir(folder);
}

static const char recipe_text[] =
    "{ \"recipe\": \"Ale \\\"1\\\"\", \"batch_l\": 20, \"kettle\": { \"efficiency\": 0.75 },"
    "\"malts\": [{ \"id\": \"pale-ale-malt-british\", \"kg\": 4 },"
    "            { \"id\": \"crystal-60\", \"kg\": 0.3 }, { \"id\": \"cane-sugar\", \"kg\": 0.2 }],"
    "\"hops\": [{ \"id\": \"magnum\", \"g\": 20, \"at\": \"60 min\" },"
    "           { \"id\": \"cascade\", \"g\": 10, \"at\": \"10 min\" },"
    "           { \"id\": \"cascade\", \"g\": 20, \"at\": \"stand 20 min 80 C\" },"
    "           { \"id\": \"cascade\", \"g\": 30, \"at\": \"dry 4 days\" }],"
    "\"yeast\": { \"id\": \"american-ale-clean\" } }";

static struct wf_recipe *read_recipe(void)
{
    struct wf_recipe *r = NULL;
    assert_int_equal(
        wf_recipe_parse("r", recipe_text, strlen(recipe_text), NULL, catalogue, &r, NULL), WF_OK);
    return r;
}

/* What a recipe gives on a kettle. */
static struct wf_beer beer_on(struct wf_recipe *r, double efficiency, double batch_l)
{
    struct wf_kettle kept = r->kettle;
    r->kettle.efficiency = efficiency;
    r->kettle.batch_l = batch_l;
    assert_int_equal(wf_recipe_predict(r, NULL), WF_OK);
    struct wf_beer beer = r->predicted;
    r->kettle = kept;
    assert_int_equal(wf_recipe_predict(r, NULL), WF_OK);
    return beer;
}

/* ---- What a brew tells ----------------------------------------------------------------------- */

/* The way back: from what the laws give for any efficiency, volume and yeast to these three. */
static void a_brew_tells_what_it_came_from(void **state)
{
    struct dice dice = {7};
    (void)state;
    for (int i = 0; i < 200; i++) {
        struct wf_recipe *r = read_recipe();
        struct wf_brew_figures f;
        struct wf_measured m = wf_measured_none();
        double efficiency = dice_decimal(&dice, 40, 100, 100);
        double litres = dice_decimal(&dice, 120, 300, 10);
        double attenuation = dice_decimal(&dice, 60, 90, 100), planned = r->yeast.attenuation;
        r->yeast.attenuation = attenuation;
        struct wf_beer beer = beer_on(r, efficiency, litres);
        r->yeast.attenuation = planned;
        m.og = beer.og;
        m.fg = beer.fg;
        m.volume_l = litres;
        assert_int_equal(wf_brew_reckon(r, &m, &f, NULL), WF_OK);
        assert_close(f.efficiency, efficiency, 1e-9);
        assert_close(f.attenuation, attenuation, 1e-9);
        assert_close(f.beer.og, beer.og, 1e-9);
        assert_close(f.beer.ibu, beer.ibu, 1e-9);
        assert_close(f.beer.srm, beer.srm, 1e-9);
        assert_true(isnan(f.evaporation_l_h));
        wf_recipe_free(r);
    }
}

static void evaporation_is_from_volumes_or_gravities(void **state)
{
    struct wf_recipe *r = read_recipe();
    struct wf_brew_figures f;
    struct wf_measured m = wf_measured_none();
    double thick, thin;
    (void)state;
    m.og = 1.050;
    m.volume_l = 20;
    m.boil_minutes = 90;
    m.pre_boil_l = 26;
    assert_int_equal(wf_brew_reckon(r, &m, &f, NULL), WF_OK);
    assert_close(f.evaporation_l_h, 4, 1e-12); /* 6 L in an hour and a half */
    m.pre_boil_l = (double)NAN;
    assert_int_equal(wf_extract_from_gravity(m.og, &thick), WF_OK);
    assert_int_equal(wf_gravity_from_extract(thick * 20 / 26, &m.pre_boil_gravity), WF_OK);
    assert_int_equal(wf_extract_from_gravity(m.pre_boil_gravity, &thin), WF_OK);
    assert_int_equal(wf_brew_reckon(r, &m, &f, NULL), WF_OK);
    assert_close(f.evaporation_l_h, 4, 1e-6);
    m.pre_boil_gravity = 1.060; /* stronger before the boil than after it: tells nothing */
    assert_int_equal(wf_brew_reckon(r, &m, &f, NULL), WF_OK);
    assert_true(isnan(f.evaporation_l_h));
    wf_recipe_free(r);
}

static void a_shorter_boil_boils_its_hops_shorter(void **state)
{
    struct wf_recipe *r = read_recipe();
    struct wf_brew_figures whole, half;
    struct wf_measured m = wf_measured_none();
    (void)state;
    m.og = 1.048;
    m.volume_l = 20;
    assert_int_equal(wf_brew_reckon(r, &m, &whole, NULL), WF_OK);
    m.boil_minutes = 30;
    assert_int_equal(wf_brew_reckon(r, &m, &half, NULL), WF_OK);
    assert_true(half.beer.ibu < whole.beer.ibu && half.beer.ibu > whole.beer.ibu / 2);
    wf_recipe_free(r);
}

static void figures_that_do_not_go_with_the_grist_are_refused(void **state)
{
    static const struct {
        double og, litres, fg;
        const char *says;
    } row[] = {{1.050, 40, 1.010, "no more than"},
               {1.002, 2, 1.001, "in its sugars alone"},
               {1.050, 20, 1.050, "is not below"}};
    struct wf_recipe *r = read_recipe();
    (void)state;
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        struct wf_brew_figures f;
        struct wf_error e = {0};
        struct wf_measured m = wf_measured_none();
        m.og = row[i].og;
        m.volume_l = row[i].litres;
        m.fg = row[i].fg;
        assert_int_equal(wf_brew_reckon(r, &m, &f, &e), WF_BAD_INPUT);
        assert_non_null(strstr(e.text, row[i].says));
    }
    wf_recipe_free(r);
}

/* ---- One word for a recipe ------------------------------------------------------------------- */

static void a_hash_is_of_lots_weights_and_times(void **state)
{
    char first[WF_RECIPE_HASH_MAX], second[WF_RECIPE_HASH_MAX];
    struct wf_recipe *r = read_recipe();
    (void)state;
    wf_recipe_hash(r, first);
    assert_int_equal(strlen(first), WF_RECIPE_HASH_MAX - 1);
    r->name = "another name";
    r->kettle.efficiency = 0.6;
    r->kettle.batch_l = 25;
    r->malts[0].kg += 1e-9;
    wf_recipe_hash(r, second);
    assert_string_equal(first, second);
    r->malts[0].kg += 0.01;
    wf_recipe_hash(r, second);
    assert_string_not_equal(first, second);
    r->malts[0].kg -= 0.01;
    r->hops[1].addition.minutes = 15;
    wf_recipe_hash(r, second);
    assert_string_not_equal(first, second);
    wf_recipe_free(r);
}

/* ---- What was really taken ------------------------------------------------------------------- */

static void what_was_taken_takes_the_place_of_what_was_said(void **state)
{
    static const char *const used[] = {"crystal-60=350 g", "cascade=3 oz", "american-ale-clean=2",
                                       NULL};
    struct wf_recipe *r = read_recipe();
    double packs = 1, ounce = WF_KG_PER_OZ * 1000;
    (void)state;
    assert_int_equal(wf_recipe_take(r, used, &packs, NULL), WF_OK);
    assert_close(r->malts[0].kg, 4, 0);
    assert_close(r->malts[1].kg, 0.35, 1e-12);
    assert_close(r->hops[1].grams, ounce * 3 / 6, 1e-9); /* 10 of 60 g were at 10 min */
    assert_close(r->hops[2].grams, ounce * 3 / 3, 1e-9);
    assert_close(r->hops[3].grams, ounce * 3 / 2, 1e-9);
    assert_close(packs, 2, 0);
    assert_close(r->malts[1].share, 0.35 / 4.55, 1e-12);
    wf_recipe_free(r);
}

static void what_cannot_have_been_taken_is_refused(void **state)
{
    static const struct {
        const char *used;
        enum wf_status status;
    } row[] = {{"crystal-60", WF_USAGE},     {"=3 g", WF_USAGE},
               {"crystal-60=", WF_USAGE},    {"crystal-60=-3 g", WF_USAGE},
               {"crystal-60=3", WF_USAGE},   {"crystal=3 g", WF_BAD_INPUT},
               {"simcoe=3 g", WF_BAD_INPUT}, {"american-ale-clean=3 g", WF_USAGE}};
    (void)state;
    for (size_t i = 0; i < COUNT_OF(row); i++) {
        const char *const used[] = {row[i].used, NULL};
        struct wf_recipe *r = read_recipe();
        double packs = 1;
        struct wf_error e = {0};
        if (wf_recipe_take(r, used, &packs, &e) != row[i].status || e.count != 1)
            fail_msg("%s: %s", row[i].used, e.text);
        wf_recipe_free(r);
    }
}

/* ---- Written and read again ------------------------------------------------------------------ */

static struct wf_brewed_asked asked_of(const struct wf_recipe *r, char hash[WF_RECIPE_HASH_MAX])
{
    struct wf_brewed_asked asked = {.store = store_path,
                                    .recipe = r,
                                    .planned = r->predicted,
                                    .hash = hash,
                                    .on = 20782,
                                    .measured = wf_measured_none(),
                                    .packs = 1};
    wf_recipe_hash(r, hash);
    asked.measured.og = 1.048;
    asked.measured.volume_l = 19.5;
    asked.measured.boil_minutes = 65;
    return asked;
}

static struct wf_log *parse(const char *text)
{
    static struct wf_error e;
    struct wf_log *log = NULL;
    wf_error_clear(&e);
    if (wf_log_parse("log", text, strlen(text), catalogue, &log, &e) != WF_OK)
        fail_msg("%s", e.text);
    return log;
}

static void a_line_reads_back_as_the_brew(void **state)
{
    struct wf_recipe *r = read_recipe();
    char hash[WF_RECIPE_HASH_MAX], again[WF_RECIPE_HASH_MAX];
    struct wf_brewed_asked asked = asked_of(r, hash);
    struct wf_measured later = wf_measured_none();
    struct wf_text line = {0};
    (void)state;
    later.fg = 1.011;
    wf_log_add_brew(&line, &asked, "2026-11-25-00000000");
    wf_log_add_later(&line, "2026-11-25-00000000", 20782, &later);
    later.fg = 1.010; /* measured once more: the last one counts */
    wf_log_add_later(&line, "2026-11-25-00000000", 20782, &later);
    struct wf_log *log = parse(line.data);
    assert_int_equal(log->count, 1);
    assert_int_equal(log->lines, 3);
    const struct wf_brew *b = &log->brews[0];
    wf_recipe_hash(b->recipe, again);
    assert_string_equal(again, hash);
    assert_string_equal(b->recipe->name, "Ale \"1\"");
    assert_int_equal(b->on, 20782);
    assert_close(b->measured.og, 1.048, 0);
    assert_close(b->measured.boil_minutes, 65, 0);
    assert_close(b->measured.fg, 1.010, 0);
    assert_true(isnan(b->measured.ibu));
    assert_close(b->recipe->predicted.og, r->predicted.og, 1e-12);
    assert_close(b->recipe->predicted.ibu, r->predicted.ibu, 1e-9);
    assert_close(b->recipe->predicted.srm, r->predicted.srm, 1e-9);
    assert_close(b->planned.fg, r->predicted.fg, 1e-12);
    wf_log_free(log);
    wf_text_free(&line);
    wf_recipe_free(r);
}

static void blank_lines_and_a_missing_end_are_no_slips(void **state)
{
    static const char line[] =
        "{\"version\":1,\"brew\":\"a\",\"on\":\"2026-11-25\",\"recipe_hash\":\"0\",\"measured\":{"
        "\"og\":1.045,\"volume_l\":20},\"recipe\":{\"recipe\":\"r\",\"malts\":[{\"id\":"
        "\"pilsner-malt\",\"kg\":4}]}}";
    char text[1024];
    (void)state;
    struct wf_log *log = parse("");
    assert_int_equal(log->count, 0);
    wf_log_free(log);
    snprintf(text, sizeof text, "\n  \r\n%s", line);
    log = parse(text);
    assert_int_equal(log->count, 1);
    assert_int_equal(log->brews[0].line, 3);
    wf_log_free(log);
}

/* A log that is cut anywhere holds fewer brews, or is refused, with its line. */
static void cut_logs_are_noticed(void **state)
{
    struct wf_recipe *r = read_recipe();
    char hash[WF_RECIPE_HASH_MAX];
    struct wf_brewed_asked asked = asked_of(r, hash);
    struct wf_text text = {0};
    (void)state;
    wf_log_add_brew(&text, &asked, "a");
    size_t first = text.length;
    wf_log_add_brew(&text, &asked, "b");
    for (size_t cut = 0; cut < text.length; cut++) {
        struct wf_error e = {0};
        struct wf_log *log = NULL;
        char *copy = malloc(cut + 1);
        memcpy(copy, text.data, cut);
        enum wf_status status = wf_log_parse("log", copy, cut, catalogue, &log, &e);
        bool between = cut == 0 || cut == first - 1 || cut == first || cut == text.length - 1;
        assert_int_equal(status, between ? WF_OK : WF_BAD_INPUT);
        if (!between)
            assert_non_null(strstr(e.text, "cut off"));
        free(copy);
        wf_log_free(log);
    }
    wf_text_free(&text);
    wf_recipe_free(r);
}

static void damaged_logs_do_no_harm(void **state)
{
    static const char telling[] = "{}[]\":,/*\\-+.0179eEuntf %\n\t\x01\x7F\x80\xC3\xFF";
    static struct wf_error e;
    struct dice dice = {20261126};
    struct wf_recipe *r = read_recipe();
    char hash[WF_RECIPE_HASH_MAX];
    struct wf_brewed_asked asked = asked_of(r, hash);
    struct wf_text text = {0};
    (void)state;
    wf_log_add_brew(&text, &asked, "a");
    wf_log_add_later(&text, "a", 20782, &asked.measured);
    for (size_t at = 0; at < text.length; at++) {
        struct wf_log *log = NULL;
        char kept = text.data[at];
        text.data[at] = telling[dice_whole(&dice, 0, (long)sizeof telling - 1)];
        wf_error_clear(&e);
        enum wf_status status = wf_log_parse("log", text.data, text.length, catalogue, &log, &e);
        assert_true(status == WF_OK || (status == WF_BAD_INPUT && e.count > 0));
        wf_log_free(log);
        text.data[at] = kept;
    }
    wf_text_free(&text);
    wf_recipe_free(r);
}

/* ---- Memory ---------------------------------------------------------------------------------- */

static void put_store(void)
{
    static const char text[] =
        "{ \"store\": \"s\", \"malts\": [{ \"id\": \"pale-ale-malt-british\", \"have\": \"9 kg\" },"
        "{ \"id\": \"crystal-60\", \"have\": \"9 kg\" }, { \"id\": \"cane-sugar\" }],"
        "\"hops\": [{ \"id\": \"magnum\", \"have\": \"90 g\" }, { \"id\": \"cascade\", \"have\": "
        "\"90 g\" }], \"yeasts\": [{ \"id\": \"american-ale-clean\", \"have\": 2 }] }";
    remove(log_path);
    FILE *f = fopen(store_path, "w"); /* wf_file_write would take of the memory that runs out */
    assert_non_null(f);
    assert_true(fputs(text, f) >= 0 && fclose(f) == 0);
}

static enum wf_status brew_and_measure(void *data, struct wf_error *e)
{
    struct wf_recipe *r = data;
    char hash[WF_RECIPE_HASH_MAX];
    struct wf_brewed_asked asked = asked_of(r, hash);
    struct wf_brewed *b = NULL;
    struct wf_log *log = NULL;
    const struct wf_brew *found;
    put_store();
    enum wf_status status = wf_brewed(&asked, catalogue, &b, e);
    wf_brewed_free(b);
    if (status != WF_OK)
        return status;
    asked.measured = wf_measured_none();
    asked.measured.fg = 1.010;
    status = wf_brewed_later(&asked, catalogue, &log, &found, e);
    wf_log_free(log);
    return status;
}

static void memory_that_runs_out_changes_nothing(void **state)
{
    struct wf_recipe *r = read_recipe();
    (void)state;
    check_out_of_memory(brew_and_measure, r, 100, 7);
    struct wf_log *log = NULL;
    assert_int_equal(wf_log_read(log_path, catalogue, &log, NULL), WF_OK);
    assert_int_equal(log->count, 1);
    assert_close(log->brews[0].measured.fg, 1.010, 0);
    wf_log_free(log);
    wf_recipe_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_brew_tells_what_it_came_from),
        cmocka_unit_test(evaporation_is_from_volumes_or_gravities),
        cmocka_unit_test(a_shorter_boil_boils_its_hops_shorter),
        cmocka_unit_test(figures_that_do_not_go_with_the_grist_are_refused),
        cmocka_unit_test(a_hash_is_of_lots_weights_and_times),
        cmocka_unit_test(what_was_taken_takes_the_place_of_what_was_said),
        cmocka_unit_test(what_cannot_have_been_taken_is_refused),
        cmocka_unit_test(a_line_reads_back_as_the_brew),
        cmocka_unit_test(blank_lines_and_a_missing_end_are_no_slips),
        cmocka_unit_test(cut_logs_are_noticed),
        cmocka_unit_test(damaged_logs_do_no_harm),
        cmocka_unit_test(memory_that_runs_out_changes_nothing),
    };
    return cmocka_run_group_tests_name("brewed", tests, set_up, tear_down);
}
