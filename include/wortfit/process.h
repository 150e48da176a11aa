/*
 * process.h: the laws of the brew day, as pure functions: mash, water, boil, pitch, carbonation,
 * and how a beer looks. Like brewing.h: an argument outside the stated range, or not finite, gives
 * WF_OUT_OF_RANGE and leaves *out untouched.
 *
 * Units: kg, L, minutes, degrees C, SG (20 C/20 C), degrees Plato, bar, m, CO2 in volumes (of gas
 * at 0 C and 1 atm in one of beer). Volumes are of cooled wort unless called hot.
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

/* What strike water must be hotter for a tun that is as cold as tun_celsius and warms like tun_l of
 * water: tun_l / litres * (rest - tun), conservation of heat. Added to wf_strike_celsius. In an
 * infusion the tun counts as tun_l more of the mash. */
enum wf_status wf_tun_celsius(double tun_l, double litres, double tun_celsius, double rest_celsius,
                              double *more) WF_MUST_USE;
/* Litres of water that warm like a kg of steel: 0.50/4.19 kJ/(kg K), handbook values. */
#define WF_STEEL_HEAT_L_KG 0.12
/* Litres that a kg of malt takes up in a mash, beside its water: 0.32 US qt/lb (common practice:
 * 1 lb in 1 qt fills 1.32 qt). */
#define WF_MALT_ROOM_L_KG (0.32 * 0.946352946 / 0.45359237)
/*
 * The share of the extract in solution that leaves a mash which is drained and then sparged once,
 * each time evenly mixed: 1 - (k / (water + v)) (k / (k + sparge)), where v is what the extract
 * adds to the volume and k what stays behind, v + kept. `kept` is what the mash keeps of its water,
 * as brewers measure it: water in less wort out. Conservation; slow sparging gives a little more.
 */
enum wf_status wf_drained(double water_l, double sparge_l, double kept_l, double extract_l,
                          double *share) WF_MUST_USE;

/* ---- Heights (height.c) ---------------------------------------------------------------------- */

#define WF_AIR_BAR 1.01325 /* at sea level */
/* The air's pressure at a height, -500..6000 m: 1.01325 (1 - 0.0065 h / 288.15)^5.25588 bar
 * (International Standard Atmosphere, ISO 2533:1975). Weather changes it by some hundredths. */
enum wf_status wf_air_bar(double height_m, double *bar) WF_MUST_USE;
/* Where water boils under that pressure, 0.4..1.1 bar: Antoine's law, log10 p = 8.07131 -
 * 1730.63/(233.426 + t), p in mmHg (handbook coefficients for 1..100 C). */
enum wf_status wf_boiling_celsius(double air_bar, double *celsius) WF_MUST_USE;
/* By how much the bitterness of the boil is less at that height: M. Garetz, Using Hops, 1994, a
 * factor 1 + 0.02 for each 550 ft to divide by; as quoted. 0 below sea level. No other source says
 * so, so no prediction counts it. -500..6000 m. */
enum wf_status wf_height_bitterness(double height_m, double *share) WF_MUST_USE;

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
 * 0.00026555 F^2, F in Fahrenheit (M.L. Hall, Zymurgy 1995, as quoted). 0..27 C, at sea level:
 * under thinner air as much less as the air presses less (W. Henry's law). */
enum wf_status wf_residual_co2(double celsius, double *volumes) WF_MUST_USE;

enum wf_priming { WF_SUCROSE, WF_DEXTROSE, WF_DRY_EXTRACT, WF_PRIMING_COUNT };
/* g of sugar in a litre of beer for one volume more. Sucrose gives 4 CO2 (176.04/342.30), dextrose
 * as sold, with its water, 2 CO2 (88.02/198.17): stoichiometry. Dry malt extract: 95 % extract, of
 * which 75 % ferments apparently, by Balling's 0.9565 g of CO2 from 2.0665 g. */
enum wf_status wf_priming_g_per_l(enum wf_priming sugar, double *g_per_l) WF_MUST_USE;
/* Volumes that still come if the beer ferments on from one gravity to another, no higher: the real
 * extract that goes, by Balling. */
enum wf_status wf_co2_from_gravity(double from_sg, double to_sg, double *volumes) WF_MUST_USE;
/* Pressure, above that of the air, over beer that holds so much at that temperature: A.J. deLange,
 * CO2 Volumes in Beer, 2011, coefficients from memory: V = (p + 14.695)(0.01821 + 0.090115 e^(-(F -
 * 32)/43.11)) - 0.003342, p in psi above the air at sea level. 0..40 C (the tables behind it end at
 * 16 C), volumes 0..10, air 0.4..1.1 bar. Below the air's pressure: 0. */
enum wf_status wf_co2_bar(double volumes, double celsius, double air_bar, double *bar) WF_MUST_USE;
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
