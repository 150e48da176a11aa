/* tables.h: the table of each kind of file; tests walk them all. */
#ifndef WF_TABLES_H
#define WF_TABLES_H

#include "pantry/json_read.h"

extern const struct wf_json_table wf_store_table, wf_brewhouse_table, wf_target_table;
extern const struct wf_json_table wf_recipe_table;

#endif
