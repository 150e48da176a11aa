/*
 * process.h: the laws of the brew day, as pure functions: mash, water, boil, pitch, carbonation,
 * and how a beer looks. Like brewing.h: an argument outside the stated range, or not finite, gives
 * WF_OUT_OF_RANGE and leaves *out untouched.
 *
 * Units: kg, L, minutes, degrees C, SG (20 C/20 C), degrees Plato, bar above the air's, CO2 in
 * volumes (of gas at 0 C and 1 atm in one of beer). Volumes are of cooled wort unless called hot.
 */
#ifndef WORTFIT_PROCESS_H
#define WORTFIT_PROCESS_H

#include "wortfit/status.h"

/* ---- Mash (mash.c) --------------------------------------------------------------------------- */

/* Malt warms like this much water: 0.2 US qt/lb (J. Palmer, How to Brew, ch. 16.3). The figure is
 * bound to those units: in L/kg it is not 0.2. */
#define WF_MALT_HEAT_L_KG (0.2 * 0.946352946 / 0.45359237)

/* Temperature of the water that brings malt from one temperature to the rest's: Palmer's
 * Tw = (h/r)(T2 - T1) + T2 with r = litres/kg. kg >= 0, litres > 0, temperatures -20..100; the
 * answer may lie above 100 C, where the mash is too thick for a single infusion. */
enum wf_status wf_strike_celsius(double kg, double litres, double malt_celsius, double rest_celsius,
                                 double *celsius) WF_MUST_USE;
/* Litres of water, hot or cold, that bring a mash of kg and litres from one temperature to another:
 * Palmer's Wa = (T2 - T1)(h G + W)/(Tw - T2). The water must lie beyond the wanted temperature. */
enum wf_status wf_infusion_litres(double kg, double litres, double from_celsius, double to_celsius,
                                  double water_celsius, double *water_l) WF_MUST_USE;
/* Extract of the first runnings, P: of 100 kg of wort, extract_kg / (extract_kg + water), by the
 * definition of degrees Plato. The water is that of the mash; the malt's own is left out, which
 * reads 0.3 P too much. */
enum wf_status wf_first_runnings(double extract_kg, double water_l, double *plato) WF_MUST_USE;

/* ---- Volumes (water.c) ----------------------------------------------------------------------- */

/* The volume that cooled wort has near 100 C: cooled / (1 - shrinkage). Water: 1 - 0.9584/0.9982 =
 * 0.04 (handbook densities). shrinkage 0..0.2. */
#define WF_SHRINKAGE 0.04
enum wf_status wf_hot_litres(double cooled_l, double shrinkage, double *hot_l) WF_MUST_USE;
/* Litres that a kg of extract adds to water that becomes wort of that gravity, > 1.001: from its
 * extract and density. About 0.61 L/kg. */
enum wf_status wf_extract_litres_per_kg(double sg, double *l_per_kg) WF_MUST_USE;

/* Extract stays when water goes or comes: extract x litres is kept (conservation). */
/* Gravity of the wort once its volume is another. */
enum wf_status wf_gravity_at_volume(double sg, double from_l, double to_l, double *out) WF_MUST_USE;
/* The volume at which the wort has the wanted gravity; both must have extract, as from 1.00002 on.
 */
enum wf_status wf_volume_at_gravity(double sg, double litres, double wanted,
                                    double *out) WF_MUST_USE;
/* kg of a dry fermentable of `yield` that bring wort of extract_kg in litres to the wanted gravity;
 * what it adds to the volume is reckoned. 0 where the wort is as strong already. */
enum wf_status wf_extract_to_add(double extract_kg, double litres, double wanted, double yield,
                                 double *kg) WF_MUST_USE;

/* ---- Pitching (pitching.c) ------------------------------------------------------------------- */

/* Million cells per mL and P: G. Fix, An Analysis of Brewing Techniques: 0.75 ale, 1.5 lager; 1.25
 * for yeasts between that ferment cool. */
#define WF_PITCH_ALE   0.75
#define WF_PITCH_COOL  1.25
#define WF_PITCH_LAGER 1.5
#define WF_CELLS_PER_G                                                                             \
    14.0 /* billion in a gram of dry yeast, as in the worked example of the test */
#define WF_CELLS_PER_ML 1.0 /* billion in a mL of thick slurry, common practice */
/* Billion cells: rate x mL x P / 1000. rate 0..10, litres >= 0, plato 0..40. */
enum wf_status wf_pitch_billion(double rate, double litres, double plato,
                                double *billion) WF_MUST_USE;

/* ---- Carbonation (carbonation.c) ------------------------------------------------------------- */

#define WF_CO2_G_PER_L 1.977 /* g in a litre of gas at 0 C and 1 atm: what a volume weighs */

/* Volumes left in beer that fermented open to the air at that temperature: 3.0378 - 0.050062 F +
 * 0.00026555 F^2, F in Fahrenheit (M.L. Hall, Zymurgy 1995, as quoted). 0..27 C. */
enum wf_status wf_residual_co2(double celsius, double *volumes) WF_MUST_USE;

enum wf_priming { WF_SUCROSE, WF_DEXTROSE, WF_DRY_EXTRACT, WF_PRIMING_COUNT };
/* g of sugar in a litre of beer for one volume more. Sucrose gives 4 CO2 (176.04/342.30), dextrose
 * as sold, with its water, 2 CO2 (88.02/198.17): stoichiometry. Dry malt extract: 95 % extract, of
 * which 75 % ferments apparently, by Balling's 0.9565 g of CO2 from 2.0665 g. */
enum wf_status wf_priming_g_per_l(enum wf_priming sugar, double *g_per_l) WF_MUST_USE;
/* Volumes that still come if the beer ferments on from one gravity to another, no higher: the real
 * extract that goes, by Balling. */
enum wf_status wf_co2_from_gravity(double from_sg, double to_sg, double *volumes) WF_MUST_USE;
/* Pressure over beer that holds so much at that temperature: A.J. deLange, CO2 Volumes in Beer,
 * 2011, coefficients from memory: V = (p + 14.695)(0.01821 + 0.090115 e^(-(F - 32)/43.11)) -
 * 0.003342, p in psi. 0..40 C (the tables behind it end at 16 C), volumes 0..10. Below the air's
 * pressure: 0. */
enum wf_status wf_co2_bar(double volumes, double celsius, double *bar) WF_MUST_USE;
/* Common practice for ordinary returnable bottles, and what makers of glass rate beer bottles for.
 */
#define WF_BOTTLE_USUAL 3.0
#define WF_BOTTLE_RATED 4.0

/* ---- Looks (colour_seen.c) ------------------------------------------------------------------- */

/* A beer's colour through cm of it, as 0..255 of red, green and blue on a screen. Mean absorption
 * of 99 beers, A(430 nm) = SRM/12.7 per cm (A.J. deLange, J. Am. Soc. Brew. Chem. 66(3), 2008);
 * observer CIE 1931 by the fit of Wyman, Sloan and Shirley, J. Computer Graphics Techniques 2(2),
 * 2013; light D65 (ISO 11664-2); sRGB (IEC 61966-2-1), what lies outside it cut off. A clear beer;
 * srm 0..170, cm 0..100. */
enum wf_status wf_colour_seen(double srm, double cm, int rgb[3]) WF_MUST_USE;

#endif
