/* How deep ware nests: the parts against half sections lowered by GEOS, and against ten values for
 * the true forms, found once in closed form and once by half sections lowered in a general polygon
 * library (walls of 5 mm square to the outer surface, inside floors 8 mm up, rims cut flat). */
#include "check.h"
#include "oracle.h"

#include "base/random.h"
#include "studio/forms/hollow.h"
#include "studio/stacked.h"

#include <math.h>
#include <stdlib.h>

enum { A, B, C, L, U, V, FORMS };

/* (height, radius) outside, mm. */
static const ks_point profiles[FORMS][6] = {
    [A] = {{0, 40}, {6, 39}, {8, 47}, {36, 76}, {70, 92}},
    [B] = {{0, 37}, {6, 36}, {8, 43}, {33, 70}, {64, 85}},
    [C] = {{0, 27}, {6, 26}, {8, 32}, {26, 50}, {50, 61}},
    [L] = {{0, 45}, {6, 44}, {9, 54}, {40, 92}, {70, 95}, {86, 84}},
    [U] = {{0, 33}, {6, 32}, {8, 39}, {30, 70}, {58, 86}},
    [V] = {{0, 28}, {6, 27}, {8, 34}, {28, 55}, {50, 66}},
};

static ks_part_list bands_of(const ks_point *profile, int n, double wall, ks_arena *arena)
{
    ks_part_list list = {.arena = arena};
    ks_hollow_form form = {profile, n, wall, wall + 3};
    ks_hollow_bands(&form, &list);
    return list;
}

static ks_part_list form_of(int which, ks_arena *arena)
{
    return bands_of(profiles[which], which == L ? 6 : 5, 5, arena);
}

static double rise_of(const ks_part_list *upper, const ks_part_list *lower)
{
    return ks_parts_rise_mm(lower->at, lower->n, upper->at, upper->n, 0);
}

static GEOSGeometry *box(double x0, double y0, double x1, double y1)
{
    GEOSCoordSequence *at = GEOSCoordSeq_create(5, 2);
    const double x[5] = {x0, x1, x1, x0, x0}, y[5] = {y0, y0, y1, y1, y0};
    for (unsigned i = 0; i < 5; i++) {
        GEOSCoordSeq_setX(at, i, x[i]);
        GEOSCoordSeq_setY(at, i, y[i]);
    }
    return GEOSGeom_createPolygon(GEOSGeom_createLinearRing(at), NULL, 0);
}

/* What a turning form fills on one side of its axis, raised. */
static GEOSGeometry *half_section(const ks_part_list *list, double raised)
{
    GEOSGeometry **boxes = calloc((size_t)list->n, sizeof *boxes);
    for (int i = 0; i < list->n; i++) {
        const ks_part *part = &list->at[i];
        double inner = part->hollow.n > 0 ? part->hollow.round : 0;
        boxes[i] = box(inner, part->from_mm + raised, part->outline.round, part->to_mm + raised);
    }
    GEOSGeometry *all = GEOSGeom_createCollection(GEOS_MULTIPOLYGON, boxes, (unsigned)list->n);
    GEOSGeometry *section = GEOSUnaryUnion(all);
    GEOSGeom_destroy(all);
    free(boxes);
    return section;
}

static bool meet(const GEOSGeometry *lower, const ks_part_list *upper, double raised)
{
    GEOSGeometry *section = half_section(upper, raised);
    bool so = oracle_common(lower, section) > 1e-6;
    GEOSGeom_destroy(section);
    return so;
}

/* Lowered from above all of it, in steps, and the last one halved until it is known to 0.01 mm. */
static double lowered(const ks_part_list *upper, const ks_part_list *lower)
{
    GEOSGeometry *below = half_section(lower, 0);
    double clear = lower->at[lower->n - 1].to_mm + 0.05, step = 0.4;
    while (clear > 0 && !meet(below, upper, clear - step))
        clear -= step;
    double met = clear - step;
    while (clear - met > 0.01) {
        double middle = (clear + met) / 2;
        if (meet(below, upper, middle))
            met = middle;
        else
            clear = middle;
    }
    GEOSGeom_destroy(below);
    return clear;
}

