/* hop_age.c: what storage has left of a lot's alpha acid. */
#include "wortfit/pantry.h"

#include "base/try.h"

enum wf_status wf_hop_alpha_on(const struct wf_hop *h, long day, double *alpha)
{
    *alpha = h->alpha;
    if (h->packed == WF_NO_DATE || day == WF_NO_DATE || h->packed >= day)
        return WF_OK;
    return wf_alpha_after_storage(h->alpha, h->six_month_loss, (double)(day - h->packed),
                                  h->kept_celsius, h->packing, alpha);
}

enum wf_status wf_store_age(struct wf_store *s, long day, struct wf_error *e)
{
    for (size_t i = 0; i < s->hop_count; i++) {
        struct wf_hop *h = &s->hops[i];
        double alpha;
        enum wf_status status = wf_hop_alpha_on(h, day, &alpha);
        if (status != WF_OK)
            return wf_error_add(e, status,
                                "hop \"%s\": packed more than ten years before the brewing day, or "
                                "kept outside -30..40 C: give its alpha acid as it is now and no "
                                "\"packed\" date",
                                h->id);
        h->alpha = alpha;
        h->packed = WF_NO_DATE;
    }
    return WF_OK;
}
