#include "studio/shelf_strength.h"

#include <math.h>
#include <string.h>

const double ks_shelf_doubt = 0.3;

/* Cone 8 at 60 C/h (from memory), for firings that end by temperature. */
static const double hot_from_c = 1249;

/* Stress for one kilogram spread over the shelf. */
static double stress_of_one_kg(const ks_shelf_kind *shelf)
{
    ks_box box = ks_outline_box(&shelf->outline);
    double area_mm2 = ks_outline_area(&shelf->outline), h = shelf->thickness_mm;
    double q_mpa = 9.80665 / area_mm2, width = box.x1 - box.x0, depth = box.y1 - box.y0;
    bool round =
        area_mm2 <= 0.95 * width * depth && fabs(width - depth) <= 0.2 * fmax(width, depth);
    if (!round) {
        double span = 0.8 * fmax(width, depth);
        return 0.75 * q_mpa * span * span / (h * h);
    }
    double a = (width + depth) / 4;
    return 2 * 3 * 3.2 / 8 * q_mpa * a * a / (h * h);
}

double ks_shelf_stress_mpa(const ks_shelf_kind *shelf, double mass_kg)
{
    return mass_kg * stress_of_one_kg(shelf);
}

static bool is_hot(const ks_firing *firing)
{
    int rank = ks_cone_rank(firing->cone ? firing->cone : "");
    return rank >= 0 ? rank >= ks_cone_rank("8") : firing->top_temp_c >= hot_from_c;
}

double ks_shelf_allowed_mpa(const char *material, const ks_firing *firing)
{
    /* Hot modulus of rupture, MPa; cordierite at 1200 C and nitride-bonded silicon carbide at 1350
     * C from makers' sheets, the others typical, no source. */
    static const struct {
        const char *material;
        double hot_mpa, part, part_hot;
    } known[] = {{"cordierite", 9.8, 0.1, 0.05},
                 {"mullite", 10, 0.1, 0.05},
                 {"silicon carbide", 40, 0.2, 0.2},
                 {"alumina", 12, 0.1, 0.05}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (material && strcmp(material, known[i].material) == 0)
            return known[i].hot_mpa * (is_hot(firing) ? known[i].part_hot : known[i].part);
    return 0;
}

/* Of what a sound shelf bears; by the word its condition begins with. */
static double part_in_condition(const char *condition)
{
    static const struct {
        const char *word;
        double part;
    } known[] = {{"cracked", 0}, {"worn", 0.5}, {"warped", 0.5}, {"chipped", 0.5}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (condition && strncmp(condition, known[i].word, strlen(known[i].word)) == 0)
            return known[i].part;
    return 1;
}

double ks_shelf_bears_kg(const ks_shelf_kind *shelf, const ks_firing *firing, double strength)
{
    double allowed = strength * ks_shelf_allowed_mpa(shelf->material, firing);
    if (shelf->safe_load_kg > 0)
        return shelf->safe_load_kg;
    if (!(allowed > 0))
        return INFINITY;
    allowed *= part_in_condition(shelf->condition);
    return fmax(0, allowed / stress_of_one_kg(shelf) - shelf->mass_kg);
}

double ks_shelf_limit_kg(const ks_shelf_kind *shelf, const ks_firing *firing, bool lies)
{
    if (lies)
        return shelf->safe_load_kg > 0 ? shelf->safe_load_kg : INFINITY;
    return ks_shelf_bears_kg(shelf, firing, 1 + ks_shelf_doubt);
}