static void the_parts_of_ten_nests_lie_within_what_steps_lose(void **state)
{
    static const struct {
        int upper, lower;
        double true_mm;
    } nests[] = {{A, A, 11.743}, {B, A, 10.582}, {B, B, 11.486}, {C, C, 12.000},
                 {C, B, 8.000},  {C, A, 8.000},  {U, L, 40.250}, {V, L, 8.000},
                 {V, U, 9.000},  {U, U, 11.486}, {V, V, 11.486}};
    ks_arena arena = {0};
    (void)state;
    for (size_t i = 0; i < sizeof nests / sizeof *nests; i++) {
        ks_part_list upper = form_of(nests[i].upper, &arena),
                     lower = form_of(nests[i].lower, &arena);
        double rise = rise_of(&upper, &lower);
        assert_true(rise >= nests[i].true_mm - 0.001);
        assert_true(rise <= nests[i].true_mm + KS_HOLLOW_LOSS_MM);
        check_near(rise, lowered(&upper, &lower), 0.1);
    }
    ks_arena_finish(&arena);
}

/* Rising, flaring or drawn in, with a foot. */
static int random_form(ks_random *random, ks_point *profile)
{
    int n = 3 + (int)(4 * ks_random_unit(random));
    double height = 0, radius = 20 + 40 * ks_random_unit(random);
    for (int i = 0; i < n; i++) {
        profile[i] = (ks_point){height, radius};
        height += 4 + 30 * ks_random_unit(random);
        radius = fmax(12, radius + 30 * ks_random_unit(random) - 8);
    }
    return n;
}

/* Free there and on the way down to there, and a tenth of a millimetre lower no more. */
static void assert_rests(const ks_part_list *upper, const ks_part_list *lower)
{
    GEOSGeometry *below = half_section(lower, 0);
    double rise = rise_of(upper, lower), top = lower->at[lower->n - 1].to_mm;
    for (double at = rise + 0.001; at < top; at += 0.4)
        assert_false(meet(below, upper, at));
    assert_true(rise < 0.1 || meet(below, upper, rise - 0.1));
    GEOSGeom_destroy(below);
}

static void any_form_comes_to_rest_where_half_sections_meet(void **state)
{
    ks_random random = ks_random_of(18, 1);
    (void)state;
    for (int round = 0; round < trials_of(40); round++) {
        ks_arena arena = {0};
        ks_point below[8], above[8];
        int n = random_form(&random, below), m = random_form(&random, above);
        ks_part_list lower = bands_of(below, n, 3 + 4 * ks_random_unit(&random), &arena),
                     upper = bands_of(above, m, 3 + 4 * ks_random_unit(&random), &arena);
        assert_true(lower.n <= KS_HOLLOW_BANDS);
        assert_rests(&upper, &lower);
        ks_arena_finish(&arena);
    }
}

/* The true inside, point by point: nearer than the wall to no part of the surface. */
static double from_surface(const ks_point *profile, int n, ks_point p)
{
    double nearest = INFINITY;
    for (int i = 0; i + 1 < n; i++) {
        ks_outline piece = {2, &profile[i], 0};
        nearest = fmin(nearest, ks_outline_from_point(&piece, p));
    }
    return nearest;
}

static void discs_enclose_the_form_and_hollows_lie_within_its_room(void **state)
{
    ks_random random = ks_random_of(18, 2);
    (void)state;
    for (int round = 0; round < trials_of(300); round++) {
        ks_arena arena = {0};
        ks_point profile[8];
        int n = random_form(&random, profile);
        double wall = 3 + 6 * ks_random_unit(&random);
        ks_part_list list = bands_of(profile, n, wall, &arena);
        for (int i = 0; i < list.n; i++) {
            const ks_part *part = &list.at[i];
            double at = part->from_mm + (part->to_mm - part->from_mm) * ks_random_unit(&random);
            assert_true(part->outline.round >= ks_profile_radius(profile, n, at) - 1e-6);
            if (part->hollow.n == 0)
                continue;
            assert_true(at >= wall + 3 - 1e-6);
            ks_point edge = {at, part->hollow.round};
            assert_true(from_surface(profile, n, edge) >= wall - 1e-6);
        }
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_parts_of_ten_nests_lie_within_what_steps_lose),
        cmocka_unit_test(any_form_comes_to_rest_where_half_sections_meet),
        cmocka_unit_test(discs_enclose_the_form_and_hollows_lie_within_its_room),
    };
    oracle_start();
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    oracle_finish();
    return failed;
}
