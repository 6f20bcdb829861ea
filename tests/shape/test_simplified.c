#include "check.h"
#include "kilnstow/shape.h"

#include <math.h>

static ks_outline ring(int n, double across, double depth, int teeth, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, n, ks_point);
    for (int i = 0; i < n; i++) {
        double turn = 2 * acos(-1) * i / n;
        double r = across / 2 * (1 - depth * (0.5 + 0.5 * cos(teeth * turn)));
        at[i] = (ks_point){r * cos(turn), 0.8 * r * sin(turn)};
    }
    return (ks_outline){n, at, 0};
}

/* How far the one's corners and middles of sides lie beyond the other. */
static double beyond(const ks_outline *one, const ks_outline *other)
{
    double most = -INFINITY;
    for (int i = 0; i < one->n; i++) {
        ks_point a = one->at[i], b = one->at[(i + 1) % one->n];
        ks_point middle = {(a.x + b.x) / 2, (a.y + b.y) / 2};
        most = fmax(most, ks_outline_from_point(other, a));
        most = fmax(most, ks_outline_from_point(other, middle));
    }
    return most;
}

static void simplified_outlines_stay_on_their_side_and_near(void **state)
{
    static const struct {
        int n, teeth, most;
        double across, depth, round;
    } rings[] = {{256, 0, 72, 250, 0, 0},     {256, 0, 72, 80, 0, 3},      {120, 0, 64, 180, 0, 0},
                 {256, 5, 200, 200, 0.35, 0}, {256, 10, 250, 150, 0.3, 2}, {30, 7, 30, 90, 0.5, 0}};
    for (size_t k = 0; k < sizeof rings / sizeof *rings; k++)
        for (int around = 0; around < 2; around++) {
            ks_arena arena = {0};
            ks_outline full =
                ring(rings[k].n, rings[k].across, rings[k].depth, rings[k].teeth, &arena);
            full.round = rings[k].round;
            ks_outline lean = ks_outline_simplified(&full, 0.2, around == 1, &arena);
            ks_outline bare = {full.n, full.at, 0}, bare_lean = {lean.n, lean.at, 0};
            const ks_outline *inner = around ? &bare : &bare_lean,
                             *outer = around ? &bare_lean : &bare;
            assert_null(ks_outline_fault(&lean));
            assert_true(lean.round == full.round);
            if (lean.n > rings[k].most)
                fail_msg("ring %d keeps %d corners", (int)k, lean.n);
            assert_true(beyond(outer, inner) <= 0.2 + 1e-9);
            assert_true(around ? ks_outline_area(&bare_lean) >= ks_outline_area(&bare)
                               : ks_outline_area(&bare_lean) <= ks_outline_area(&bare));
            ks_arena_finish(&arena);
        }
}

static void what_is_simple_stays_as_it_is(void **state)
{
    ks_arena arena = {0};
    ks_outline box = ks_outline_rectangle(80, 50, 4, &arena),
               disc = ks_outline_disc(3, 4, 5, &arena);
    ks_outline same = ks_outline_simplified(&box, 0.2, true, &arena);
    assert_true(same.n == box.n && same.at == box.at);
    same = ks_outline_simplified(&disc, 0.2, true, &arena);
    assert_true(same.n == 1 && same.at == disc.at);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(simplified_outlines_stay_on_their_side_and_near),
        cmocka_unit_test(what_is_simple_stays_as_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
