#include "check.h"

#include "pack/instance/instance.h"
#include "pack/instance/nearest.h"

#include <math.h>

/* An oval of so many corners, at (x, y). */
static ks_outline oval(int n, double a, double b, double x, double y, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, n, ks_point);
    for (int i = 0; i < n; i++) {
        double turn = 2 * acos(-1) * i / n + 0.1;
        at[i] = (ks_point){x + a * cos(turn), y + b * sin(turn)};
    }
    return (ks_outline){n, at, 0};
}

/* Against the distance of shape, which tries all pairs and shares no code with this. */
static void cores_of_many_corners_are_as_far_apart_as_their_outlines(void **state)
{
    for (int k = 0; k < 720; k++) {
        ks_arena arena = {0};
        double turn = k * acos(-1) / 180, away = 60 + k / 6;
        ks_outline one = oval(65, 90, 40, 0, 0, &arena);
        ks_outline other = oval(48, 30, 70, away * cos(turn), away * sin(turn), &arena);
        ks_core a = ks_core_of(&one, &arena), b = ks_core_of(&other, &arena);
        ks_nearest_places touch;
        double apart = ks_outline_distance(&one, &other);
        assert_true(ks_nearest_cores(&a, &b, 1e3, &touch));
        check_near(touch.gap, apart, 1e-9);
        assert_true(ks_nearest_cores(&a, &b, apart + 1e-6, &touch));
        assert_true(!ks_nearest_cores(&a, &b, apart - 1e-6, &touch));
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cores_of_many_corners_are_as_far_apart_as_their_outlines),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
