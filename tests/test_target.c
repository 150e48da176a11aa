/* Targets: wishes, rules, the hop schedule; the built-in beers. */
#include "support/test.h"

#include "catalogue/embedded.h"
#include "pantry/hop_time.h"
#include "wortfit/pantry.h"

#include <dirent.h>
#include <stdbool.h>

static struct wf_catalogue *catalogue;
static struct wf_error error;

static int set_up(void **state)
{
    (void)state;
    return wf_catalogue_read(&catalogue, &error) == WF_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_catalogue_free(catalogue);
    catalogue = NULL;
    return 0;
}

static struct wf_target *read_target(const char *text)
{
    struct wf_target *t;
    wf_error_clear(&error);
    if (wf_target_parse("target.json", text, strlen(text), catalogue, &t, &error) != WF_OK)
        fail_msg("%s", error.text);
    return t;
}

static void check_range(struct wf_range got, double low, double high)
{
    if (isinf(low))
        assert_true(got.low == low);
    else
        assert_close(got.low, low, 1e-9);
    if (isinf(high))
        assert_true(got.high == high);
    else
        assert_close(got.high, high, 1e-9);
}

/* ---- Wishes ---------------------------------------------------------------------------------- */

static void a_target_wishes_nothing_unasked(void **state)
{
    struct wf_target *t = read_target("{\"target\": \"x\", \"og\": 1.055}");
    (void)state;
    assert_string_equal(t->id, "x");
    assert_string_equal(t->name, "x");
    assert_string_equal(t->about, "");
    assert_true(isnan(t->batch_l) && isnan(t->boil_minutes));
    check_range(t->og, 1.054, 1.056);
    assert_close(t->og.aim, 1.055, 1e-12);
    assert_true(wf_range_is_any(t->colour) && wf_range_is_any(t->ratio));
    assert_true(wf_range_is_any(t->bitterness) && wf_range_is_any(t->fg));
    assert_true(wf_range_is_any(t->abv) && wf_range_is_any(t->attenuation));
    assert_true(wf_range_is_any(t->guideline.og) && !t->guideline.source);
    assert_close(t->diastatic, 35, 0);
    assert_int_equal(t->rule_count + t->slot_count + t->wish_count, 0);
    assert_true(!t->yeasts && !t->use && !t->avoid && !t->aliases);
    wf_target_free(t);
}

static void bare_aims_get_the_default_tolerances(void **state)
{
    struct wf_target *t = read_target(
        "{\"target\": \"x\", \"og\": \"1.050\", \"colour\": \"12 SRM\", \"ratio\": \"0.6\","
        "\"fg\": \"1.012\", \"abv\": \"5 %\", \"attenuation\": \"75 %\","
        "\"grist\": [{\"class\": \"base\", \"share\": \"80 %\"}, {\"class\": \"roast\", \"share\": "
        "\"0.5 %\"}],"
        "\"character\": {\"caramel\": 2}, \"hops\": [{\"at\": \"5 min\", \"dose\": \"1 g/L\"}]}");
    struct wf_target *u =
        read_target("{\"target\": \"x\", \"og\": \"1.050 +/- 0.003\", \"bitterness\": \"35 IBU\","
                    "\"colour\": \">= 20 EBC\", \"diastatic\": \"50 Lintner\"}");
    (void)state;
    check_range(t->og, 1.049, 1.051);
    check_range(t->colour, 11, 13);
    check_range(t->ratio, 0.58, 0.62);
    check_range(t->fg, 1.011, 1.013);
    check_range(t->abv, 0.048, 0.052);
    check_range(t->attenuation, 0.74, 0.76);
    check_range(t->rules[0].share, 0.79, 0.81);
    check_range(t->rules[1].share, 0, 0.015); /* not below nothing */
    check_range(t->wishes[0].index, 1.9, 2.1);
    check_range(t->slots[0].dose, 1, 1); /* met to the nearest step */
    check_range(u->og, 1.047, 1.053);
    check_range(u->bitterness, 33, 37);
    check_range(u->colour, 20 / 1.97, (double)INFINITY);
    assert_close(u->diastatic, 50, 0);
    wf_target_free(t);
    wf_target_free(u);
}

