/* words.c: names of the words of character, malt classes and recipe statuses. */
#include "wortfit/pantry.h"

#include "pantry/words.h"

static const char *const word_name[] = {
#define WF_X(id, word, text) [WF_WORD_##id] = word,
    WF_MALT_WORDS(WF_X) WF_HOP_WORDS(WF_X)
#undef WF_X
};

static const char *const word_text[] = {
#define WF_X(id, word, text) [WF_WORD_##id] = text,
    WF_MALT_WORDS(WF_X) WF_HOP_WORDS(WF_X)
#undef WF_X
};

const char *const wf_class_words[] = {
#define WF_X(id, name) [WF_CLASS_##id] = name,
    WF_MALT_CLASS_LIST(WF_X)
#undef WF_X
        [WF_CLASS_COUNT] = NULL,
};

const char *const wf_hop_use_words[] = {
    [WF_HOP_FIRST_WORT] = "first-wort", [WF_HOP_BOIL] = "boil",
    [WF_HOP_STAND] = "stand",           [WF_HOP_DRY] = "dry",
    [WF_HOP_USE_COUNT] = NULL,
};

const char *const wf_form_words[] = {"pellet", "whole", NULL};
const char *const wf_law_words[] = {[WF_TINSETH] = "tinseth", [WF_RAGER] = "rager", NULL};
const char *const wf_family_words[] = {"ale",          "hybrid-ale", "hybrid-lager",      "lager",
                                       "ale-phenolic", "wild",       "non-saccharomyces", NULL};

const char *const wf_recipe_status_words[] = {
    [WF_RECIPE_OPTIMAL] = "optimal",   [WF_RECIPE_GOOD] = "good",       [WF_RECIPE_NONE] = "none",
    [WF_RECIPE_UNPROVED] = "unproved", [WF_RECIPE_UNPROVED + 1] = NULL,
};

const char *const wf_dimension_words[] = {
    [WF_DIM_MASS] = "mass",
    [WF_DIM_VOLUME] = "volume",
    [WF_DIM_TIME] = "time",
    [WF_DIM_DAYS] = "days",
    [WF_DIM_TEMPERATURE] = "temperature",
    [WF_DIM_BEER_COLOUR] = "beer-colour",
    [WF_DIM_MALT_COLOUR] = "malt-colour",
    [WF_DIM_BITTERNESS] = "bitterness",
    [WF_DIM_GRAVITY] = "gravity",
    [WF_DIM_SHARE] = "share",
    [WF_DIM_POTENTIAL] = "potential",
    [WF_DIM_DIASTATIC] = "diastatic",
    [WF_DIM_PRICE] = "price",
    [WF_DIM_MONEY] = "money",
    [WF_DIM_RATE] = "rate",
    [WF_DIM_DOSE] = "dose",
    [WF_DIM_SPECIFIC_VOLUME] = "specific-volume",
    [WF_DIM_CARBONATION] = "carbonation",
    [WF_DIM_HEIGHT] = "height",
    [WF_DIM_NUMBER] = "number",
    [WF_DIM_COUNT] = NULL,
};

const char *wf_word_name(enum wf_word w)
{
    return (unsigned)w < WF_WORD_COUNT ? word_name[w] : "unknown";
}

const char *wf_word_text(enum wf_word w)
{
    return (unsigned)w < WF_WORD_COUNT ? word_text[w] : "unknown";
}

const char *wf_malt_class_name(enum wf_malt_class c)
{
    return (unsigned)c < WF_CLASS_COUNT ? wf_class_words[c] : "unknown";
}

const char *wf_recipe_status_name(enum wf_recipe_status s)
{
    return (unsigned)s <= WF_RECIPE_UNPROVED ? wf_recipe_status_words[s] : "unknown";
}
