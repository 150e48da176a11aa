/* Reports of a finished recipe: what a brewer reads, and what a program reads. */
#include "support/test.h"

#include "base/alloc.h"
#include "report/style.h"
#include "wortfit/wortfit.h"

#include <cjson/cJSON.h>

/* ---- A recipe made by hand, with a hostile name, a lot without a price and one missed wish -----
 */

struct sample {
    struct wf_recipe_malt malts[2];
    struct wf_recipe_hop hops[4];
    struct wf_wish_result wishes[3];
    struct wf_proof proofs[2];
    struct wf_recipe recipe;
};

static const struct wf_recipe_malt sample_malts[] = {
    {.id = "house-crystal",
     .of = "crystal-60",
     .name = "Crystal \033[31m\xE2\x80\xAEred",
     .class = WF_CLASS_CARAMEL,
     .grain = {.yield = 0.68, .lovibond = 58, .fermentability = 0.7, .mashed = true},
     .kg = 0.45,
     .share = 0.09375,
     .usual_most = 0.15,
     .cost = (double)NAN},
    {.id = "pale-malt",
     .of = "pale-malt",
     .name = "Pale malt",
     .class = WF_CLASS_BASE,
     .grain = {.yield = 0.784, .lovibond = 2.9, .lintner = 58, .fermentability = 1, .mashed = true},
     .kg = 4.35,
     .share = 0.90625,
     .usual_most = 1,
     .cost = 7.1775},
};

static const struct wf_recipe_hop sample_hops[] = {
    {.id = "magnum",
     .name = "Magnum",
     .addition = {.use = WF_HOP_FIRST_WORT, .alpha = 0.128, .form = 1},
     .grams = 10,
     .days = (double)NAN,
     .ibu = 20.25,
     .cost = 0.4},
    {.id = "cascade",
     .name = "Cascade",
     .addition = {.use = WF_HOP_BOIL, .alpha = 0.0545, .minutes = 10, .form = 1},
     .grams = 28,
     .days = (double)NAN,
     .ibu = 8,
     .cost = 1.25},
    {.id = "centennial",
     .name = "Centennial",
     .addition = {.use = WF_HOP_STAND, .alpha = 0.1, .minutes = 20, .celsius = 80, .form = 0.9},
     .whole = true,
     .grams = 20,
     .days = (double)NAN,
     .ibu = 2.5,
     .cost = 1},
    {.id = "cascade",
     .name = "Cascade",
     .addition = {.use = WF_HOP_DRY, .alpha = 0.0545, .form = 1},
     .grams = 25,
     .days = 4,
     .cost = 1.15},
};

static void make_sample(struct sample *s)
{
    memset(s, 0, sizeof *s);
    memcpy(s->malts, sample_malts, sizeof s->malts);
    memcpy(s->hops, sample_hops, sizeof s->hops);
    s->malts[0].character[WF_WORD_CARAMEL] = 5;
    s->wishes[0] = (struct wf_wish_result){"original gravity",
                                           WF_DIM_GRAVITY,
                                           {1.054, 1.056, 1.055},
                                           1.0551,
                                           true,
                                           0,
                                           WF_WISH_OG,
                                           0,
                                           0};
    s->wishes[1] = (struct wf_wish_result){
        "colour", WF_DIM_BEER_COLOUR, {12.5, 14.5, 13.5}, 15.7, false, 1.2, WF_WISH_OG, 0, 0};
    s->wishes[2] = (struct wf_wish_result){
        "caramel", WF_DIM_NUMBER, {1.5, (double)INFINITY, (double)NAN}, 3, true, 0, WF_WISH_OG, 0,
        0};
    s->proofs[0] = (struct wf_proof){"cost", 10.98, 10.9799, 0.00001};
    s->proofs[1] = (struct wf_proof){"fewest", 8, 6.2, 0.225};
    s->recipe =
        (struct wf_recipe){.name = "Amber",
                           .status = WF_RECIPE_GOOD,
                           .kettle = {20, 0.75, 60, 3, 0.9, WF_TINSETH, 0, 0},
                           .stand_celsius = 80,
                           .stand_length = 20,
                           .malts = s->malts,
                           .malt_count = 2,
                           .hops = s->hops,
                           .hop_count = 4,
                           .yeast = {"clean", "clean", "Clean ale yeast", "ale", 0.765, .cost = 1},
                           .predicted = {.og = 1.0551,
                                         .fg = 1.0131,
                                         .plato = 13.6,
                                         .abv = 0.0552,
                                         .srm = 15.7,
                                         .ebc = 30.93,
                                         .ibu = 30.75,
                                         .ratio = 0.558,
                                         .boil_gravity = 1.051,
                                         .lintner = 52,
                                         .attenuation = 0.76},
                           .cost = 10.9775,
                           .currency = "EUR",
                           .price_note = "invented",
                           .unpriced = 1,
                           .ingredients = 6,
                           .wishes = s->wishes,
                           .wish_count = 3,
                           .proofs = s->proofs,
                           .proof_count = 2};
    s->recipe.character[WF_WORD_CARAMEL] = 3.125;
    s->recipe.character[WF_WORD_CITRUS] = 1.0;
    s->recipe.character[WF_WORD_BODY] = 0.2;
}

