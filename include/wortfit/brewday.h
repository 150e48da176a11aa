/*
 * brewday.h: the day from one recipe and one brewhouse, from the scale to the bottle, with what to
 * do where a reading is off.
 *
 *     struct wf_brewday_options o;
 *     wf_brewday_usual(&o);
 *     enum wf_status s = wf_brewday_plan(recipe, brewhouse, store, catalogue, &o, &day, &error);
 *
 * Units as in process.h. Volumes are of cooled wort unless called hot. NaN: not known, or does not
 * apply.
 */
#ifndef WORTFIT_BREWDAY_H
#define WORTFIT_BREWDAY_H

#include "wortfit/pantry.h"
#include "wortfit/process.h"

struct wf_brewday_options {
    double volumes;          /* of CO2 wanted; NaN: the usual of the yeast's family */
    enum wf_priming priming; /* the sugar */
    bool keg;                /* gas from a bottle: no sugar */
    double beer_celsius;     /* at packaging: the warmest since it fermented out; in a keg, as it is
                                gassed; NaN: the yeast's warmest, or a keg at 4 C */
    double grain_celsius;    /* NaN: the brewhouse's */
    double mash_celsius;     /* one rest at that; NaN: rests by the beer's body */
    double volume_step_l;    /* volumes are rounded to it, so that those printed add up */
};
/* All that is not given, dextrose, volumes in steps of 0.01 L. */
void wf_brewday_usual(struct wf_brewday_options *o);

/* ---- Water ----------------------------------------------------------------------------------- */

/*
 * One balance, exact but for the last digits of a double:
 *     mash + sparge - absorbed - dead + early = before_boil
 *     before_boil - evaporated + late = after_boil (the recipe's batch)
 *     after_boil - kettle_loss = fermenter
 *     fermenter - fermenter_loss - dry_hops = packaged
 * What the extract of the mash adds to its water is counted in what the grains keep, as brewers
 * measure that figure.
 */
struct wf_brewday_water {
    double mash_l, sparge_l;   /* mash: all rests' water; no grain: all of it, for the kettle */
    double absorbed_l, dead_l; /* by the grains; under the mash, and filled beside its liquor */
    double early_l, late_l;    /* what extracts and sugars add before the boil, and in it */
    double before_boil_l, after_boil_l;
    double before_hot_l, after_hot_l; /* what the kettle shows near boiling */
    double evaporated_l, kettle_loss_l, fermenter_l, fermenter_loss_l;
    double dry_hops_l; /* that they soak up: 6 L/kg, common practice */
    double packaged_l;
    double first_runnings_l; /* that run off before the sparge */
};
#define WF_DRY_HOPS_KEEP_L_KG 6.0

/* ---- Vessels --------------------------------------------------------------------------------- */

enum wf_vessel { WF_VESSEL_TUN, WF_VESSEL_KETTLE, WF_VESSEL_FERMENTER, WF_VESSEL_COUNT };
/* Good: with room for stirring or foam, a part of the vessel that is common practice. */
enum wf_fit { WF_FIT_UNKNOWN, WF_FIT_GOOD, WF_FIT_TIGHT, WF_FIT_OVER };
struct wf_brewday_vessel {
    enum wf_fit fit; /* unknown: the brewhouse does not tell its room, or it is not used */
    double room_l;   /* to the brim; NaN: not told */
    double filled_l; /* at its fullest: grain and water; wort that is about to boil; cooled wort */
    double batch_l;  /* kettle, fermenter: the largest batch with room enough; NaN: none */
};
#define WF_TUN_FULL       0.95
#define WF_KETTLE_FULL    0.90
#define WF_FERMENTER_FULL 0.85

/* ---- Mash ------------------------------------------------------------------------------------ */

struct wf_rest {
    const char *what; /* "conversion" */
    double celsius, minutes;
    double water_l, water_celsius; /* that is added to reach it */
};
#define WF_RESTS_MOST 3

