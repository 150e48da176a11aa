/*
 * limits.h: the greatest and least figures that a file may hold, in internal units: wide enough for
 * any brewer, narrow enough that a slip of the pen is refused and no model is given absurd figures.
 */
#ifndef WF_LIMITS_H
#define WF_LIMITS_H

#define WF_MOST_KG        1e5   /* of a lot */
#define WF_MOST_PRICE     1e5   /* per kg, or of a pack */
#define WF_MOST_LOVIBOND  750.0 /* 2000 EBC; the darkest malts sold have some 700 */
#define WF_MOST_LINTNER   300.0 /* distillers' malts have some 250 */
#define WF_MOST_ALPHA     0.30  /* the strongest varieties have some 23 % */
#define WF_LEAST_PACK_KG  0.001
#define WF_LEAST_STEP_KG  0.0001
#define WF_MOST_SCORE     5.0 /* of a word of character */
#define WF_MOST_FERMENTED 1.3 /* fermentability, relative to base malt: the law's end */

#define WF_LEAST_BATCH_L     0.5 /* a jug */
#define WF_MOST_BATCH_L      1e5 /* a large brewery's kettle */
#define WF_LEAST_EFFICIENCY  0.1
#define WF_MOST_FALL         0.2 /* of efficiency, for 0.010 of gravity */
#define WF_LEAST_FACTOR      0.2 /* measured to predicted */
#define WF_MOST_FACTOR       5.0
#define WF_LEAST_ATTENUATION 0.2
#define WF_MOST_SPREAD       0.5   /* relative, one standard deviation: half as much again */
#define WF_MOST_MINUTES      240.0 /* boil, stand: as far as the laws of bitterness are taken */
#define WF_MOST_STAND_C      100.0
#define WF_MOST_DRY_DAYS     60.0

#define WF_LEAST_OG      1.002
#define WF_MOST_OG       1.150
#define WF_LEAST_FG      0.980
#define WF_MOST_FG       1.100
#define WF_MOST_SRM      100.0 /* past 50 the figure only means "black" */
#define WF_MOST_RATIO    5.0   /* IBU per gravity point */
#define WF_MOST_IBU      200.0
#define WF_MOST_ABV      0.20
#define WF_MOST_INDEX    100.0 /* of a word, summed over a recipe */
#define WF_MOST_DOSE_G_L 50.0
#define WF_MOST_LINES    1000 /* rules, slots, malts or hops of one target or recipe */
#define WF_MOST_LIST     200  /* names in a list */

#endif