static char *text_of(const struct wf_recipe *r, enum wf_units units, bool colour)
{
    char *text = NULL;
    struct wf_report_style style = {units, colour};
    assert_int_equal(wf_report_recipe_text(r, &style, &text, NULL), WF_OK);
    return text;
}

static void has_line(const char *text, const char *line)
{
    size_t length = strlen(line);
    for (const char *at = text; (at = strstr(at, line)); at++)
        if ((at == text || at[-1] == '\n') && at[length] == '\n')
            return;
    fail_msg("no line \"%s\" in:\n%s", line, text);
}

/* ---- Text ------------------------------------------------------------------------------------ */

static void text_says_all_a_brewer_needs(void **state)
{
    static const char *const lines[] = {
        "Amber, 20 L",
        "original gravity 1.055, final 1.013, alcohol 5.5 %",
        "colour 15.7 SRM (31 EBC), bitterness 30.8 IBU, ratio 0.56",
        "character: caramel 3.1, citrus 1.0",
        "Grist               weight   share  cost",
        "Pale malt          4.35 kg  90.6 %  7.18",
        "Crystal ?[31m?red    450 g   9.4 %     -",
        "in all              4.8 kg",
        "first wort            Magnum              12.8 %    10 g    20.2 IBU  0.40",
        "boil 10 min           Cascade              5.5 %    28 g     8.0 IBU  1.25",
        "stand 20 min at 80 C  Centennial (whole)  10.0 %    20 g     2.5 IBU  1.00",
        "dry, 4 days           Cascade              5.5 %    25 g           -  1.15",
        "Yeast  Clean ale yeast, attenuation 76.5 %, cost 1.00",
        "original gravity  1.054..1.056    1.055     met",
        "colour            12.5..14.5 SRM  15.7 SRM  missed by 1.2 SRM",
        "Cost  10.98 EUR",
        "One lot has no price and is counted as 0.",
        "Prices: invented",
        "lowest cost         proved: no recipe that meets these wishes costs less",
        "fewest ingredients  within 22 % of the best possible: none has fewer ingredients than 7",
    };
    struct sample s;
    make_sample(&s);
    char *text = text_of(&s.recipe, WF_UNITS_METRIC, false);
    for (size_t i = 0; i < COUNT_OF(lines); i++)
        has_line(text, lines[i]);
    assert_null(strstr(text, "body")); /* too weak to be worth a word */
    assert_null(strstr(text, " \n"));
    wf_text_release(text);
    (void)state;
}

static void text_in_us_units(void **state)
{
    static const char *const lines[] = {
        "Amber, 5.28 gal",
        "Pale malt           9 lb 9.4 oz  90.6 %  7.18",
        "stand 20 min at 176 F  Centennial (whole)  10.0 %  0.71 oz     2.5 IBU  1.00",
    };
    struct sample s;
    make_sample(&s);
    char *text = text_of(&s.recipe, WF_UNITS_US, false);
    for (size_t i = 0; i < COUNT_OF(lines); i++)
        has_line(text, lines[i]);
    assert_null(strstr(text, " kg"));
    wf_text_release(text);
    (void)state;
}

