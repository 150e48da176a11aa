/* conflict.h: demands that cannot hold together, and no fewer of them. */
#ifndef WF_CONFLICT_H
#define WF_CONFLICT_H

#include "solve/inquiry.h"

/*
 * Marks in member[] (one a demand) a conflict among the demands that are not in aside[]; those of
 * the store are never aside. All of them together must be known not to hold. *irreducible: proved
 * to be.
 */
enum wf_status wf_conflict_find(struct wf_inquiry *q, const bool *aside, bool *member,
                                bool *irreducible) WF_MUST_USE;

/* Asks with all demands given way that are not in hold[]. */
enum wf_status wf_conflict_ask(struct wf_inquiry *q, const bool *hold,
                               enum wf_exists *out) WF_MUST_USE;

#endif
