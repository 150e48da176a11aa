/*
 * more_less.h: "toast", "bitterness by 5 IBU": what is wished more or less of in a recipe.
 *
 * A bit, where no amount is given, is WF_BIT_...; it is then between that and half as much again.
 * An amount is met within the tolerance of a bare aim. "by 50 %" is half of what there is.
 */
#ifndef WF_MORE_LESS_H
#define WF_MORE_LESS_H

#include "wortfit/revise.h"

#define WF_BIT_INDEX      0.5   /* of a word of character */
#define WF_BIT_BITTERNESS 5.0   /* IBU */
#define WF_BIT_STRENGTH   0.005 /* of original gravity */
#define WF_BIT_COLOUR     2.0   /* SRM */

/* Adds what the text wishes to `v`; `sign` 1: more, -1: less. `option` is for messages. */
enum wf_status wf_more_less_parse(const char *option, const char *text, int sign,
                                  const struct wf_recipe *r, struct wf_revision *v,
                                  struct wf_error *e) WF_MUST_USE;

#endif
