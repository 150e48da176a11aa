/* list_kinds.c: what there is to say of a malt, a hop, a yeast and a beer, as tables of fields. */
#include "report/report_beer.h"
#include "report/report_list.h"

#define MALT(member)  .offset = offsetof(struct wf_malt, member)
#define HOP(member)   .offset = offsetof(struct wf_hop, member)
#define YEAST(member) .offset = offsetof(struct wf_yeast, member)
#define BEER(member)  .offset = offsetof(struct wf_target, member)

#define TEXT(key_, label_)  .key = key_, .label = label_, .kind = WF_FIELD_TEXT
#define TEXTS(key_, label_) .key = key_, .label = label_, .kind = WF_FIELD_TEXTS
#define YES(key_, label_)   .key = key_, .label = label_, .kind = WF_FIELD_YES
#define FIGURE(key_, label_, d)                                                                    \
    .key = key_, .label = label_, .kind = WF_FIELD_FIGURE, .dimension = WF_DIM_##d
#define SPAN(key_, label_, d)                                                                      \
    .key = key_, .label = label_, .kind = WF_FIELD_SPAN, .dimension = WF_DIM_##d
#define RANGE(key_, label_, d)                                                                     \
    .key = key_, .label = label_, .kind = WF_FIELD_RANGE, .dimension = WF_DIM_##d
#define SCORES(key_, label_, first_, count_)                                                       \
    .key = key_, .label = label_, .kind = WF_FIELD_SCORES, .first = first_, .count = count_

static const struct wf_field malt_fields[] = {
    {TEXT("id", "id"), MALT(id), .listed = true},
    {TEXT("name", "name"), MALT(name), .listed = true, .most = 28},
    {.key = "class", .label = "class", .kind = WF_FIELD_CLASS, MALT(class), .listed = true},
    {FIGURE("lovibond", "colour", MALT_COLOUR), MALT(grain.lovibond), .listed = true},
    {FIGURE("extract", "extract, fine grind, dry basis", SHARE), MALT(fine_dry)},
    {FIGURE("moisture", "moisture", SHARE), MALT(moisture)},
    {FIGURE("yield", "extract as it is weighed", SHARE), MALT(grain.yield)},
    {FIGURE("lintner", "diastatic power", DIASTATIC), MALT(grain.lintner)},
    {FIGURE("fermentability", "fermentability", SHARE), MALT(grain.fermentability)},
    {YES("sugar", "sugar"), MALT(grain.sugar)},
    {YES("mashed", "mashed"), MALT(grain.mashed)},
    {FIGURE("usual_most", "usual most of a grist", SHARE), MALT(usual_most)},
    {SCORES("character", "character, 0 to 5", 0, WF_MALT_WORD_COUNT), MALT(character)},
    {TEXT("allergens", "allergens"), MALT(allergens)},
    {TEXT("source", "source"), MALT(source)},
    {.key = NULL},
};

static const struct wf_field hop_fields[] = {
    {TEXT("id", "id"), HOP(id), .listed = true},
    {TEXT("name", "name"), HOP(name), .listed = true, .most = 26},
    {TEXT("origin", "origin"), HOP(origin), .listed = true},
    {FIGURE("alpha", "alpha acid", SHARE), HOP(alpha)},
    {SPAN("alpha_range", "usual alpha", SHARE), HOP(alpha_low),
     .high = offsetof(struct wf_hop, alpha_high), .listed = true},
    {FIGURE("six_month_loss", "alpha lost in 6 months at 20 C", SHARE), HOP(six_month_loss)},
    {YES("bittering", "for bittering"), HOP(bittering)},
    {YES("aroma", "for aroma"), HOP(aroma)},
    {SCORES("character", "character, 0 to 5", WF_MALT_WORD_COUNT,
            WF_WORD_COUNT - WF_MALT_WORD_COUNT),
     HOP(character)},
    {TEXTS("substitutes", "in its place"), HOP(substitutes)},
    {TEXT("note", "note"), HOP(note)},
    {TEXT("source", "source"), HOP(source)},
    {.key = NULL},
};

static const struct wf_field yeast_fields[] = {
    {TEXT("id", "id"), YEAST(id), .listed = true},
    {TEXT("name", "name"), YEAST(name), .listed = true, .most = 28},
    {TEXT("family", "family"), YEAST(family), .listed = true},
    {SPAN("attenuation", "attenuation", SHARE), YEAST(attenuation_low),
     .high = offsetof(struct wf_yeast, attenuation_high), .listed = true},
    {SPAN("temperature_c", "temperature", TEMPERATURE), YEAST(celsius_low),
     .high = offsetof(struct wf_yeast, celsius_high)},
    {FIGURE("alcohol_most", "alcohol, at most", SHARE), YEAST(alcohol_most)},
    {TEXT("flocculation", "flocculation"), YEAST(flocculation)},
    {FIGURE("ester", "esters, 0 to 5", NUMBER), YEAST(ester)},
    {FIGURE("phenol", "phenols, 0 to 5", NUMBER), YEAST(phenol)},
    {YES("eats_dextrins", "eats dextrins"), YEAST(eats_dextrins)},
    {TEXT("descriptors", "tastes of"), YEAST(descriptors)},
    {TEXT("source", "source"), YEAST(source)},
    {.key = NULL},
};

/* The ranges are the guideline's; what the target itself wants is shown beside them by
 * wf_beer_more. */
static const struct wf_field beer_fields[] = {
    {TEXT("id", "id"), BEER(id), .listed = true},
    {TEXT("name", "name"), BEER(name), .listed = true, .most = 25},
    {TEXT("group", "group"), BEER(group)},
    {TEXT("about", "about"), BEER(about)},
    {TEXT("note", "note"), BEER(note)},
    {TEXTS("aliases", "also called"), BEER(aliases)},
    {RANGE("og", "original gravity", GRAVITY), BEER(guideline.og), .listed = true,
     .elsewhere = true, .column = "gravity"},
    {RANGE("fg", "final gravity", GRAVITY), BEER(guideline.fg), .elsewhere = true},
    {RANGE("abv", "alcohol", SHARE), BEER(guideline.abv), .listed = true, .elsewhere = true,
     .column = "% vol"},
    {RANGE("srm", "colour", BEER_COLOUR), BEER(guideline.colour), .listed = true, .elsewhere = true,
     .column = "SRM"},
    {RANGE("ibu", "bitterness", BITTERNESS), BEER(guideline.bitterness), .listed = true,
     .elsewhere = true, .column = "IBU"},
    {TEXT("guideline", "guideline"), BEER(guideline.source)},
    {RANGE("want_og", "wanted gravity", GRAVITY), BEER(og), .elsewhere = true},
    {RANGE("want_srm", "wanted colour", BEER_COLOUR), BEER(colour), .elsewhere = true},
    {RANGE("want_ratio", "wanted ratio", NUMBER), BEER(ratio), .elsewhere = true},
    {RANGE("want_ibu", "wanted bitterness", BITTERNESS), BEER(bitterness), .elsewhere = true},
    {.key = NULL},
};

const struct wf_item_kind wf_kind_malt = {.plural = "malts", .fields = malt_fields};
const struct wf_item_kind wf_kind_hop = {.plural = "hops", .fields = hop_fields};
const struct wf_item_kind wf_kind_yeast = {.plural = "yeasts", .fields = yeast_fields};
const struct wf_item_kind wf_kind_beer = {
    .plural = "beers", .fields = beer_fields, .more = wf_beer_more};
