/* brewday_vessels.c: whether the day fits the vessels. */
#include "brewday/brewday_parts.h"

#include <math.h>

static void fill(struct wf_brewday_vessel *v, double room_l, double filled_l, double full)
{
    v->room_l = room_l;
    v->filled_l = filled_l;
    v->fit = isnan(room_l) || filled_l == 0 ? WF_FIT_UNKNOWN
             : filled_l > room_l            ? WF_FIT_OVER
             : filled_l > full * room_l     ? WF_FIT_TIGHT
                                            : WF_FIT_GOOD;
}

static double or_none(double litres)
{
    return litres > 0 ? litres : (double)NAN;
}

/* The batch whose wort fills the kettle as far as it may: what boils away stays the same, what
 * sugars add goes with the batch. */
static double batch_of_kettle(const struct wf_brewday *d, double room_l)
{
    const struct wf_brewday_water *w = &d->water;
    double cooled = WF_KETTLE_FULL * room_l * (1 - d->shrinkage);
    return or_none((cooled - w->evaporated_l) / (1 - w->late_l / w->after_boil_l));
}

enum wf_status wf_plan_vessels(struct wf_planning *p)
{
    struct wf_brewday *d = p->day;
    const struct wf_brewhouse *b = p->brewhouse;
    const struct wf_brewday_water *w = &d->water;
    double kg = d->mash.grain_kg;
    struct wf_brewday_vessel *tun = &d->vessels[WF_VESSEL_TUN],
                             *kettle = &d->vessels[WF_VESSEL_KETTLE],
                             *fermenter = &d->vessels[WF_VESSEL_FERMENTER];
    fill(tun, b->tun_l, kg > 0 ? w->mash_l + WF_MALT_ROOM_L_KG * kg : 0,
         WF_TUN_FULL + 0.005 /* what rounding adds */);
    fill(kettle, b->kettle_l, fmax(w->before_hot_l, w->after_hot_l), WF_KETTLE_FULL);
    fill(fermenter, b->fermenter_l, w->fermenter_l, WF_FERMENTER_FULL);
    tun->batch_l = (double)NAN;
    kettle->batch_l = batch_of_kettle(d, b->kettle_l);
    fermenter->batch_l = or_none(WF_FERMENTER_FULL * b->fermenter_l + w->kettle_loss_l);
    return WF_OK;
}
