/* brew_hash.c: a recipe in one short word, so that a brew that is told twice is noticed. */
#include "wortfit/brew.h"

#include "base/number.h"

#include <stdint.h>
#include <string.h>

/* FNV-1a (G. Fowler, L. C. Noll, K.-P. Vo; RFC 9923): offset basis and prime for 64 bits. */
#define BASIS UINT64_C(0xcbf29ce484222325)
#define PRIME UINT64_C(0x100000001b3)

/* The text with its NUL, so that two texts are not one longer one. */
static void mix_text(uint64_t *hash, const char *text)
{
    const char *p = text ? text : "";
    do {
        *hash = (*hash ^ (unsigned char)*p) * PRIME;
    } while (*p++);
}

/* To a millionth: what another way of writing a figure may change is less. */
static void mix_figure(uint64_t *hash, double value)
{
    char text[64];
    wf_snprintf(text, sizeof text, "%.6f", value);
    mix_text(hash, text);
}

void wf_recipe_hash(const struct wf_recipe *r, char out[WF_RECIPE_HASH_MAX])
{
    uint64_t hash = BASIS;
    mix_figure(&hash, (double)r->malt_count);
    for (size_t i = 0; i < r->malt_count; i++) {
        mix_text(&hash, r->malts[i].id);
        mix_figure(&hash, r->malts[i].kg);
    }
    for (size_t i = 0; i < r->hop_count; i++) {
        const struct wf_addition *a = &r->hops[i].addition;
        mix_text(&hash, r->hops[i].id);
        mix_figure(&hash, r->hops[i].grams);
        mix_figure(&hash, (double)a->use);
        mix_figure(&hash, a->use == WF_HOP_BOIL || a->use == WF_HOP_STAND ? a->minutes : 0);
        mix_figure(&hash, a->use == WF_HOP_STAND ? a->celsius : 0);
    }
    mix_text(&hash, r->yeast.id);
    wf_snprintf(out, WF_RECIPE_HASH_MAX, "%08lx%08lx", (unsigned long)(hash >> 32),
                (unsigned long)(hash & UINT32_MAX));
}