static void a_whole_target_is_read(void **state)
{
    struct wf_target *t;
    (void)state;
    wf_error_clear(&error);
    if (wf_target_read(WF_SOURCE_DIR "/examples/my-amber.json", catalogue, &t, &error) != WF_OK)
        fail_msg("%s", error.text);
    assert_string_equal(t->id, "my-amber");
    assert_string_equal(t->aliases[0], "lane-amber");
    assert_close(t->batch_l, 20, 0);
    check_range(t->colour, 11.5, 14.5);
    check_range(t->guideline.bitterness, 25, 40);
    assert_int_equal(t->rule_count, 7);
    assert_int_equal(t->wish_count, 3);
    assert_int_equal(t->slot_count, 4);
    assert_string_equal(t->yeasts[0], "american-ale-clean");
    assert_string_equal(t->use[0], "munich-malt-light");
    assert_string_equal(t->avoid[1], "peat-smoked-malt");
    assert_close(t->diastatic, 40, 0);
    wf_target_free(t);
}

/* ---- Rules ----------------------------------------------------------------------------------- */

static void rules_know_whom_they_mean(void **state)
{
    struct wf_target *t = read_target(
        "{\"target\": \"x\", \"og\": 1.05, \"grist\": ["
        "{\"class\": \"caramel\", \"share\": \"<= 10 %\", \"least\": 1, \"most\": 2},"
        "{\"class\": \"adjunct\", \"most\": 0},"
        "{\"malt\": \"roasted-barley-500\", \"share\": \"<= 2 %\"},"
        "{\"malt\": \"of-my-own\", \"share\": \"<= 2 %\"},"
        "{\"any\": [\"vienna-malt\", \"high-kilned\", \"roast\"], \"share\": \"<= 15 %\"},"
        "{\"any\": [], \"least\": 2},"
        "{\"any\": [\"vienna-malt\"], \"most\": 1, \"words\": \"Vienna\"}]}");
    const struct wf_malt *crystal = wf_catalogue_malt(catalogue, "crystal-60");
    const struct wf_malt *vienna = wf_catalogue_malt(catalogue, "vienna-malt");
    const struct wf_malt *sugar = wf_catalogue_malt(catalogue, "cane-sugar");
    const struct wf_malt *pilsner = wf_catalogue_malt(catalogue, "pilsner-malt");
    struct wf_malt lot = *wf_catalogue_malt(catalogue, "roasted-barley-500");
    const struct wf_rule *r = t->rules;
    (void)state;
    lot.id = "of-my-own";
    assert_int_equal(t->rule_count, 7);
    assert_string_equal(r[0].words, "caramel malts");
    assert_int_equal(r[0].least, 1);
    assert_int_equal(r[0].most, 2);
    assert_true(wf_malt_set_has(&r[0].who, crystal) && !wf_malt_set_has(&r[0].who, pilsner));
    assert_string_equal(r[1].words, "adjuncts");
    assert_int_equal(r[1].least, -1);
    assert_int_equal(r[1].most, 0);
    assert_true(wf_range_is_any(r[1].share));
    assert_true(wf_malt_set_has(&r[1].who, sugar) && !wf_malt_set_has(&r[1].who, crystal));
    assert_string_equal(r[2].words, lot.name);
    assert_true(wf_malt_set_has(&r[2].who, &lot)); /* by what it is */
    assert_string_equal(r[3].words, "of-my-own");
    assert_true(wf_malt_set_has(&r[3].who, &lot)); /* by its own name */
    assert_string_equal(r[4].words, "Vienna malt, high-kilned malts and roast malts");
    assert_true(wf_malt_set_has(&r[4].who, vienna) && wf_malt_set_has(&r[4].who, &lot));
    assert_false(wf_malt_set_has(&r[4].who, pilsner));
    assert_string_equal(r[5].words, "all malts");
    assert_true(wf_malt_set_has(&r[5].who, sugar));
    assert_string_equal(r[6].words, "Vienna");
    wf_target_free(t);
}

/* ---- Hops ------------------------------------------------------------------------------------ */

static const struct {
    const char *text;
    struct wf_hop_time want;
} time_row[] = {
    {"60 min", {WF_HOP_BOIL, 60, 0, 0}},
    {"0 min", {WF_HOP_BOIL, 0, 0, 0}},
    {"1.5 h", {WF_HOP_BOIL, 90, 0, 0}},
    {"10min", {WF_HOP_BOIL, 10, 0, 0}},
    {"first wort", {WF_HOP_FIRST_WORT, 0, 0, 0}},
    {"stand 20 min 80 C", {WF_HOP_STAND, 20, 80, 0}},
    {"stand 0.5 h 176 F", {WF_HOP_STAND, 30, 80, 0}},
    {"stand  20min  80C", {WF_HOP_STAND, 20, 80, 0}},
    {"dry 4 days", {WF_HOP_DRY, 0, 0, 4}},
    {"dry 1 week", {WF_HOP_DRY, 0, 0, 7}},
};
static const char *const no_time[] = {"",
                                      "min",
                                      "60",
                                      "sixty min",
                                      "60 min 80 C",
                                      "-1 min",
                                      "first",
                                      "stand",
                                      "stand ",
                                      "stand 80 C",
                                      "stand 20 min",
                                      "dry",
                                      "dry ",
                                      "dry hop",
                                      "dry 4 days extra",
                                      "First wort ",
                                      "stand 20 min 101 C",
                                      "241 min",
                                      "dry 61 days",
                                      "first wort 60 min",
                                      "1000000000000000000000000000000000000000 min"};