static void a_miss_too_small_to_show_is_no_zero(void **state)
{
    struct sample s;
    make_sample(&s);
    s.wishes[1].missed_by = 0.04;
    char *text = text_of(&s.recipe, WF_UNITS_METRIC, false);
    has_line(text, "colour            12.5..14.5 SRM  15.7 SRM  just missed");
    wf_text_release(text);
    (void)state;
}

static void the_wishes_that_limit_are_marked(void **state)
{
    static const struct {
        struct wf_wish_result wish;
        const char *line;
    } rows[] = {
        {{"og", WF_DIM_GRAVITY, {1.05, 1.06, 1.055}, 1.0504, true, 0, WF_WISH_OG, 0, 0},
         "og    1.050..1.060  1.050  met, at the low end"},
        {{"og", WF_DIM_GRAVITY, {1.05, 1.06, 1.055}, 1.0506, true, 0, WF_WISH_OG, 0, 0},
         "og    1.050..1.060  1.051  met"},
        {{"og", WF_DIM_GRAVITY, {1.05, 1.06, 1.055}, 1.0596, true, 0, WF_WISH_OG, 0, 0},
         "og    1.050..1.060  1.060  met, at the high end"},
        {{"og", WF_DIM_GRAVITY, {-(double)INFINITY, 1.06, 1.06}, 1.055, true, 0, WF_WISH_OG, 0, 0},
         "og    <= 1.060  1.055  met"},
        {{"word", WF_DIM_NUMBER, {3, (double)INFINITY, 3}, 3.05, true, 0, WF_WISH_OG, 0, 0},
         "word  >= 3    3.05  met, at the low end"},
        {{"word", WF_DIM_NUMBER, {3, (double)INFINITY, 3}, 3, true, 0, WF_WISH_OG, 0, 0},
         "word  >= 3    3    met"},
        {{"count", WF_DIM_NUMBER, {3, 5, 4}, 5, true, 0, WF_WISH_OG, 0, 0},
         "count  3..5    5    met, at the high end"},
    };
    struct sample s;
    make_sample(&s);
    s.recipe.wish_count = 1;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        s.wishes[0] = rows[i].wish;
        char *text = text_of(&s.recipe, WF_UNITS_METRIC, false);
        has_line(text, rows[i].line);
        wf_text_release(text);
    }
    (void)state;
}

static void no_recipe_is_said_before_the_nearest(void **state)
{
    struct sample s;
    make_sample(&s);
    s.recipe.status = WF_RECIPE_NONE;
    char *text = text_of(&s.recipe, WF_UNITS_METRIC, false);
    has_line(text, "No recipe meets all of these wishes. The nearest misses:");
    has_line(text, "colour  12.5..14.5 SRM  15.7 SRM  missed by 1.2 SRM");
    assert_true(strstr(text, "No recipe meets") < strstr(text, "Grist"));
    assert_null(strstr(text, "proved"));
    wf_text_release(text);
    (void)state;
}

/* A text with every escape sequence taken out. */
static void without_escapes(char *text)
{
    char *to = text;
    for (const char *from = text; *from; from++) {
        if (*from == '\033')
            from = strchr(from, 'm');
        else
            *to++ = *from;
    }
    *to = '\0';
}

static void colour_only_adds_emphasis(void **state)
{
    struct sample s;
    make_sample(&s);
    char *plain = text_of(&s.recipe, WF_UNITS_METRIC, false);
    char *coloured = text_of(&s.recipe, WF_UNITS_METRIC, true);
    assert_null(strchr(plain, '\033'));
    assert_non_null(strstr(coloured, "\033[1;31mmissed by 1.2 SRM\033[0m"));
    without_escapes(coloured);
    assert_string_equal(coloured, plain);
    wf_text_release(plain);
    wf_text_release(coloured);
    (void)state;
}

