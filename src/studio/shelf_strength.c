#include "studio/shelf_strength.h"

#include "studio/plate.h"
#include "studio/shelf_material.h"

#include <math.h>
#include <string.h>

const double ks_shelf_doubt = 0.3;

static const double gravity = 9.80665; /* m/s2 */

/* How far a post reaches under a shelf that it carries. */
static const double resting_mm = 5;

/* Cone 8 at 60 C/h (from memory), for firings that end by temperature. */
static const double hot_from_c = 1249;

double ks_shelf_stress_mpa(const ks_shelf_kind *shelf, double bending, double mass_kg)
{
    return bending * gravity * mass_kg / (shelf->thickness_mm * shelf->thickness_mm);
}

static bool is_hot(const ks_firing *firing)
{
    int rank = ks_cone_rank(firing->cone ? firing->cone : "");
    return rank >= 0 ? rank >= ks_cone_rank("8") : firing->top_temp_c >= hot_from_c;
}

double ks_shelf_allowed_mpa(const char *material, const ks_firing *firing)
{
    const ks_shelf_material *known = ks_shelf_material_find(material);
    return known ? known->hot_mpa * (is_hot(firing) ? known->part_hot : known->part) : 0;
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

double ks_shelf_bears_kg(const ks_shelf_kind *shelf, const ks_firing *firing, double bending,
                         double strength)
{
    double allowed = strength * ks_shelf_allowed_mpa(shelf->material, firing);
    if (shelf->safe_load_kg > 0)
        return shelf->safe_load_kg;
    if (!(allowed > 0) || bending == 0)
        return INFINITY;
    allowed *= part_in_condition(shelf->condition);
    return fmax(0, allowed / ks_shelf_stress_mpa(shelf, bending, 1) - shelf->mass_kg);
}

double ks_shelf_limit_kg(const ks_shelf_kind *shelf, const ks_firing *firing, double bending)
{
    return ks_shelf_bears_kg(shelf, firing, bending, 1);
}

double ks_shelf_bending(const ks_load *load, int level, int shelf, ks_arena *arena)
{
    const ks_shelf *laid = &load->levels[level].shelves[shelf];
    double bottom = load->levels[level].z_mm - laid->thickness_mm;
    ks_point *under = KS_TAKE(arena, load->n_posts, ks_point);
    int n = 0;
    if (bottom <= KS_GRID)
        return 0;
    for (int i = 0; i < load->n_posts; i++) {
        const ks_post *post = &load->posts[i];
        if (fabs(post->to_mm - bottom) <= 1.5 * KS_GRID &&
            ks_outline_nearer(&post->outline, &laid->outline, -resting_mm + 1.5 * KS_GRID))
            under[n++] = ks_outline_centroid(&post->outline);
    }
    return ks_plate_bending(&laid->outline, NULL, n, under, arena);
}
