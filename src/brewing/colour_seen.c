/*
 * colour_seen.c: from a beer's colour figure to what the eye sees: the light that comes through the
 * glass, weighed by the three responses of the observer, as red, green and blue of a screen.
 */
#include "wortfit/process.h"

#include "base/try.h"
#include "brewing/range.h"

#define SRM_MOST 170.0
#define CM_MOST  100.0
#define FIRST_NM 380.0
#define STEP_NM  10.0

/* ISO 11664-2 (CIE standard illuminant D65), 380..780 nm by 10. */
static const double daylight[] = {
    49.9755, 54.6482, 82.7549, 91.4860, 93.4318, 86.6823, 104.865, 117.008, 117.812,
    114.861, 115.923, 108.811, 109.354, 107.802, 104.790, 107.689, 104.405, 104.046,
    100.000, 96.3342, 95.7880, 88.6856, 90.0062, 89.5991, 87.6987, 83.2886, 83.6992,
    80.0268, 80.2146, 82.2778, 78.2842, 69.7213, 71.6091, 74.3490, 61.6040, 69.8856,
    75.0870, 63.5927, 46.4182, 66.8054, 63.3828,
};

/* A lobe of the observer's fit: height, place, and its width to either side, nm. */
struct lobe {
    double height, nm, left, right;
};

/* Wyman, Sloan and Shirley 2013, multi-lobe fit to the CIE 1931 observer. */
static const struct lobe observer[3][3] = {
    {{1.056, 599.8, 37.9, 31.0}, {0.362, 442.0, 16.0, 26.7}, {-0.065, 501.1, 20.4, 26.2}},
    {{0.821, 568.8, 46.9, 40.5}, {0.286, 530.9, 16.3, 31.1}, {0, 500, 1, 1}},
    {{1.217, 437.0, 11.8, 36.0}, {0.681, 459.0, 26.0, 13.8}, {0, 500, 1, 1}},
};

/* White of D65 for the CIE 1931 observer, and IEC 61966-2-1: X, Y, Z to linear red, green, blue. */
static const double white[3] = {0.95047, 1.00000, 1.08883};
static const double screen[3][3] = {
    {3.2406, -1.5372, -0.4986}, {-0.9689, 1.8758, 0.0415}, {0.0557, -0.2040, 1.0570}};

static double response(int which, double nm)
{
    double sum = 0;
    for (size_t i = 0; i < WF_COUNT_OF(observer[which]); i++) {
        const struct lobe *l = &observer[which][i];
        double from_middle = (nm - l->nm) / (nm < l->nm ? l->left : l->right);
        sum += l->height * exp(-0.5 * from_middle * from_middle);
    }
    return sum;
}

/* Share of the light of a wavelength that passes `srm_cm` = SRM x cm of beer: deLange's mean beer.
 */
static double passes(double srm_cm, double nm)
{
    double beyond = nm - 430;
    double shape = 0.02465 * exp(-beyond / 17.591) + 0.97535 * exp(-beyond / 82.122);
    return pow(10, -srm_cm / 12.7 * shape);
}

/* X, Y or Z, so that no beer at all is the white of the light: what the fit is off there is taken
 * off everywhere. */
static double seen(int which, double srm_cm)
{
    double through = 0, all = 0;
    for (size_t i = 0; i < WF_COUNT_OF(daylight); i++) {
        double nm = FIRST_NM + STEP_NM * (double)i;
        double part = daylight[i] * response(which, nm);
        through += part * passes(srm_cm, nm);
        all += part;
    }
    return white[which] * through / all;
}

static int of_screen(double linear)
{
    double held = linear < 0 ? 0 : linear > 1 ? 1 : linear;
    double value = held <= 0.0031308 ? 12.92 * held : 1.055 * pow(held, 1 / 2.4) - 0.055;
    return (int)lround(255 * value);
}

enum wf_status wf_colour_seen(double srm, double cm, int rgb[3])
{
    double xyz[3];
    if (!wf_within(srm, 0, SRM_MOST) || !wf_within(cm, 0, CM_MOST))
        return WF_OUT_OF_RANGE;
    for (int i = 0; i < 3; i++)
        xyz[i] = seen(i, srm * cm);
    for (int i = 0; i < 3; i++)
        rgb[i] = of_screen(screen[i][0] * xyz[0] + screen[i][1] * xyz[1] + screen[i][2] * xyz[2]);
    return WF_OK;
}
