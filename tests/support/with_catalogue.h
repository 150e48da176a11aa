/* with_catalogue.h: a test program whose tests all read with the one catalogue: set_up and
 * tear_down are its group's fixture. */
#ifndef WF_WITH_CATALOGUE_H
#define WF_WITH_CATALOGUE_H

#include "wortfit/pantry.h"

static struct wf_catalogue *catalogue;
static struct wf_error error;

static int set_up(void **state)
{
    (void)state;
    return wf_catalogue_read(&catalogue, &error) == WF_OK ? 0 : -1;
}

static int tear_down(void **state)
{
    (void)state;
    wf_catalogue_free(catalogue);
    return 0;
}

#endif
