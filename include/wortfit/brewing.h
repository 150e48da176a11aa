/*
 * brewing.h: the laws of brewing, as pure functions. Numbers in, numbers out: no files, no strings,
 * no solver, no state.
 *
 * Units: kg, L, g, minutes, days, degrees C, SG (20 C/20 C), degrees Plato, SRM, degrees Lovibond,
 * IBU, degrees Lintner; shares and alpha acid are fractions (0.06 is 6 %). An argument outside the
 * stated range, or not finite, gives WF_OUT_OF_RANGE and leaves *out untouched: never a NaN.
 *
 * The functions named wf_*_per_kg and wf_*_per_gram are the coefficients of the model's rows, and
 * wf_beer_predict() sums them: what predicts a recipe is what the solver was told.
 */
#ifndef WORTFIT_BREWING_H
#define WORTFIT_BREWING_H

#include "wortfit/status.h"

#include <stdbool.h>
#include <stddef.h>

/* ---- Units: NIST SP 811 ---------------------------------------------------------------------- */

#define WF_KG_PER_LB        0.45359237
#define WF_KG_PER_OZ        0.028349523125
#define WF_L_PER_US_GAL     3.785411784
#define WF_L_PER_US_QT      0.946352946
#define WF_WATER_KG_PER_L   0.99820 /* at 20 C, handbook value (CIPM 0.998207) */
#define WF_SUCROSE_PPG      46.21   /* points per lb in 1 US gal; Noonan gives 46.214 */
#define WF_MCU_KG_L_FACTOR  8.3454  /* lb.Lov/gal from kg.Lov/L; Manning 1994 prints 8.346 */
#define WF_SUCROSE_POINTS_L 385.64  /* the same in points x L per kg */

/* ---- Gravity and extract (gravity.c) --------------------------------------------------------- */

/* The range of the ASBC fit for wort is 1.000..1.130; beer below water and the strongest worts are
 * taken up to these limits, where the cubic is off by less than 0.05 P at 34 P (USDA table). */
#define WF_GRAVITY_LEAST 0.980
#define WF_GRAVITY_MOST  1.150

/* P = -616.868 + 1111.14 SG - 630.272 SG^2 + 135.997 SG^3 (ASBC table fit), SG as above. */
enum wf_status wf_plato_from_gravity(double sg, double *plato) WF_MUST_USE;
/* Its inverse, by Newton's method to machine accuracy; plato within the image of the SG range. */
enum wf_status wf_gravity_from_plato(double plato, double *sg) WF_MUST_USE;
/* kg of extract in a litre of wort at 20 C: P/100 x SG x 0.99820 (definition), and its inverse. */
enum wf_status wf_extract_from_gravity(double sg, double *kg_per_l) WF_MUST_USE;
enum wf_status wf_gravity_from_extract(double kg_per_l, double *sg) WF_MUST_USE;
/* Gravity points: (SG - 1) x 1000. */
double wf_points(double sg);

/* kg extract per kg malt as is, from a fine-grind analysis on dry basis (0..1) and moisture
 * (0..0.5): dry x (1 - moisture) (ASBC Malt-4). */
enum wf_status wf_yield_from_analysis(double fine_dry, double moisture, double *yield) WF_MUST_USE;
/* The same from a potential as is, 0..46.3 points per lb and gal: ppg / 46.21 (sucrose), at most 1.
 */
enum wf_status wf_yield_from_potential(double ppg, double *yield) WF_MUST_USE;

/* ---- Colour (colour.c) ----------------------------------------------------------------------- */

/* Malt colour units: lb x Lovibond / US gal, from kg x Lovibond and litres (both >= 0, litres > 0).
 */
enum wf_status wf_mcu_from_weights(double kg_lovibond, double litres, double *mcu) WF_MUST_USE;
/* SRM = 1.4922 MCU^0.6859 (D. Morey 1995), made for beers below 50 SRM; MCU 0..WF_MCU_MOST.
 * Inverse: SRM 0..170. Past 50 SRM the figure only means "black". */
#define WF_MCU_MOST 1000.0
enum wf_status wf_srm_from_mcu(double mcu, double *srm) WF_MUST_USE;
enum wf_status wf_mcu_from_srm(double srm, double *mcu) WF_MUST_USE;
/* The MCU, as a factor, that give `factor` times the SRM. */
double wf_mcu_factor(double factor);
/* Beer: EBC = 1.97 SRM. */
double wf_ebc_from_srm(double srm);
double wf_srm_from_ebc(double ebc);
/* Malt: Lov = (EBC/1.97 + 0.76)/1.3546, 0 EBC and below the line's foot giving 0 Lov; 0..2000 EBC.
 */