enum wf_body { WF_BODY_LIGHT, WF_BODY_MEDIUM, WF_BODY_FULL };

struct wf_brewday_mash {
    double grain_kg; /* that is mashed; 0: no mash */
    double grain_celsius;
    double liquor_l_kg; /* as brewed, without what is under it */
    double tun_heat_l;  /* the tun, as cold as the grain, warms like so much water; 0: warm */
    double tun_celsius; /* by which the strike water is hotter for it */
    bool held_back;     /* less liquor than the brewhouse's: the tun holds no more */
    double out_l; /* of the sparge's water, as hot as it comes, for WF_MASH_OUT_C; NaN: it does
                     not suffice, or the tun holds no more */
    double reach; /* efficiency that WF_CONVERSION gives, run off and sparged once (wf_drained) */
    double reach_sg; /* the wort after the boil then */
    enum wf_body body;
    double body_index;
    bool dry; /* it would have been a full body, but the beer is to end dry */
    struct wf_rest rests[WF_RESTS_MOST];
    size_t rest_count;
    bool thin;       /* all the water is in the mash: no sparge */
    bool weak;       /* too few enzymes for a mash to count on: below WF_LINTNER_LEAST */
    bool too_strong; /* even first runnings of full conversion are weaker than the wort that the
                        recipe's efficiency asks for before the boil */
};
#define WF_LINTNER_LEAST 35.0
#define WF_MASH_OUT_C                                                                              \
    76.0 /* ends the work of the enzymes and thins the wort; sparge water is as                    \
            hot: common practice */
#define WF_MASH_LEAST_L_KG 1.8 /* thicker can hardly be stirred: common practice */
/* An efficiency so far above the reach is told: slow sparging gives some more than that law. */
#define WF_REACH_MORE 0.03

/* ---- Boil ------------------------------------------------------------------------------------ */

/* One thing that goes into the wort, in order of the clock. */
enum wf_adding { WF_ADD_HOP, WF_ADD_EXTRACT, WF_ADD_SUGAR };
struct wf_brewday_addition {
    enum wf_adding what;
    const char *name;
    double kg, ibu; /* ibu: NaN for what is no hop */
    enum wf_hop_use use;
    double clock;   /* minutes since the boil began; a stand: since it ended */
    double to_go;   /* minutes of boil, or of stand, left from then */
    double celsius; /* stand */
    double days;    /* dry */
    bool whole;
};
#define WF_SUGAR_MINUTES 10.0 /* of boil that sugars get: common practice */

/* ---- Yeast and packaging --------------------------------------------------------------------- */

struct wf_brewday_yeast {
    bool known;                       /* a yeast was named */
    double rate;                      /* million cells per mL and P */
    double billion, dry_g, slurry_l;  /* cells, and two ways to have them */
    double celsius_low, celsius_high; /* NaN: its maker's */
    bool lager;                       /* cold-stored after fermentation */
    double warm_celsius;              /* a lager's rest near the end of fermentation; NaN: none */
    bool eats_dextrins;
    double alcohol_most; /* NaN: not known */
    double gas_l;        /* CO2 that the fermentation gives off, litres of gas; NaN: not known */
};

struct wf_brewday_packaging {
    bool keg, usual; /* usual: the CO2 was not asked for */
    enum wf_priming priming;
    double volumes, celsius, residual; /* wanted; of the beer; left in it */
    double g_per_l, sugar_g;           /* priming; 0: it holds as much already */
    double bar;                        /* keg: the pressure to set */
    double bottle_bar, bottle_celsius; /* bottles: what presses in a warm room */
    double volumes_per_point;          /* that each gravity point still to ferment adds */
};

/* ---- Measuring ------------------------------------------------------------------------------- */

