/* file_form.c: members in another order, quantities in other units. */
#include "support/test.h"

#include "drawn/file_form.h"

#include "base/number.h"

#include <cjson/cJSON.h>

/* ---- Order ----------------------------------------------------------------------------------- */

static void shuffle_members(cJSON *object, struct dice *d)
{
    int count = cJSON_GetArraySize(object);
    for (int i = 0; i < count; i++) { /* one after the other to the end */
        cJSON *item = cJSON_DetachItemFromArray(object, (int)dice_whole(d, 0, count - 1 - i));
        cJSON_AddItemToArray(object, item);
    }
}

/* ---- Units ----------------------------------------------------------------------------------- */

static double lovibond_to_ebc(double lovibond)
{
    double ebc = (double)NAN;
    return wf_ebc_from_lovibond(lovibond, &ebc) == WF_OK ? ebc : (double)NAN;
}

static double gravity_to_plato(double sg)
{
    double plato = (double)NAN;
    return wf_plato_from_gravity(sg, &plato) == WF_OK && plato > 0 ? plato : (double)NAN;
}

/* Pale malts are darker than where the line of EBC begins; enzymes below the line's foot have no
 * figure in WK. */
static double lintner_to_wk(double lintner)
{
    return lintner >= 5 ? wf_wk_from_lintner(lintner) : (double)NAN;
}

static const struct {
    const char *from, *to;
    double factor;
    double (*law)(double); /* in place of the factor; no window's half width goes by it */
} units[] = {
    {" kg", " lb", 1 / WF_KG_PER_LB, NULL},
    {" g", " oz", 1e-3 / WF_KG_PER_OZ, NULL},
    {" L", " gal", 1 / WF_L_PER_US_GAL, NULL},
    {" L/h", " gal/h", 1 / WF_L_PER_US_GAL, NULL},
    {" g/L", " oz/gal", WF_L_PER_US_GAL / (1e3 * WF_KG_PER_OZ), NULL},
    {" SRM", " EBC", 1.97, NULL},
    {" Lov", " EBC", 0, lovibond_to_ebc},
    {" Lintner", " WK", 0, lintner_to_wk},
    {" min", " h", 1.0 / 60, NULL},
    {"/kg", "/lb", WF_KG_PER_LB, NULL},
};

/* One or two figures: "A", ">= A", "A..B", "A +/- B". */
struct figures {
    const char *before, *between;
    double first, second;
    const char *unit;
};

static bool read_figures(const char *text, struct figures *f)
{
    static const char *const befores[] = {"<= ", ">= "};
    static const char *const betweens[] = {"..", " +/- "};
    *f = (struct figures){"", "", 0, 0, ""};
    for (size_t i = 0; i < COUNT_OF(befores); i++)
        if (strncmp(text, befores[i], strlen(befores[i])) == 0)
            f->before = befores[i];
    if (!wf_number_parse(text + strlen(f->before), &f->unit, &f->first))
        return false;
    for (size_t i = 0; i < COUNT_OF(betweens); i++)
        if (strncmp(f->unit, betweens[i], strlen(betweens[i])) == 0) {
            f->between = betweens[i];
            return wf_number_parse(f->unit + strlen(betweens[i]), &f->unit, &f->second);
        }
    return true;
}

/* The unit behind each: "1.1..2.6 P" could be a gravity and degrees Plato. */
static void write_figures(const struct figures *f, double first, double second, const char *unit,
                          char *out, size_t size)
{
    bool window = strcmp(f->between, "..") == 0;
    if (f->between[0] != '\0')
        snprintf(out, size, "%s%.15f%s%s%.15f%s", f->before, first, window ? unit : "", f->between,
                 second, unit);
    else
        snprintf(out, size, "%s%.15f%s", f->before, first, unit);
}

/* False: stays as it is. */
static bool other_unit(const char *key, const char *text, char *out, size_t size)
{
    struct figures f;
    if (!read_figures(text, &f))
        return false;
    bool width = strcmp(f.between, " +/- ") == 0;
    if (f.unit[0] == '\0' && !width && (strcmp(key, "og") == 0 || strcmp(key, "fg") == 0)) {
        double first = gravity_to_plato(f.first);
        double second = f.between[0] != '\0' ? gravity_to_plato(f.second) : 0;
        write_figures(&f, first, second, " P", out, size);
        return isfinite(first) && isfinite(second);
    }
    for (size_t i = 0; i < COUNT_OF(units); i++) {
        double first = units[i].law != NULL ? units[i].law(f.first) : f.first * units[i].factor;
        if (strcmp(f.unit, units[i].from) != 0 || !isfinite(first) ||
            (units[i].law != NULL && f.between[0] != '\0'))
            continue;
        write_figures(&f, first, f.second * units[i].factor, units[i].to, out, size);
        return true;
    }
    return false;
}

/* ---- Trees ----------------------------------------------------------------------------------- */

static void change_item(cJSON *item, enum file_form form, struct dice *d)
{
    char out[160];
    bool place = item->string != NULL &&
                 (strcmp(item->string, "at") == 0 || strcmp(item->string, "id") == 0 ||
                  strcmp(item->string, "packed") == 0);
    if (form == FILE_UNITS && cJSON_IsString(item) && item->string != NULL && !place &&
        other_unit(item->string, item->valuestring, out, sizeof out))
        assert_non_null(cJSON_SetValuestring(item, out));
    for (cJSON *child = item->child; child != NULL; child = child->next)
        change_item(child, form, d);
    if (form == FILE_MEMBERS && cJSON_IsObject(item))
        shuffle_members(item, d);
}

char *file_form(const char *text, enum file_form form, struct dice *d)
{
    cJSON *tree = cJSON_Parse(text);
    if (tree == NULL)
        fail_msg("no JSON: %s", text);
    change_item(tree, form, d);
    char *out = dice_chance(d, 50) ? cJSON_Print(tree) : cJSON_PrintUnformatted(tree);
    assert_non_null(out);
    cJSON_Delete(tree);
    return out;
}
