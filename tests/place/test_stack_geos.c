/* Random stacks of hollow ware of polygons, judged by the checker and by GEOS: what fills the same
 * heights must not fill the same area, and what is carried must do so 0.02 mm lower. 2,000 plans:
 * KILNSTOW_TRIALS=1000. */
#include "check.h"
#include "bare_plan.h"
#include "oracle.h"

#include "kilnstow/check.h"
#include "studio/stacked.h"

#include <math.h>
#include <string.h>

enum { MOST = 5 };
static const double sure_mm2 = 1e-2, none_mm2 = 1e-7;

static ks_outline polygon_of(uint64_t *seed, double radius, ks_arena *arena)
{
    ks_outline sides = ks_outline_regular(5 + (int)random_between(seed, 0, 9), 2 * radius, arena);
    return ks_outline_gridded(&sides, arena);
}

/* Bands that flare, with a floor; walls of some 6 mm. */
static ks_piece *random_pot(bare_plan *s, uint64_t *seed, const char *id)
{
    ks_piece *piece = bare_piece(s, id);
    double radius = random_between(seed, 25, 60), from = 0;
    int bands = 2 + (int)random_between(seed, 0, 4);
    for (int b = 0; b < bands; b++) {
        double to = round((from + random_between(seed, 6, 25)) * 1000) / 1000;
        bare_part(s, piece, b ? KS_PART_BODY : KS_PART_FOOT, from, to,
                  polygon_of(seed, radius, s->arena));
        if (b > 0)
            piece->parts[b].hollow = polygon_of(seed, radius - 12, s->arena);
        radius += random_between(seed, 0, 14);
        from = to;
    }
    piece->glazed = false;
    piece->stage = KS_BISQUE;
    piece->wall_mm = 6;
    piece->ways = KS_WAY_BIT(KS_NEST) | KS_WAY_BIT(KS_RIM);
    return piece;
}

static void raise(ks_placed *placed, double mm)
{
    placed->top_mm += mm;
    for (int p = 0; p < placed->n_parts; p++) {
        placed->parts[p].from_mm += mm;
        placed->parts[p].to_mm += mm;
    }
}

static void stand_somewhere(bare_plan *s, uint64_t *seed, const ks_piece *piece)
{
    static const double slips[] = {0, 0, 0, 0, 0.05, -0.05, 2, -2};
    ks_level *level = &s->load->levels[0];
    const ks_placed *under = &level->pieces[(int)random_between(seed, 0, level->n_pieces)];
    double aside = random_share(seed) < 0.5 ? 0 : 12;
    ks_placed *placed = bare_put(s, 0, piece, round(random_between(seed, -aside, aside)),
                                 round(random_between(seed, -aside, aside)));
    double rise = ks_parts_rise_mm(under->parts, under->n_parts, placed->parts, placed->n_parts, 0);
    raise(placed, rise + slips[(int)random_between(seed, 0, 8)]);
    placed->on_id = under->id;
    placed->on_copy = under->copy;
    placed->way = random_share(seed) < 0.5 ? KS_NEST : KS_RIM;
}

static GEOSGeometry *ring_of(const ks_part *part)
{
    GEOSGeometry *outside = oracle_core(&part->outline);
    if (part->hollow.n == 0)
        return outside;
    GEOSGeometry *inside = oracle_core(&part->hollow);
    GEOSGeometry *ring = GEOSDifference(outside, inside);
    GEOSGeom_destroy(outside);
    GEOSGeom_destroy(inside);
    return ring;
}

/* The greatest area that parts of two have in common at one height, the upper one lowered. */
static double common_mm2(const ks_placed *upper, const ks_placed *lower, double lowered)
{
    double most = 0;
    for (int i = 0; i < upper->n_parts; i++)
        for (int k = 0; k < lower->n_parts; k++) {
            const ks_part *a = &upper->parts[i], *b = &lower->parts[k];
            if (fmin(a->to_mm - lowered, b->to_mm) - fmax(a->from_mm - lowered, b->from_mm) < 0.01)
                continue;
            GEOSGeometry *first = ring_of(a), *second = ring_of(b);
            most = fmax(most, oracle_common(first, second));
            GEOSGeom_destroy(first);
            GEOSGeom_destroy(second);
        }
    return most;
}

static const ks_placed *carrier_of(const ks_level *level, const ks_placed *placed)
{
    for (int i = 0; placed->on_id && i < level->n_pieces; i++)
        if (strcmp(level->pieces[i].id, placed->on_id) == 0)
            return &level->pieces[i];
    return NULL;
}

typedef struct {
    bool meet, hang, unsure;
} verdict;

static void weigh_area(double mm2, bool *so, bool *unsure)
{
    *so = *so || mm2 > sure_mm2;
    *unsure = *unsure || (mm2 > none_mm2 && mm2 <= sure_mm2);
}

static verdict oracle_of(const ks_level *level)
{
    verdict v = {false, false, false};
    for (int i = 0; i < level->n_pieces; i++) {
        const ks_placed *placed = &level->pieces[i], *under = carrier_of(level, placed);
        for (int k = 0; k < i; k++)
            weigh_area(common_mm2(placed, &level->pieces[k], 0), &v.meet, &v.unsure);
        bool rests = !under;
        if (under)
            weigh_area(common_mm2(placed, under, 0.02), &rests, &v.unsure);
        v.hang = v.hang || !rests;
    }
    return v;
}

static bool breaks(const ks_check_report *report, const char *rule)
{
    for (int i = 0; i < report->n_broken; i++)
        if (strcmp(report->broken[i].rule, rule) == 0)
            return true;
    return false;
}

static void the_checker_and_geos_judge_stacks_alike(void **state)
{
    static const char *const ids[MOST] = {"a", "b", "c", "d", "e"};
    uint64_t seed = 18;
    int judged = 0, differ = 0, sound = 0, broken = 0, n = trials_of(200);
    (void)state;
    for (int round = 0; round < n; round++) {
        ks_arena arena = {0};
        bare_plan s = bare_plan_made(&arena);
        bare_put(&s, 0, random_pot(&s, &seed, ids[0]), 0, 0);
        for (int i = 1, more = 1 + (int)random_between(&seed, 0, MOST - 1); i <= more; i++)
            stand_somewhere(&s, &seed, random_pot(&s, &seed, ids[i]));
        bare_plan_list_steps(&s);
        ks_check_report report;
        ks_check(s.plan, &arena, &report);
        verdict known = oracle_of(&s.load->levels[0]);
        if (!known.unsure) {
            bool alike =
                known.meet == breaks(&report, "insides") && known.hang == breaks(&report, "on");
            if (!alike)
                print_error("stack %d: GEOS meet %d hang %d, checker %d %d\n", round, known.meet,
                            known.hang, breaks(&report, "insides"), breaks(&report, "on"));
            differ += !alike;
            judged++;
            sound += !known.meet && !known.hang;
            broken += known.meet || known.hang;
        }
        ks_arena_finish(&arena);
    }
    assert_int_equal(differ, 0);
    assert_true(2 * judged >= n);
    assert_true(n < 20 || (sound > 0 && broken > 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_checker_and_geos_judge_stacks_alike),
    };
    oracle_start();
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    oracle_finish();
    return failed;
}
