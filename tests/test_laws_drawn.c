/*
 * What must hold of every law of brewing, on drawn arguments: uniform ones, ones at the ends of the
 * range and at the joins of its pieces, to the last bit, and absurd ones. A case that fails is made
 * plain: other inputs become usual ones, figures lose their digits.
 *
 *     test_laws_drawn [TIMES]
 */
#include "support/test.h"

#include "drawn/law.h"
#include "support/dice.h"

#include "base/number.h"

#include <float.h>

#define CASES 500 /* of each property and law */

static size_t times = 1, tried;

/* ---- Cases ----------------------------------------------------------------------------------- */

struct law_case {
    const struct law *law;
    double in[LAW_INPUTS_MOST];
    size_t input; /* that is varied */
    double other; /* its other value */
};

/* NULL: holds. */
typedef const char *law_property(const struct law_case *c);

static double uniform(struct dice *d, double low, double high)
{
    double part = (double)(dice_next(d) >> 11) * 0x1p-53;
    return fmin(high, low + part * (high - low));
}

static double drawn(struct dice *d, const struct law_input *i)
{
    double at = isfinite(i->join) && dice_chance(d, 50) ? i->join
                : dice_chance(d, 50)                    ? i->least
                                                        : i->most;
    switch (dice_whole(d, 0, 4)) {
    case 0:
        return fmin(fmax(at, i->least), i->most);
    case 1: /* some last bits off */
        for (long k = dice_whole(d, 1, 3); k > 0; k--)
            at = nextafter(at, dice_chance(d, 50) ? -HUGE_VAL : HUGE_VAL);
        return fmin(fmax(at, i->least), i->most);
    case 2: /* near it, at any distance */
        at += (dice_chance(d, 50) ? -1 : 1) * (i->most - i->least) *
              exp2((double)-dice_whole(d, 1, 60));
        return fmin(fmax(at, i->least), i->most);
    default:
        return uniform(d, i->least, i->most);
    }
}

static struct law_case drawn_case(struct dice *d, const struct law *law)
{
    struct law_case c = {.law = law, .input = (size_t)dice_whole(d, 0, (long)law->inputs - 1)};
    for (size_t i = 0; i < law->inputs; i++)
        c.in[i] = drawn(d, &law->in[i]);
    c.other = drawn(d, &law->in[c.input]);
    return c;
}

/* The law with one input at `value`; NaN: it did not answer. */
static double at(const struct law_case *c, double value)
{
    double in[LAW_INPUTS_MOST], out = (double)NAN;
    memcpy(in, c->in, sizeof in);
    in[c->input] = value;
    return c->law->law(in, &out) == WF_OK ? out : (double)NAN;
}

/* What rounding may do to a value: some last bits, and what is left of terms that cancel. */
static double rounding(const struct law *law, double value)
{
    return law->rounding + 16 * DBL_EPSILON * fabs(value);
}

/* ---- Properties ------------------------------------------------------------------------------ */

static const char *answers(const struct law_case *c)
{
    double out = -777;
    enum wf_status status = c->law->law(c->in, &out);
    return status == WF_OK && isfinite(out) ? NULL : "answers within its range";
}

/* One input is absurd: a figure all the same, or refused and the answer untouched. */
static const char *stays_sane(const struct law_case *c)
{
    static const double absurd[] = {(double)NAN, HUGE_VAL, -HUGE_VAL, DBL_MAX, -DBL_MAX,
                                    DBL_MIN,     -1,       -0.0,      1e300,   5e-324,
                                    -5e-324,     1,        1e18,      1 + 1e-9};
    for (size_t i = 0; i < COUNT_OF(absurd); i++) {
        double in[LAW_INPUTS_MOST], out = -777;
        memcpy(in, c->in, sizeof in);
        in[c->input] = absurd[i];
        enum wf_status status = c->law->law(in, &out);
        if (status == WF_OK ? !isfinite(out) : status != WF_OUT_OF_RANGE || out != -777) {
            print_error("input %zu = %g gives %s, %g\n", c->input, absurd[i],
                        wf_status_text(status), out);
            return "gives a figure, or refuses and leaves it untouched";
        }
    }
    return NULL;
}