static void times_are_read_as_brewers_write_them(void **state)
{
    char why[WF_REASON_MAX];
    (void)state;
    for (size_t i = 0; i < COUNT_OF(time_row); i++) {
        struct wf_hop_time got, want = time_row[i].want;
        if (!wf_hop_time_parse(time_row[i].text, &got, why))
            fail_msg("\"%s\": %s", time_row[i].text, why);
        assert_int_equal(got.use, want.use);
        assert_close(got.minutes, want.minutes, 1e-9);
        assert_close(got.celsius, want.celsius, 1e-9);
        assert_close(got.days, want.days, 1e-9);
    }
    for (size_t i = 0; i < COUNT_OF(no_time); i++) {
        struct wf_hop_time got;
        if (wf_hop_time_parse(no_time[i], &got, why))
            fail_msg("\"%s\" is accepted", no_time[i]);
    }
}

static void slots_are_read(void **state)
{
    struct wf_target *t = read_target(
        "{\"target\": \"x\", \"og\": 1.05, \"hops\": ["
        "{\"at\": \"60 min\"},"
        "{\"at\": \"10 min\", \"dose\": \"0.8..1.5 g/L\", \"character\": {\"citrus\": \">= 2\", "
        "\"noble\": \"<= 1\"}},"
        "{\"at\": \"stand 20 min 80 C\", \"dose\": \"1 g/L\", \"hop\": [\"cascade\", "
        "\"centennial\"], \"most\": 2},"
        "{\"at\": \"dry 4 days\", \"dose\": \"2 g/L\", \"origin\": \"USA\", \"hop\": \"citra\"}]}");
    const struct wf_slot *s = t->slots;
    (void)state;
    assert_int_equal(t->slot_count, 4);
    assert_string_equal(s[0].at, "60 min");
    assert_true(!s[0].dosed && wf_range_is_any(s[0].dose) && !s[0].hops && !s[0].origins);
    assert_int_equal(s[0].most, 1);
    assert_true(s[1].dosed);
    check_range(s[1].dose, 0.8, 1.5);
    assert_int_equal(s[1].wish_count, 2);
    assert_int_equal(s[1].wishes[0].word, WF_WORD_CITRUS);
    check_range(s[1].wishes[0].index, 2, (double)INFINITY);
    assert_int_equal(s[2].use, WF_HOP_STAND);
    assert_close(s[2].celsius, 80, 1e-9);
    assert_string_equal(s[2].hops[1], "centennial");
    assert_null(s[2].hops[2]);
    assert_int_equal(s[2].most, 2);
    assert_close(s[3].days, 4, 0);
    assert_string_equal(s[3].origins[0], "USA");
    assert_string_equal(s[3].hops[0], "citra");
    wf_target_free(t);
}

/* ---- Built-in beers -------------------------------------------------------------------------- */

static void built_in_beers_are_found(void **state)
{
    struct wf_target *t;
    (void)state;
    wf_error_clear(&error);
    assert_int_equal(wf_target_find("amber-ale", catalogue, &t, &error), WF_OK);
    assert_string_equal(t->id, "amber-ale");
    wf_target_free(t);
    assert_int_equal(wf_target_find("american-amber", catalogue, &t, &error), WF_OK);
    assert_string_equal(t->id, "amber-ale");
    wf_target_free(t);
    assert_int_equal(wf_target_find(WF_SOURCE_DIR "/examples/my-amber.json", catalogue, &t, &error),
                     WF_OK);
    assert_string_equal(t->id, "my-amber");
    wf_target_free(t);
    assert_int_equal(wf_target_find("ambre-ale", catalogue, &t, &error), WF_BAD_INPUT);
    assert_null(t);
    assert_string_equal(error.text, "no built-in beer is called \"ambre-ale\"; the nearest is "
                                    "\"amber-ale\"; a file is given with a \"/\" in it or "
                                    "\".json\" at its end");
    assert_int_equal(wf_target_find("no-such.json", catalogue, &t, &error), WF_FILE);
    assert_int_equal(wf_target_find("", catalogue, &t, &error), WF_BAD_INPUT);
    assert_int_equal(wf_target_builtin(wf_target_builtin_count(), catalogue, &t, &error), WF_USAGE);
}