enum wf_status wf_lovibond_from_ebc(double ebc, double *lovibond) WF_MUST_USE;
enum wf_status wf_ebc_from_lovibond(double lovibond, double *ebc) WF_MUST_USE;

/* ---- Bitterness (bitterness.c) --------------------------------------------------------------- */

enum wf_utilisation_law { WF_TINSETH, WF_RAGER };

/* Share of the alpha acid that ends as bitterness, for pellets as published. Tinseth 1997:
 * 1.65 x 0.000125^(Gb-1) x (1 - e^(-0.04 t))/4.15, his table 1.030..1.130 and 0..120 min. Rager
 * 1990: (18.11 + 13.86 tanh((t - 31.32)/18.27)) / 100 / (1 + (Gb - 1.050)/0.2 above 1.050). Taken
 * for Gb 1.000..1.150 and t 0..240 min; t = 0 gives 0 by either law (Rager's fit does not, but an
 * addition that is not boiled is not covered by his table). */
enum wf_status wf_utilisation(enum wf_utilisation_law law, double boil_gravity, double minutes,
                              double *share) WF_MUST_USE;

/* Rate of isomerisation, 1/min: k1 = 7.9e11 e^(-11858/T) (Malowicki & Shellhammer 2005), measured
 * 90..130 C; taken 0..130 C, extrapolated below 90. */
enum wf_status wf_isomerisation_rate(double celsius, double *per_minute) WF_MUST_USE;
/* Boil minutes that a stand of `minutes` (0..1440) at `celsius` is worth: minutes x k(T)/k(100 C).
 */
enum wf_status wf_stand_boil_minutes(double minutes, double celsius,
                                     double *boil_minutes) WF_MUST_USE;

enum wf_packing { WF_PACKED_OPEN, WF_PACKED_SEALED, WF_PACKED_VACUUM };

/* Alpha acid left after storage (Garetz 1994): alpha e^(-k TF SF days), k = -ln(1 - loss)/180 from
 * the loss in six months at 20 C (0..0.95), TF = 2^((T-20)/15), SF 1 open, 0.75 sealed, 0.5 sealed
 * with vacuum or inert gas. Days 0..3650; T -30..40 C (his data end at 20 C; above is
 * extrapolated). */
enum wf_status wf_alpha_after_storage(double alpha, double six_month_loss, double days,
                                      double celsius, enum wf_packing packing,
                                      double *left) WF_MUST_USE;

/* IBU per gravity point: the ratio of bitterness to gravity. sg > 1. */
enum wf_status wf_bitterness_ratio(double ibu, double sg, double *ratio) WF_MUST_USE;

/* ---- Fermentation (fermentation.c) ----------------------------------------------------------- */

/* Balling: real extract = 0.1808 OE + 0.8192 AE; so a share a of the extract that ferments
 * apparently ferments 0.8192 a really. */
#define WF_BALLING_ORIGINAL 0.1808
#define WF_BALLING_APPARENT 0.8192

/* A fermentable's own fermentability. Malts: apparent fermentability relative to two-row base malt
 * (1 for base, 0.74 for a pale crystal): their extract leaves the real residue
 * 1 - 0.8192 x attenuation x f. Sugars: f is the share of the extract that any brewing yeast
 * ferments, whatever its attenuation: the residue is 1 - f. attenuation 0..1, f 0..1.3; residue
 * held in 0..1. */
enum wf_status wf_residual_share(double attenuation, double fermentability, bool sugar,
                                 double *share) WF_MUST_USE;
/* Real and apparent extract, degrees Plato: original 0..36, the others -10..36. */
enum wf_status wf_real_extract(double original, double apparent, double *real) WF_MUST_USE;
enum wf_status wf_apparent_extract(double original, double real, double *apparent) WF_MUST_USE;
/* Alcohol by weight, a fraction: (OE - RE)/(2.0665 - 0.010665 OE)/100 (Balling). OE 0..36 P, RE at
 * most OE. */
enum wf_status wf_alcohol_by_weight(double original, double real, double *abw) WF_MUST_USE;
/* By volume: ABW x SG of the beer / 0.791. */
enum wf_status wf_alcohol_by_volume(double abw, double final_gravity, double *abv) WF_MUST_USE;
/* Lintner = (WK + 16)/3.5 and its inverse (never below 0); no enzymes are 0 on both scales. */
double wf_lintner_from_wk(double wk);
double wf_wk_from_lintner(double lintner);

