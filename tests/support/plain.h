/*
 * plain.h: a problem that a person can follow: two sacks of pale malt, one of them dearer, a
 * crystal malt, a roasted malt, a bitter and an aromatic hop, and two yeasts; a pale amber beer
 * of 1.050 with hops in the boil and, if need be, dry. Tests change in it what they are about.
 */
#ifndef WF_PLAIN_H
#define WF_PLAIN_H

#include "support/generate.h"

enum { PALE, OLD_SACK, CRYSTAL, ROASTED };
enum { BITTER, AROMATIC };
enum { SWEET, DRY };

extern const struct wf_slot plain_slots[2]; /* the boil, dry; no dose is set */

struct gen *plain_make(void);

#endif