static const char *goes_one_way(const struct law_case *c)
{
    int slope = c->law->in[c->input].slope;
    double low = fmin(c->in[c->input], c->other), high = fmax(c->in[c->input], c->other);
    double first = at(c, low), second = at(c, high), room = rounding(c->law, first);
    if (slope == 0)
        return NULL;
    return slope * (second - first) >= -room ? NULL : "goes one way all along";
}

/* Halves the stretch again and again, always taking the half over which the law changes more: what
 * is left is a jump, if there is one. */
static const char *has_no_jump(const struct law_case *c)
{
    const struct law_input *i = &c->law->in[c->input];
    double low = fmin(c->in[c->input], c->other), high = fmax(c->in[c->input], c->other);
    double first = at(c, low), last = at(c, high);
    while (nextafter(low, high) < high) {
        double middle = low + (high - low) / 2, value = at(c, middle);
        if (fabs(value - first) > fabs(last - value)) {
            high = middle;
            last = value;
        } else {
            low = middle;
            first = value;
        }
    }
    double steep = 1e-9 * fmax(fabs(first), fabs(last)) + c->law->rounding + 1e-12;
    if (fabs(last - first) <= steep || (i->jumps && low <= i->join && i->join <= high))
        return NULL;
    print_error("from %.17g to %.17g: %.17g, %.17g\n", low, high, first, last);
    return "has no jump";
}

/* ---- A case that fails ----------------------------------------------------------------------- */

static double fewer_digits(double value, int digits)
{
    char text[64];
    const char *end;
    double out;
    snprintf(text, sizeof text, "%.*g", digits, value);
    return wf_number_parse(text, &end, &out) && *end == '\0' ? out : value;
}

static bool take_if_fails(struct law_case *c, law_property *p, double *figure, double plain,
                          const struct law_input *i)
{
    double before = *figure;
    if (!(plain >= i->least && plain <= i->most))
        return false;
    *figure = plain;
    if (p(c) != NULL)
        return true;
    *figure = before;
    return false;
}

static void make_plain(struct law_case *c, law_property *p)
{
    for (size_t i = 0; i < c->law->inputs; i++) {
        const struct law_input *in = &c->law->in[i];
        if (take_if_fails(c, p, &c->in[i], in->inside, in))
            continue;
        for (int digits = 1; digits < 17; digits++)
            if (take_if_fails(c, p, &c->in[i], fewer_digits(c->in[i], digits), in))
                break;
    }
    for (int digits = 1; digits < 17; digits++)
        if (take_if_fails(c, p, &c->other, fewer_digits(c->other, digits), &c->law->in[c->input]))
            break;
}

static void tell_failed(struct law_case *c, law_property *p, const char *what)
{
    make_plain(c, p);
    print_error("%s: not so: %s; inputs", c->law->name, what);
    for (size_t i = 0; i < c->law->inputs; i++)
        print_error(" %.17g", c->in[i]);
    print_error(", input %zu from there to %.17g: %.17g, %.17g\n", c->input, c->other,
                at(c, c->in[c->input]), at(c, c->other));
}

static void each_law(law_property *p)
{
    size_t failed = 0;
    for (const struct law *law = laws; law->name != NULL; law++) {
        struct dice d = {.state = (uint64_t)(law - laws) + 1};
        bool good = true;
        for (size_t n = 0; good && n < CASES * times; n++, tried++) {
            struct law_case c = drawn_case(&d, law);
            const char *what = p(&c);
            good = what == NULL;
            if (!good)
                tell_failed(&c, p, what);
        }
        failed += !good;
    }
    assert_int_equal(failed, 0);
}

static void laws_answer(void **state)
{
    (void)state;
    each_law(answers);
}

static void laws_stay_sane(void **state)
{
    (void)state;
    each_law(stays_sane);
}

static void laws_go_one_way(void **state)
{
    (void)state;
    each_law(goes_one_way);
}

static void laws_have_no_jumps(void **state)
{
    (void)state;
    each_law(has_no_jump);
}

/* ---- There and back -------------------------------------------------------------------------- */

typedef enum wf_status one_law(double, double *);

static enum wf_status to_lintner(double wk, double *out)
{
    *out = wf_lintner_from_wk(wk);
    return WF_OK;
}

static enum wf_status to_wk(double lintner, double *out)
{
    *out = wf_wk_from_lintner(lintner);
    return WF_OK;
}

