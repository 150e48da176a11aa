/* today.h: the calendar day of the machine's clock, where it stands. */
#ifndef WF_TODAY_H
#define WF_TODAY_H

long wf_today(void); /* days since 1970-01-01 */

#endif