/* The list in the build names each file of targets/, in order. */
static void every_target_file_is_built_in(void **state)
{
    DIR *dir = opendir(WF_SOURCE_DIR "/targets");
    size_t files = 0, count = wf_target_builtin_count();
    (void)state;
    assert_non_null(dir);
    for (struct dirent *entry; (entry = readdir(dir)) != NULL;) {
        const char *dot = strrchr(entry->d_name, '.');
        bool found = false;
        if (!dot || dot == entry->d_name || strcmp(dot, ".json") != 0)
            continue;
        files++;
        size_t length = (size_t)(dot - entry->d_name);
        for (size_t i = 0; i < count && !found; i++)
            found = strlen(wf_embedded_targets[i].name) == length &&
                    memcmp(wf_embedded_targets[i].name, entry->d_name, length) == 0;
        if (!found)
            fail_msg("targets/%s is not in the list of src/catalogue/CMakeLists.txt",
                     entry->d_name);
    }
    closedir(dir);
    assert_int_equal(files, count);
    for (size_t i = 1; i < count; i++)
        assert_true(strcmp(wf_embedded_targets[i - 1].name, wf_embedded_targets[i].name) < 0);
}

static const char *const families[] = {"ale",          "hybrid-ale", "hybrid-lager",     "lager",
                                       "ale-phenolic", "wild",       "non-saccharomyces"};

static bool is_known(const char *id)
{
    for (size_t i = 0; i < COUNT_OF(families); i++)
        if (strcmp(families[i], id) == 0)
            return true;
    return wf_catalogue_malt(catalogue, id) || wf_catalogue_hop(catalogue, id) ||
           wf_catalogue_yeast(catalogue, id);
}

static void check_known(const struct wf_target *t, const char *const *ids)
{
    for (; ids && *ids; ids++)
        if (!is_known(*ids))
            fail_msg("%s names \"%s\", which is not in the catalogue", t->id, *ids);
}

static bool from_somewhere(const char *country)
{
    for (size_t i = 0; i < catalogue->hop_count; i++)
        if (catalogue->hops[i].origin && strcmp(catalogue->hops[i].origin, country) == 0)
            return true;
    return false;
}

static void built_in_beers_name_only_what_the_catalogue_has(void **state)
{
    (void)state;
    for (size_t i = 0; i < wf_target_builtin_count(); i++) {
        struct wf_target *t;
        wf_error_clear(&error);
        if (wf_target_builtin(i, catalogue, &t, &error) != WF_OK)
            fail_msg("%s", error.text);
        assert_string_equal(t->id, wf_embedded_targets[i].name);
        check_known(t, t->yeasts);
        check_known(t, t->use);
        check_known(t, t->avoid);
        for (size_t k = 0; k < t->rule_count; k++)
            check_known(t, t->rules[k].who.ids);
        for (size_t k = 0; k < t->slot_count; k++) {
            check_known(t, t->slots[k].hops);
            for (size_t n = 0; t->slots[k].origins && t->slots[k].origins[n]; n++)
                if (!from_somewhere(t->slots[k].origins[n]))
                    fail_msg("%s: no hop is from %s", t->id, t->slots[k].origins[n]);
        }
        wf_target_free(t);
    }
}

/* Ids and aliases of all beers differ. */
static void names_of_beers_are_unique(void **state)
{
    static char name[2000][80];
    size_t count = 0;
    (void)state;
    for (size_t i = 0; i < wf_target_builtin_count(); i++) {
        struct wf_target *t;
        assert_int_equal(wf_target_builtin(i, NULL, &t, &error), WF_OK);
        snprintf(name[count++], sizeof name[0], "%s", t->id);
        for (size_t k = 0; t->aliases && t->aliases[k] && count < COUNT_OF(name); k++)
            snprintf(name[count++], sizeof name[0], "%s", t->aliases[k]);
        wf_target_free(t);
    }
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < i; k++)
            if (strcmp(name[i], name[k]) == 0)
                fail_msg("two beers are called \"%s\"", name[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_target_wishes_nothing_unasked),
        cmocka_unit_test(bare_aims_get_the_default_tolerances),
        cmocka_unit_test(a_whole_target_is_read),
        cmocka_unit_test(rules_know_whom_they_mean),
        cmocka_unit_test(times_are_read_as_brewers_write_them),
        cmocka_unit_test(slots_are_read),
        cmocka_unit_test(built_in_beers_are_found),
        cmocka_unit_test(every_target_file_is_built_in),
        cmocka_unit_test(built_in_beers_name_only_what_the_catalogue_has),
        cmocka_unit_test(names_of_beers_are_unique),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down) != 0;
}