static void what_is_not_there_is_said_or_left_out(void **state)
{
    struct sample s;
    make_sample(&s);
    s.recipe.hop_count = s.recipe.proof_count = s.recipe.wish_count = 0;
    s.recipe.yeast.attenuation = (double)NAN;
    s.recipe.predicted.fg = s.recipe.predicted.abv = (double)NAN;
    s.recipe.unpriced = 3;
    s.recipe.price_note = NULL;
    char *text = text_of(&s.recipe, WF_UNITS_METRIC, false);
    has_line(text, "original gravity 1.055");
    has_line(text, "No hops");
    has_line(text, "Yeast  none chosen: no final gravity and no alcohol are reckoned");
    has_line(text, "3 lots have no price and are counted as 0.");
    assert_null(strstr(text, "Wish"));
    assert_null(strstr(text, "Goal"));
    assert_null(strstr(text, "Prices"));
    wf_text_release(text);
    (void)state;
}

static void distance_is_put_in_words(void **state)
{
    static const struct {
        struct wf_proof proof;
        const char *line;
    } rows[] = {
        {{"cost", 12, 11.9988, 0.0001},
         "lowest cost  proved: no recipe that meets these wishes costs less"},
        {{"cost", 12, 11.952, 0.004},
         "lowest cost  within 0.4 % of the best possible: none costs under 11.95"},
        {{"closest", 0.3, 0.28, 0.0667}, "closest to the aims  within 6.7 % of the best possible"},
        {{"cost", 12, 0, 1.01},
         "lowest cost  not proved: better ones may exist, give it more time"},
        {{"cost", 12, -(double)INFINITY, (double)INFINITY},
         "lowest cost  not proved: better ones may exist, give it more time"},
        {{"cost", 12, (double)NAN, (double)NAN},
         "lowest cost  not proved: better ones may exist, give it more time"},
        {{"calm", 1, 1, 0}, "calm  proved: none is better"},
    };
    struct sample s;
    make_sample(&s);
    s.recipe.proof_count = 1;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        s.proofs[0] = rows[i].proof;
        char *text = text_of(&s.recipe, WF_UNITS_METRIC, false);
        has_line(text, rows[i].line);
        wf_text_release(text);
    }
    (void)state;
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static cJSON *json_of(const struct wf_recipe *r)
{
    char *text = NULL;
    assert_int_equal(wf_report_recipe_json(r, &text, NULL), WF_OK);
    cJSON *json = cJSON_ParseWithOpts(text, NULL, 1);
    if (!json)
        fail_msg("not JSON:\n%s", text);
    wf_text_release(text);
    return json;
}

static const cJSON *member(const cJSON *object, const char *key)
{
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, key);
    if (!found)
        fail_msg("no \"%s\"", key);
    return found;
}

static void is_number(const cJSON *object, const char *key, double want)
{
    double got = member(object, key)->valuedouble;
    if (got != want)
        fail_msg("\"%s\" is %.17g, want %.17g", key, got, want);
}

static void is_text(const cJSON *object, const char *key, const char *want)
{
    assert_string_equal(cJSON_GetStringValue(member(object, key)), want);
}

static void json_holds_the_recipe_to_the_last_bit(void **state)
{
    struct sample s;
    make_sample(&s);
    s.malts[1].kg = 4.3500000000000005;
    s.malts[1].share = 0.90625000000000011;
    cJSON *json = json_of(&s.recipe);
    is_text(json, "recipe", "Amber");
    is_text(json, "status", "good");
    const cJSON *lot = cJSON_GetArrayItem(member(json, "malts"), 0);
    is_text(lot, "is", "crystal-60");
    is_text(lot, "name", "Crystal \033[31m\xE2\x80\xAEred");
    is_number(member(lot, "character"), "caramel", 5);
    assert_null(cJSON_GetObjectItemCaseSensitive(lot, "cost")); /* not priced: not 0 */
    const cJSON *malt = cJSON_GetArrayItem(member(json, "malts"), 1);
    is_number(malt, "kg", 4.35); /* a weight is written without the noise of its last bit */
    is_number(malt, "share", 0.90625000000000011);
    assert_null(cJSON_GetObjectItemCaseSensitive(malt, "is")); /* its own entry */
    const cJSON *stand = cJSON_GetArrayItem(member(json, "hops"), 2);
    is_text(stand, "use", "stand");
    is_text(stand, "form", "whole");
    is_number(stand, "temperature_c", 80);
    is_number(cJSON_GetArrayItem(member(json, "hops"), 3), "days", 4);
    is_number(member(json, "predicted"), "og", 1.0551);
    is_text(member(json, "proof"), "goal", "cost");
    assert_int_equal(cJSON_GetArraySize(member(json, "proofs")), 2);
    cJSON_Delete(json);
    (void)state;
}