/* ---- From a recipe to a beer (predict.c) ----------------------------------------------------- */

/* One fermentable as the laws see it; the defaults of a missing figure are the reader's business.
 */
struct wf_grain {
    double yield;          /* kg extract per kg as is, 0..1 */
    double lovibond;       /* Lov */
    double lintner;        /* Lintner, as is */
    double fermentability; /* see wf_residual_share */
    bool sugar;            /* how fermentability is meant */
    bool mashed;           /* false: all its extract reaches the wort */
};

enum wf_hop_use { WF_HOP_FIRST_WORT, WF_HOP_BOIL, WF_HOP_STAND, WF_HOP_DRY, WF_HOP_USE_COUNT };

/* The form of whole hops: their part of the utilisation of pellets (common practice). */
#define WF_WHOLE_HOPS 0.9

/* One hop addition as the laws see it. */
struct wf_addition {
    enum wf_hop_use use;
    double alpha;   /* fraction at brewing, after storage */
    double minutes; /* boil: before its end; stand: its length; else ignored */
    double celsius; /* stand only */
    double form;    /* 1 pellets, WF_WHOLE_HOPS */
};

/* What of the brewhouse and the process bears on the figures. */
struct wf_kettle {
    double batch_l;         /* wort at the end of the boil, cooled: the one volume */
    double efficiency;      /* share of the mashed extract that reaches it */
    double boil_minutes;    /* full boil */
    double evaporation_l_h; /* L per hour of boil, reckoned cooled */
    double stand_minutes;   /* boil minutes that the stand is worth, 0 for none: every addition
                               that is in the kettle by then gets them */
    enum wf_utilisation_law law;
    /* Bitterness and colour (SRM) as this brewhouse's beers have them, as a part of what the laws
     * give; 0 stands for 1. */
    double bitterness_factor, colour_factor;
};

/* Figures of a beer. NaN: not computed. */
struct wf_beer {
    double og, fg; /* SG */
    double plato;  /* original extract, P */
    double abv;    /* fraction */
    double srm, ebc;
    double ibu, ratio;   /* ratio: IBU per gravity point */
    double boil_gravity; /* SG, mean of before and after the boil */
    double lintner;      /* weighted mean over the mashed grist */
    double attenuation;  /* apparent, of the whole wort */
};

/* Extract in the wort (kg), colour (MCU, so many that the law of colour gives the kettle's colour
 * factor times what it would), real residue after fermentation (kg) per kg of grain. */
enum wf_status wf_extract_per_kg(const struct wf_grain *g, const struct wf_kettle *k,
                                 double *kg) WF_MUST_USE;
enum wf_status wf_mcu_per_kg(const struct wf_grain *g, const struct wf_kettle *k,
                             double *mcu) WF_MUST_USE;
enum wf_status wf_residue_per_kg(const struct wf_grain *g, const struct wf_kettle *k,
                                 double attenuation, double *kg) WF_MUST_USE;

/* Mean of the gravity before the boil (the same extract in batch + evaporation) and after it. */
enum wf_status wf_boil_gravity(double og, const struct wf_kettle *k, double *sg) WF_MUST_USE;

/* Boil minutes that count for an addition: first wort the whole boil, and the stand for all that is
 * in the kettle before it; a stand addition its own stand; dry hops 0. */
enum wf_status wf_addition_minutes(const struct wf_addition *a, const struct wf_kettle *k,
                                   double *minutes) WF_MUST_USE;
/* IBU per gram: 1000 x utilisation x form x alpha / batch, times the kettle's factor. */
enum wf_status wf_ibu_per_gram(const struct wf_addition *a, const struct wf_kettle *k,
                               double boil_gravity, double *ibu) WF_MUST_USE;

/*
 * The one forward path. kg[i] of grains[i], grams[j] of additions[j]; attenuation is the yeast's
 * apparent one on base malt, or NaN for none chosen (fg, abv and attenuation are then NaN).
 * ibu_each, if not NULL, gets each addition's bitterness. An empty grist is WF_OUT_OF_RANGE.
 */
enum wf_status wf_beer_predict(const struct wf_kettle *k, const struct wf_grain *grains,
                               const double *kg, size_t grain_count,
                               const struct wf_addition *additions, const double *grams,
                               size_t addition_count, double attenuation, struct wf_beer *beer,
                               double *ibu_each) WF_MUST_USE;

#endif
