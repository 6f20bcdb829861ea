#include "check.h"
#include "base/random.h"
#include "studio/parts.h"

static const double pi = 3.14159265358979323846;

/* A thrown form of n random points; now and then a step, a vertical wall or a flat foot. */
static int random_profile(ks_random *random, ks_point *profile)
{
    int n = 2 + (int)(ks_random_unit(random) * 12);
    double height = 0;
    for (int i = 0; i < n; i++) {
        profile[i] = (ks_point){height, 1 + 150 * ks_random_unit(random)};
        if (i > 0 && ks_random_unit(random) < 0.2)
            profile[i].y = profile[i - 1].y;
        height += ks_random_unit(random) < 0.15 ? 0 : 0.5 + 60 * ks_random_unit(random);
    }
    if (profile[n - 1].x < 1)
        profile[n - 1].x = 1;
    return n;
}

/* Radius of the bands at a height: the least of those that touch it, for a height between bands. */
static double band_radius(const ks_part_list *list, double height)
{
    double radius = INFINITY;
    for (int i = 0; i < list->n; i++)
        if (list->at[i].from_mm <= height && height <= list->at[i].to_mm)
            radius = fmin(radius, list->at[i].outline.round);
    return radius;
}

static void bands_enclose_every_profile_and_are_few(void **state)
{
    (void)state;
    ks_random random = ks_random_of(11, 0);
    for (int round = 0; round < 3000; round++) {
        ks_arena arena = {0};
        ks_point profile[16];
        int n = random_profile(&random, profile);
        ks_part_list list = {.arena = &arena};
        ks_profile_bands(profile, n, &list);
        double top = profile[n - 1].x;
        assert_true(list.n >= 1 && list.n <= KS_MOST_BANDS);
        assert_true(list.at[0].from_mm == 0);
        check_near(list.at[list.n - 1].to_mm, top, 1e-9);
        for (int i = 1; i < list.n; i++)
            assert_true(list.at[i].from_mm == list.at[i - 1].to_mm);
        for (int i = 0; i < 400; i++) {
            double height = top * (i + ks_random_unit(&random)) / 400;
            bool at_step = false;
            for (int j = 0; j < n; j++)
                at_step |= fabs(profile[j].x - height) < 1e-6;
            if (!at_step)
                assert_true(band_radius(&list, height) >=
                            ks_profile_radius(profile, n, height) - 1e-9);
        }
        ks_arena_finish(&arena);
    }
}

/* Where sixteen bands suffice, none is more than the promised millimetre too wide. */
static void bands_of_a_gentle_form_follow_it_closely(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_point mug[] = {{0, 36}, {4, 35}, {40, 42}, {80, 40}, {95, 43}};
    ks_part_list list = {.arena = &arena};
    ks_profile_bands(mug, 5, &list);
    for (double height = 0.5; height < 95; height += 0.25) {
        double own = ks_profile_radius(mug, 5, height);
        double wide = 0;
        for (int i = 0; i < list.n; i++)
            if (list.at[i].from_mm < height && height < list.at[i].to_mm)
                wide = list.at[i].outline.round;
        assert_true(wide - own <= KS_BAND_ERROR_MM + 0.001 + 1e-9);
    }
    ks_arena_finish(&arena);
}

static void a_foot_is_no_wider_than_it_stands(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_point plate[] = {{0, 60}, {25, 140}};
    ks_part_list list = {.arena = &arena};
    ks_profile_bands(plate, 2, &list);
    assert_int_equal(list.at[0].kind, KS_PART_FOOT);
    assert_true(list.at[0].outline.round <= 60 + KS_BAND_ERROR_MM + 0.001);
    assert_true(list.at[0].to_mm <= KS_FOOT_BAND_MM);
    ks_arena_finish(&arena);
}

static void a_cylinder_is_one_block(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_point tube[] = {{0, 40}, {120, 40}};
    ks_part_list list = {.arena = &arena};
    ks_profile_bands(tube, 2, &list);
    assert_int_equal(list.n, 1);
    assert_int_equal(list.at[0].kind, KS_PART_BODY);
    check_near(list.at[0].outline.round, 40, 0);
    check_near(ks_profile_lateral_mm2(tube, 2), 2 * pi * 40 * 120, 1e-6);
    ks_arena_finish(&arena);
}

/* The cone's lateral surface is pi r s (any geometry text). */
static void the_lateral_surface_of_a_cone_is_known(void **state)
{
    (void)state;
    const ks_point cone[] = {{0, 0}, {40, 30}};
    check_near(ks_profile_lateral_mm2(cone, 2), pi * 30 * 50, 1e-9);
}

static void area_seen_from_above_counts_what_is_hidden_once(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_part_list list = {.arena = &arena};
    ks_part_add(&list, KS_PART_BODY, 0, 10, ks_outline_disc(0, 0, 30, &arena));
    ks_part_add(&list, KS_PART_BODY, 10, 20, ks_outline_disc(5, 0, 40, &arena));
    check_near(ks_parts_area_mm2(list.at, list.n, &arena), pi * 1600, 1e-6);
    ks_part_add(&list, KS_PART_BODY, 20, 30, ks_outline_disc(200, 0, 10, &arena));
    check_near(ks_parts_area_mm2(list.at, list.n, &arena), pi * 1700, 1e-6);
    ks_arena_finish(&arena);
}

/* Two unit squares, half of one over the other: three halves. */
static void area_of_pieces_that_overlap_is_found_by_sampling(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_part_list list = {.arena = &arena};
    ks_outline square = ks_outline_rectangle(100, 100, 0, &arena);
    ks_part_add(&list, KS_PART_BODY, 0, 10, square);
    ks_part_add(&list, KS_PART_BODY, 10, 20,
                ks_outline_place(&square, (ks_stand){50, 0, 0}, &arena));
    check_near(ks_parts_area_mm2(list.at, list.n, &arena), 15000, 150);
    ks_arena_finish(&arena);
}

static void a_handle_starts_within_its_mug_and_reaches_beyond(void **state)
{
    (void)state;
    for (int at = 0; at < 360; at += 15) {
        ks_arena arena = {0};
        ks_part_list list = {.arena = &arena};
        ks_part_add(&list, KS_PART_BODY, 0, 95, ks_outline_disc(0, 0, 42, &arena));
        ks_handle_add(&list, 35, 20, 20, 80, at);
        assert_int_equal(list.n, 2);
        const ks_outline *handle = &list.at[1].outline;
        check_near(ks_outline_reach(handle), sqrt(77 * 77 + 100), 1e-6);
        int within = 0;
        for (int i = 0; i < handle->n; i++)
            within += ks_outline_from_point(&list.at[0].outline, handle->at[i]) <= 0;
        assert_int_equal(within, 2);
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bands_enclose_every_profile_and_are_few),
        cmocka_unit_test(bands_of_a_gentle_form_follow_it_closely),
        cmocka_unit_test(a_foot_is_no_wider_than_it_stands),
        cmocka_unit_test(a_cylinder_is_one_block),
        cmocka_unit_test(the_lateral_surface_of_a_cone_is_known),
        cmocka_unit_test(area_seen_from_above_counts_what_is_hidden_once),
        cmocka_unit_test(area_of_pieces_that_overlap_is_found_by_sampling),
        cmocka_unit_test(a_handle_starts_within_its_mug_and_reaches_beyond),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