static const struct {
    const char *name;
    one_law *law, *inverse;
    struct law_input in;
    double back; /* how near a figure must come back */
} pairs[] = {
    {"Plato",
     wf_plato_from_gravity,
     wf_gravity_from_plato,
     {0.980, 1.150, 1.05, 1, 1, false},
     4e-15},
    {"gravity", wf_gravity_from_plato, wf_plato_from_gravity, {-5.2, 34.2, 12, 1, 0, false}, 1e-12},
    {"extract",
     wf_extract_from_gravity,
     wf_gravity_from_extract,
     {0.980, 1.150, 1.05, 1, 1, false},
     4e-15},
    {"gravity of extract",
     wf_gravity_from_extract,
     wf_extract_from_gravity,
     {-0.05, 0.39, 0.1, 1, 0, false},
     1e-14},
    {"MCU", wf_mcu_from_srm, wf_srm_from_mcu, {0, 170, 12, 1, 50, false}, 1e-12},
    {"SRM", wf_srm_from_mcu, wf_mcu_from_srm, {0, 990, 12, 1, 50, false}, 1e-11},
    {"malt colour", wf_lovibond_from_ebc, wf_ebc_from_lovibond, {0, 2000, 20, 1, 0, true}, 1e-11},
    {"WK", to_lintner, to_wk, {0, 1000, 90, 1, 0, true}, 1e-11},
};

static void inverses_bring_figures_back(void **state)
{
    (void)state;
    for (size_t p = 0; p < COUNT_OF(pairs); p++) {
        struct dice d = {.state = p + 1};
        for (size_t n = 0; n < CASES * times; n++, tried++) {
            double x = drawn(&d, &pairs[p].in), y = (double)NAN, back = (double)NAN;
            if (pairs[p].law(x, &y) != WF_OK || pairs[p].inverse(y, &back) != WF_OK ||
                !(fabs(back - x) <= pairs[p].back))
                fail_msg("%s: %.17g gives %.17g, and back %.17g", pairs[p].name, x, y, back);
        }
    }
}

/* Water boiled away and put back; extract added to a gravity. */
static void volumes_come_back(void **state)
{
    struct dice d = {.state = 1};
    (void)state;
    for (size_t n = 0; n < 4 * CASES * times; n++, tried++) {
        double sg = uniform(&d, 1.002, 1.06), from = uniform(&d, 15, 20);
        double to = uniform(&d, 10, 200), other, back = (double)NAN, kg = (double)NAN;
        double had = (double)NAN, per_kg = (double)NAN, wanted = uniform(&d, sg, 1.10), got;
        if (wf_gravity_at_volume(sg, from, to, &other) != WF_OK || other < 1.0005)
            continue;
        assert_int_equal(wf_volume_at_gravity(other, to, sg, &back), WF_OK);
        assert_close(back, from, 1e-9);
        assert_int_equal(wf_extract_from_gravity(sg, &had), WF_OK);
        assert_int_equal(wf_extract_to_add(had * from, from, wanted, 0.9, &kg), WF_OK);
        assert_int_equal(wf_extract_litres_per_kg(wanted, &per_kg), WF_OK);
        double all = had * from + 0.9 * kg;
        assert_int_equal(wf_gravity_from_extract(all / (from + 0.9 * kg * per_kg), &got), WF_OK);
        assert_close(got, wanted, 1e-12);
    }
}

static void cases_in_all(void **state)
{
    (void)state;
    print_message("%zu cases\n", tried);
}

int main(int argc, char **words)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(laws_answer),
        cmocka_unit_test(laws_stay_sane),
        cmocka_unit_test(laws_go_one_way),
        cmocka_unit_test(laws_have_no_jumps),
        cmocka_unit_test(inverses_bring_figures_back),
        cmocka_unit_test(volumes_come_back),
        cmocka_unit_test(cases_in_all),
    };
    const char *end;
    double value = 1;
    if (argc > 1 && (!wf_number_parse(words[1], &end, &value) || *end != '\0' ||
                     !(value >= 1 && value <= 1e6))) {
        print_error("test_laws_drawn: \"%s\" is not a whole number of at least 1\n", words[1]);
        return 1;
    }
    times = (size_t)value;
    return cmocka_run_group_tests_name("laws, drawn", tests, NULL, NULL) != 0;
}
