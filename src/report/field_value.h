/*
 * field_value.h: one field of one thing, as text and as JSON.
 */
#ifndef WF_FIELD_VALUE_H
#define WF_FIELD_VALUE_H

#include "report/json_put.h"
#include "report/report_list.h"

#define WF_FIELD_TEXT_MOST WF_PLAIN_MOST

/* "1.7 Lov", "caramel 4, body 1", "yes"; "" where there is nothing to say. Returns buffer. */
char *wf_field_print(const struct wf_field *f, const void *item, enum wf_units units,
                     char buffer[WF_FIELD_TEXT_MOST]);
/* Key and value; nothing where there is nothing to say. */
void wf_field_write(const struct wf_field *f, const void *item, struct wf_json_put *j);

#endif
