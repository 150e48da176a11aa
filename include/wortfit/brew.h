/*
 * brew.h: what was brewed, and what came of it.
 *
 * A brew draws a store's stock down and goes into the store's log, both or neither: the log of
 * "cellar.json" is "cellar.brews.jsonl" beside it. A log is JSON lines, one object a line, each
 * whole in itself (src/pantry/log.schema.json): a brew with its recipe as it was brewed, with every
 * figure that the laws need, and what was measured; or what was measured of it later on.
 */
#ifndef WORTFIT_BREW_H
#define WORTFIT_BREW_H

#include "wortfit/pantry.h"
#include "wortfit/stock.h"

/* What was measured; NaN: was not. */
struct wf_measured {
    double og, volume_l;                 /* wort at the end of the boil, cooled */
    double pre_boil_gravity, pre_boil_l; /* before the boil, reckoned cooled */
    double boil_minutes;
    double fg, ibu, srm; /* of the beer */
};
struct wf_measured wf_measured_none(void);

/* ---- Log (brew_log.c) ------------------------------------------------------------------------ */

#define WF_RECIPE_HASH_MAX 17 /* bytes of wf_recipe_hash's text */

struct wf_brew {
    const char *id;        /* "2026-11-25-3f2a9c0d" */
    long on;               /* days since 1970-01-01 */
    const char *hash;      /* of the recipe as it was planned */
    const char *brewhouse; /* the name of where it was brewed; NULL: not told */
    /* As it was brewed: what was really taken, on the system as it was planned. */
    struct wf_recipe *recipe;
    struct wf_beer planned;
    struct wf_measured measured; /* what later lines say included; the last one counts */
    size_t line;                 /* in the file, from 1 */
};

struct wf_log {
    struct wf_arena *arena;
    const char *name;      /* of the file */
    struct wf_brew *brews; /* in the file's order */
    size_t count;
    size_t lines;
};

enum wf_status wf_log_read(const char *path, const struct wf_catalogue *c, struct wf_log **out,
                           struct wf_error *e) WF_MUST_USE;
/* From text already in memory. A last line that is cut off is refused as such. */
enum wf_status wf_log_parse(const char *name, const char *text, size_t length,
                            const struct wf_catalogue *c, struct wf_log **out,
                            struct wf_error *e) WF_MUST_USE;
void wf_log_free(struct wf_log *l); /* NULL allowed */

/* ---- What a brew tells (brew_reckon.c) ------------------------------------------------------- */

struct wf_brew_figures {
    double efficiency; /* from original gravity and volume, with the laws of brewing.h */
    /* From the volumes before and after the boil, L/h; from the gravities where no volume before
     * the boil was measured; NaN: nothing tells. */
    double evaporation_l_h;
    /* The beer that the laws give for this wort: with this volume, efficiency, boil. Its fg, abv
     * and attenuation are those of the yeast as planned. */
    struct wf_beer beer;
    double attenuation; /* of the yeast, on base malt, from the final gravity; NaN: not measured */
};

/* WF_BAD_INPUT: gravity and volume do not go with the grist; the message says what would. */
enum wf_status wf_brew_reckon(const struct wf_recipe *r, const struct wf_measured *m,
                              struct wf_brew_figures *out, struct wf_error *e) WF_MUST_USE;

/* ---- To brew (brewed.c) ---------------------------------------------------------------------- */

/* A text that is the same for two recipes with the same lots, weights and times, whatever else they
 * say: FNV-1a, 64 bits, hexadecimal. Not against forgers. */
void wf_recipe_hash(const struct wf_recipe *r, char out[WF_RECIPE_HASH_MAX]);

/* What was really taken, "ID=AMOUNT" (NULL-terminated; NULL: nothing), in place of what the recipe
 * says: additions of one hop change in proportion. Predicts it anew. Packs of yeast go to *packs.
 */
enum wf_status wf_recipe_take(struct wf_recipe *r, const char *const *used, double *packs,
                              struct wf_error *e) WF_MUST_USE;

struct wf_brewed_asked {
    const char *store;              /* file */
    const struct wf_recipe *recipe; /* as it was brewed */
    struct wf_beer planned;
    const char *hash;      /* of the recipe as it was planned */
    const char *brewhouse; /* its name; NULL: not told */
    long on;
    struct wf_measured measured;
    double packs; /* of yeast */
    bool again;   /* it was brewed twice that day */
};

/* What became of it. */
struct wf_brewed {
    struct wf_arena *arena;
    const char *id, *log;            /* of the brew; the log's file */
    struct wf_store *before, *after; /* `after` alone without a change of the stock */
    const struct wf_stock_change *taken;
    const struct wf_stock_outcome *outcomes; /* one a change */
    size_t taken_count;
    const char *const *uncounted; /* lots of the recipe whose amount is not kept; NULL-terminated */
    struct wf_brew_figures figures;
};

/* Draws the stock down and adds the brew to the log. WF_BAD_INPUT: the log has it already, or the
 * stock does not reach; then nothing is changed. */
enum wf_status wf_brewed(const struct wf_brewed_asked *asked, const struct wf_catalogue *c,
                         struct wf_brewed **out, struct wf_error *e) WF_MUST_USE;

/* Adds what was measured later (fg, ibu, srm) to the log, or puts figures right, for the last brew
 * of the recipe, or that of the day where on >= 0. The stock stays as it is. *brew gets the brew
 * with it, in *out. */
enum wf_status wf_brewed_later(const struct wf_brewed_asked *asked, const struct wf_catalogue *c,
                               struct wf_log **out, const struct wf_brew **brew,
                               struct wf_error *e) WF_MUST_USE;
void wf_brewed_free(struct wf_brewed *b); /* NULL allowed */

#endif
