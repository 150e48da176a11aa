/*
 * hop_time.h: when hops go in, as a brewer writes it:
 *     "60 min" (before the end of the boil), "first wort", "stand 20 min 80 C", "dry 4 days"
 */
#ifndef WF_HOP_TIME_H
#define WF_HOP_TIME_H

#include "wortfit/brewing.h"
#include "wortfit/quantity.h"

struct wf_hop_time {
    enum wf_hop_use use;
    double minutes; /* boil: before its end; stand: its length; else 0 */
    double celsius; /* stand; else 0 */
    double days;    /* dry; else 0 */
};

/* False: `why` says what was wrong and what would be right. */
bool wf_hop_time_parse(const char *text, struct wf_hop_time *out, char why[WF_REASON_MAX]);

#endif