static void json_of_wishes_leaves_open_ends_out(void **state)
{
    struct sample s;
    make_sample(&s);
    cJSON *json = json_of(&s.recipe);
    const cJSON *colour = cJSON_GetArrayItem(member(json, "wishes"), 1);
    is_text(colour, "kind", "beer-colour");
    is_number(colour, "missed_by", 1.2);
    assert_true(cJSON_IsFalse(member(colour, "met")));
    const cJSON *caramel = cJSON_GetArrayItem(member(json, "wishes"), 2);
    is_number(caramel, "low", 1.5);
    assert_null(cJSON_GetObjectItemCaseSensitive(caramel, "high"));
    assert_null(cJSON_GetObjectItemCaseSensitive(caramel, "aim"));
    cJSON_Delete(json);
    (void)state;
}

static void json_of_none_gives_reasons_and_the_nearest(void **state)
{
    struct sample s;
    make_sample(&s);
    s.recipe.status = WF_RECIPE_NONE;
    cJSON *json = json_of(&s.recipe);
    is_text(json, "status", "none");
    assert_null(cJSON_GetObjectItemCaseSensitive(json, "malts"));
    assert_int_equal(cJSON_GetArraySize(member(json, "reasons")), 1);
    assert_string_equal(
        cJSON_GetStringValue(cJSON_GetArrayItem(member(json, "reasons"), 0)),
        "colour: wanted 12.5..14.5 SRM, the nearest recipe gives 15.7 SRM, missed by 1.2 SRM");
    assert_int_equal(cJSON_GetArraySize(member(member(json, "closest"), "malts")), 2);
    cJSON_Delete(json);
    (void)state;
}

/* ---- Memory ---------------------------------------------------------------------------------- */

/* Every allocation of a report fails in turn; the last round fails none. */
static void reports_survive_want_of_memory(void **state)
{
    struct sample s;
    struct wf_report_style style = {WF_UNITS_METRIC, true};
    make_sample(&s);
    s.recipe.status = WF_RECIPE_NONE; /* the longest way through both */
    for (int json = 0; json < 2; json++) {
        enum wf_status status = WF_MEMORY;
        long n = 0;
        for (; status != WF_OK; n++) {
            char *text = NULL;
            struct wf_error e = {0};
            wf_alloc_fail_at(n);
            status = json ? wf_report_recipe_json(&s.recipe, &text, &e)
                          : wf_report_recipe_text(&s.recipe, &style, &text, &e);
            wf_alloc_fail_at(-1);
            assert_true(status == WF_OK || (status == WF_MEMORY && e.count == 1 && !text));
            wf_text_release(text);
        }
        assert_true(n > 3);
    }
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_says_all_a_brewer_needs),
        cmocka_unit_test(text_in_us_units),
        cmocka_unit_test(a_miss_too_small_to_show_is_no_zero),
        cmocka_unit_test(the_wishes_that_limit_are_marked),
        cmocka_unit_test(no_recipe_is_said_before_the_nearest),
        cmocka_unit_test(colour_only_adds_emphasis),
        cmocka_unit_test(what_is_not_there_is_said_or_left_out),
        cmocka_unit_test(distance_is_put_in_words),
        cmocka_unit_test(json_holds_the_recipe_to_the_last_bit),
        cmocka_unit_test(json_of_wishes_leaves_open_ends_out),
        cmocka_unit_test(json_of_none_gives_reasons_and_the_nearest),
        cmocka_unit_test(reports_survive_want_of_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
