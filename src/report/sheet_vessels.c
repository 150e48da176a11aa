/* sheet_vessels.c: what does not fit into a vessel, or only just. */
#include "report/sheet.h"

#include "base/number.h"

#include <math.h>

struct words {
    const char *vessel, *of, *why;
};

static const struct words word_row[WF_VESSEL_COUNT] = {
    [WF_VESSEL_TUN] = {"mash tun", "grain and water", "can hardly be stirred"},
    [WF_VESSEL_KETTLE] = {"kettle", "hot wort", "boils over easily: stay by it, with the heat low"},
    [WF_VESSEL_FERMENTER] = {"fermenter", "wort",
                             "foams over: lead the gas through a wide hose into a jar"},
};

static void say_remedy(struct wf_sheet *s, enum wf_vessel v, char *out, size_t size)
{
    double batch = s->day->vessels[v].batch_l;
    if (v == WF_VESSEL_TUN)
        wf_snprintf(out, size, "brew less, or mash in two parts");
    else if (isnan(batch))
        wf_snprintf(out, size, "brew in another %s", word_row[v].vessel);
    else
        wf_snprintf(out, size, "a batch of about %s leaves room for foam (wortfit scale), or %s",
                    wf_sheet_about(s, WF_DIM_VOLUME, batch),
                    v == WF_VESSEL_KETTLE ? "hold wort back and add it as it boils down"
                                          : "ferment in two vessels");
}

void wf_sheet_vessel(struct wf_sheet *s, enum wf_vessel v)
{
    const struct wf_brewday_vessel *vessel = &s->day->vessels[v];
    const struct words *w = &word_row[v];
    char remedy[160];
    if (vessel->fit != WF_FIT_TIGHT && vessel->fit != WF_FIT_OVER)
        return;
    if (vessel->fit == WF_FIT_TIGHT) {
        wf_sheet_line(s, WF_LINE_CAUTION, "%s of %s in a %s of %s %s.",
                      wf_sheet_about(s, WF_DIM_VOLUME, vessel->filled_l), w->of, w->vessel,
                      wf_sheet_figure(s, WF_DIM_VOLUME, vessel->room_l), w->why);
        return;
    }
    say_remedy(s, v, remedy, sizeof remedy);
    wf_sheet_line(s, WF_LINE_CAUTION, "This does not fit: %s of %s, and the %s holds %s; %s.",
                  wf_sheet_about(s, WF_DIM_VOLUME, vessel->filled_l), w->of, w->vessel,
                  wf_sheet_figure(s, WF_DIM_VOLUME, vessel->room_l), remedy);
}
