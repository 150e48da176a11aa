#include "solve/plan_market.h"

#include "base/alloc.h"

#include <math.h>
#include <string.h>

static const double gram = 1e-3; /* kg */

static bool same_text(const char *a, const char *b)
{
    return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

/* The same number, or neither is given. */
static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || !(a < b || a > b || isnan(a) || isnan(b));
}

static const char *entry(const char *id, const char *of)
{
    return of != NULL ? of : id;
}

static bool same_words(const double *a, const double *b, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!same(a[i], b[i]))
            return false;
    return true;
}

static bool same_malt(const struct wf_malt *a, const struct wf_malt *b)
{
    const struct wf_grain *x = &a->grain, *y = &b->grain;
    return same_text(entry(a->id, a->of), entry(b->id, b->of)) && a->class == b->class &&
           same(x->yield, y->yield) && same(x->lovibond, y->lovibond) &&
           same(x->lintner, y->lintner) && same(x->fermentability, y->fermentability) &&
           x->sugar == y->sugar && x->mashed == y->mashed && same(a->step_kg, b->step_kg) &&
           same(a->most, b->most) && same(a->usual_most, b->usual_most) &&
           same_words(a->character, b->character, WF_MALT_WORD_COUNT);
}

static bool same_hop(const struct wf_hop *a, const struct wf_hop *b)
{
    return same_text(entry(a->id, a->of), entry(b->id, b->of)) && same(a->alpha, b->alpha) &&
           a->whole == b->whole && a->packed == b->packed && a->packing == b->packing &&
           same(a->kept_celsius, b->kept_celsius) && same(a->step_kg, b->step_kg) &&
           same(a->six_month_loss, b->six_month_loss) && same_text(a->origin, b->origin) &&
           same_words(a->character, b->character, WF_WORD_COUNT - WF_MALT_WORD_COUNT);
}

static bool same_yeast(const struct wf_yeast *a, const struct wf_yeast *b)
{
    return same_text(entry(a->id, a->of), entry(b->id, b->of)) &&
           same(a->attenuation_low, b->attenuation_low) &&
           same(a->attenuation_high, b->attenuation_high);
}

/* What the three kinds have in common, in the market's units. */
struct offer {
    double have, price, pack;
};

static struct offer malt_offer(const struct wf_malt *m)
{
    return (struct offer){m->have_kg, m->price_per_kg, m->pack_kg};
}

static struct offer hop_offer(const struct wf_hop *h)
{
    return (struct offer){h->have_g, h->price_per_kg * gram, h->pack_kg / gram};
}

static struct offer yeast_offer(const struct wf_yeast *y)
{
    return (struct offer){y->have, y->price, NAN};
}

static double priced(double price)
{
    return isfinite(price) ? price : 0;
}

static struct wf_market_lot lot_of(enum wf_kind kind, const char *id, const char *name,
                                   struct offer o, bool of_shop)
{
    bool bought = of_shop || !isfinite(o.have);
    return (struct wf_market_lot){.kind = kind,
                                  .id = id,
                                  .name = name,
                                  .new_lot = of_shop,
                                  .hand = bought ? 0 : o.have,
                                  .buy_most = bought ? o.have : 0,
                                  .pack = bought && o.pack > 0 ? o.pack : (double)NAN,
                                  .price = bought ? priced(o.price) : 0,
                                  .worth = priced(o.price),
                                  .unpriced = !isfinite(o.price)};
}

/* More of a lot that is in hand. */
static void add_offer(struct wf_market_lot *lot, struct offer o)
{
    lot->buy_most = o.have;
    lot->pack = o.pack > 0 ? o.pack : (double)NAN;
    lot->price = priced(o.price);
    if (lot->unpriced) {
        lot->worth = lot->price;
        lot->unpriced = !isfinite(o.price);
    }
}

static bool id_taken(const struct wf_store *s, const char *id)
{
    return wf_store_malt(s, id) != NULL || wf_store_hop(s, id) != NULL ||
           wf_store_yeast(s, id) != NULL;
}