enum wf_measure {
    WF_MEASURE_MASH,     /* C */
    WF_MEASURE_FIRST,    /* SG of the first runnings */
    WF_MEASURE_BEFORE,   /* SG before the boil */
    WF_MEASURE_BEFORE_L, /* L */
    WF_MEASURE_AFTER,    /* SG after it, cooled */
    WF_MEASURE_AFTER_L,  /* L */
    WF_MEASURE_PITCH,    /* C */
    WF_MEASURE_FINAL,    /* SG */
    WF_MEASURE_COUNT
};
const char *wf_measure_name(enum wf_measure m); /* "gravity before the boil" */

/* What mends one reading: of the members that are not NaN, either will do. */
struct wf_correction {
    double reading;
    double
        beside_sg;  /* readings of volume: the gravity that goes with it if all extract is there */
    double minutes; /* boil so much longer; below 0: so much shorter */
    double left_l;  /* what that leaves at the end of the boil */
    double extract_kg; /* or add so much light dry malt extract */
    double water_l;    /* add water */
    double water_celsius;
    double converted; /* first runnings: share of the extract that is in solution */
    double og;        /* what the beer's original gravity is if nothing is done */
    double volumes;   /* final gravity: CO2 that would still come, in bottles on top of the rest */
    double abv;       /* if it stays there */
};
#define WF_CORRECTIONS_MOST 8

struct wf_measuring {
    enum wf_measure what;
    double expected;
    double near_enough; /* readings this close need nothing */
    struct wf_correction remedies[WF_CORRECTIONS_MOST];
    size_t remedy_count;
};
/* Gravity points times volume before the boil, which tell whether extract is missing, whatever was
 * boiled away: what a hundredth of them is. */
struct wf_hundredth {
    double points_l;   /* expected, all of it: gravity points x L; NaN: no wort */
    double extract_kg; /* of light dry malt extract that makes up for it */
    double litres;     /* or so much less beer; that too much: more */
};
/* Light dry malt extract, common practice: 44 points per lb and gal. */
#define WF_DRY_EXTRACT_PPG 44.0

/* ---- The day --------------------------------------------------------------------------------- */

#define WF_ALLERGENS_MOST 160

struct wf_brewday {
    struct wf_arena *arena;
    const struct wf_recipe *recipe; /* not its own: must outlive it */
    const char *brewhouse;          /* NULL: the usual figures */
    double shrinkage;
    double altitude_m, air_bar, boiling_celsius;
    double bitterness_less; /* a share, by wf_height_bitterness; not counted in the recipe's */
    struct wf_brewday_water water;
    struct wf_brewday_vessel vessels[WF_VESSEL_COUNT];
    struct wf_brewday_mash mash;
    double first_sg; /* first runnings at WF_CONVERSION; NaN: no mash */
    double before_sg, after_sg;
    struct wf_brewday_addition *additions; /* extracts, first wort, boil, stand, dry */
    size_t addition_count;
    double boil_minutes, evaporation_l_h;
    struct wf_brewday_yeast yeast;
    struct wf_brewday_packaging packaging;
    struct wf_measuring points[WF_MEASURE_COUNT]; /* those that apply, in order */
    size_t point_count;
    struct wf_hundredth hundredth;
    struct wf_range og_window;         /* the target's; any: none is known */
    char allergens[WF_ALLERGENS_MOST]; /* "gluten, milk" */
    double dry_hop_g_l;
};
#define WF_CONVERSION 0.95 /* of the extract of the mash before the sparge: common practice */

/* The recipe must be predicted, as every reader hands it over. `b` NULL: usual figures; `s` NULL:
 * no store. WF_OUT_OF_RANGE where the day cannot be brewed so: the error says why. *out is yours to
 * wf_brewday_free. */
enum wf_status wf_brewday_plan(const struct wf_recipe *r, const struct wf_brewhouse *b,
                               const struct wf_store *s, const struct wf_catalogue *c,
                               const struct wf_brewday_options *o, struct wf_brewday **out,
                               struct wf_error *e) WF_MUST_USE;
void wf_brewday_free(struct wf_brewday *d); /* NULL allowed */

#endif