/* The id of a lot that is bought: its own, or where the store has that, "ID-bought". */
static const char *new_id(struct wf_market *m, const char *id)
{
    while (id != NULL && id_taken(&m->store, id))
        id = wf_arena_print(m->arena, "%s-bought", id);
    return id;
}

/* ---- The store, then the shop ---------------------------------------------------------------- */

/* One function a kind: lots of `from` into the market's store, those of a shop merged with equal
 * ones in hand. The lots are gathered in `lots`, one array a kind. False: out of memory. */
#define DEFINE_TAKE(kind, KIND, member)                                                            \
    static bool take_##kind##s(struct wf_market *m, struct wf_market_lot *lots,                    \
                               const struct wf_store *from, bool of_shop, bool stock_only)         \
    {                                                                                              \
        size_t own = of_shop ? m->store.kind##_count : 0;                                          \
        for (size_t i = 0; i < from->kind##_count; i++) {                                          \
            struct wf_##kind lot = from->kind##s[i];                                               \
            struct offer o = kind##_offer(&lot);                                                   \
            if (of_shop && !isfinite(o.price)) /* not for sale */                                  \
                continue;                                                                          \
            size_t at = 0;                                                                         \
            while (at < own && !(lots[at].hand > 0 && same_##kind(&m->store.kind##s[at], &lot) &&  \
                                 !(lots[at].buy_most > 0)))                                        \
                at++;                                                                              \
            if (at < own) {                                                                        \
                add_offer(&lots[at], o);                                                           \
                continue;                                                                          \
            }                                                                                      \
            if (stock_only && !isfinite(o.have))                                                   \
                continue;                                                                          \
            if (of_shop && (lot.id = new_id(m, lot.id)) == NULL)                                   \
                return false;                                                                      \
            lots[m->store.kind##_count] = lot_of(WF_KIND_##KIND, lot.id, lot.name, o, of_shop);    \
            m->store.kind##s[m->store.kind##_count++] = lot;                                       \
        }                                                                                          \
        return true;                                                                               \
    }                                                                                              \
    /* What may be had of each, at its worth, by weight. */                                        \
    static void settle_##kind##s(struct wf_market *m, const struct wf_market_lot *lots)            \
    {                                                                                              \
        for (size_t i = 0; i < m->store.kind##_count; i++) {                                       \
            m->store.kind##s[i].member = lots[i].hand + lots[i].buy_most;                          \
            settle_##kind(&m->store.kind##s[i], &lots[i]);                                         \
        }                                                                                          \
    }

static void settle_malt(struct wf_malt *m, const struct wf_market_lot *l)
{
    m->price_per_kg = l->unpriced ? (double)NAN : l->worth;
    m->pack_kg = NAN;
}

static void settle_hop(struct wf_hop *h, const struct wf_market_lot *l)
{
    h->price_per_kg = l->unpriced ? (double)NAN : l->worth / gram;
    h->pack_kg = NAN;
}

static void settle_yeast(struct wf_yeast *y, const struct wf_market_lot *l)
{
    y->price = l->unpriced ? (double)NAN : l->worth;
}

DEFINE_TAKE(malt, MALT, have_kg)
DEFINE_TAKE(hop, HOP, have_g)
DEFINE_TAKE(yeast, YEAST, have)

static bool take(struct wf_market *m, struct wf_market_lot *const lots[WF_KIND_COUNT],
                 const struct wf_store *from, bool of_shop, bool stock_only)
{
    return take_malts(m, lots[WF_KIND_MALT], from, of_shop, stock_only) &&
           take_hops(m, lots[WF_KIND_HOP], from, of_shop, stock_only) &&
           take_yeasts(m, lots[WF_KIND_YEAST], from, of_shop, stock_only);
}

/* The three kinds' lots one after the other. */
static void gather(struct wf_market *m, struct wf_market_lot *const lots[WF_KIND_COUNT])
{
    const size_t count[WF_KIND_COUNT] = {[WF_KIND_MALT] = m->store.malt_count,
                                         [WF_KIND_HOP] = m->store.hop_count,
                                         [WF_KIND_YEAST] = m->store.yeast_count};
    settle_malts(m, lots[WF_KIND_MALT]);
    settle_hops(m, lots[WF_KIND_HOP]);
    settle_yeasts(m, lots[WF_KIND_YEAST]);
    for (int k = 0; k < WF_KIND_COUNT; k++)
        for (size_t i = 0; i < count[k]; i++)
            m->lots[m->count++] = lots[k][i];
}

static bool fill(struct wf_market *m, const struct wf_store *store, const struct wf_store *shop,
                 bool stock_only)
{
    static const struct wf_store nothing;
    const struct wf_store *more = shop != NULL ? shop : &nothing;
    const size_t room[WF_KIND_COUNT] = {
        [WF_KIND_MALT] = store->malt_count + more->malt_count,
        [WF_KIND_HOP] = store->hop_count + more->hop_count,
        [WF_KIND_YEAST] = store->yeast_count + more->yeast_count,
    };
    struct wf_market_lot *lots[WF_KIND_COUNT];
    bool good = true;
    for (int k = 0; k < WF_KIND_COUNT; k++)
        good = (lots[k] = wf_arena_alloc(m->arena, room[k] + 1, sizeof **lots)) != NULL && good;
    m->store = *store; /* its name, currency and note; what it holds is copied */
    m->store.arena = NULL;
    m->store.malt_count = m->store.hop_count = m->store.yeast_count = 0;
    m->store.malts = wf_arena_alloc(m->arena, room[0] + 1, sizeof *m->store.malts);
    m->store.hops = wf_arena_alloc(m->arena, room[1] + 1, sizeof *m->store.hops);
    m->store.yeasts = wf_arena_alloc(m->arena, room[2] + 1, sizeof *m->store.yeasts);
    m->lots = wf_arena_alloc(m->arena, room[0] + room[1] + room[2] + 1, sizeof *m->lots);
    if (!good || !m->store.malts || !m->store.hops || !m->store.yeasts || !m->lots)
        return false;
    if (!take(m, lots, store, false, stock_only) || !take(m, lots, more, true, stock_only))
        return false;
    gather(m, lots);
    return true;
}

static bool other_money(const struct wf_store *a, const struct wf_store *b)
{
    return a->currency != NULL && b->currency != NULL && *a->currency != '\0' &&
           *b->currency != '\0' && strcmp(a->currency, b->currency) != 0;
}

enum wf_status wf_market_open(struct wf_market *m, const struct wf_store *store,
                              const struct wf_store *shop, bool stock_only, struct wf_error *e)
{
    *m = (struct wf_market){0};
    if (shop != NULL && other_money(store, shop))
        return wf_error_add(
            e, WF_BAD_INPUT,
            "the store's prices are in %s and the shop's in %s: one money is needed",
            store->currency, shop->currency);
    m->arena = wf_arena_new();
    if (m->arena == NULL || !fill(m, store, shop, stock_only)) {
        wf_market_close(m);
        return wf_error_add(e, WF_MEMORY, "out of memory");
    }
    if (shop != NULL && (m->store.currency == NULL || *m->store.currency == '\0'))
        m->store.currency = shop->currency;
    return WF_OK;
}

void wf_market_close(struct wf_market *m)
{
    wf_arena_free(m->arena);
    *m = (struct wf_market){0};
}

size_t wf_market_malt(const struct wf_market *m, const struct wf_malt *lot)
{
    return (size_t)(lot - m->store.malts);
}

size_t wf_market_hop(const struct wf_market *m, const struct wf_hop *lot)
{
    return m->store.malt_count + (size_t)(lot - m->store.hops);
}

size_t wf_market_yeast(const struct wf_market *m, const struct wf_yeast *lot)
{
    return m->store.malt_count + m->store.hop_count + (size_t)(lot - m->store.yeasts);
}
