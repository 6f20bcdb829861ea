#include "check.h"
#include "draw/sample.h"
#include "draw/sheets/sheets.h"

#include <stdlib.h>

#define GOLDEN "tests/draw/small.scene"

static const char *dump_of_all(ks_arena *arena)
{
    ks_draw_options options = ks_draw_default();
    options.date = "2026-11-25";
    sample_wish wish = sample_small();
    wish.levels = 2;
    wish.pieces = 5;
    ks_sheets sheets;
    ks_error err = {0};
    assert_int_equal(ks_sheets_begin(&sheets, sample_plan(arena, wish), &options, arena, &err),
                     KS_OK);
    sheets.hash = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef";
    assert_int_equal(ks_sheets_make(&sheets, &err), KS_OK);
    ks_text all = {.arena = arena};
    for (int i = 0; i < sheets.n; i++)
        ks_text_add(&all, ks_scene_dump(sheets.sheets[i].scene));
    ks_type_destroy(sheets.type);
    return ks_text_end(&all);
}

static const char *file_text(ks_arena *arena, const char *path)
{
    ks_text text = {.arena = arena};
    FILE *file = fopen(path, "rb");
    if (!file)
        return "";
    char bytes[4096];
    size_t count;
    while ((count = fread(bytes, 1, sizeof bytes, file)) > 0)
        ks_text_add_n(&text, bytes, count);
    fclose(file);
    return ks_text_end(&text);
}

static void first_difference_told(const char *got, const char *wanted)
{
    int line = 1;
    while (*got && *got == *wanted) {
        line += *got == '\n';
        got++;
        wanted++;
    }
    fail_msg("%s line %d: got ...%.60s, wanted ...%.60s", GOLDEN, line, got, wanted);
}

/* tests/regold.sh rewrites the file; what changed is then read as code is. */
static void a_small_plan_is_drawn_as_it_was_last_looked_at(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const char *got = dump_of_all(&arena);
    if (getenv("KILNSTOW_REGOLD")) {
        FILE *file = fopen(GOLDEN, "wb");
        assert_non_null(file);
        assert_true(fputs(got, file) >= 0);
        assert_int_equal(fclose(file), 0);
    }
    const char *wanted = file_text(&arena, GOLDEN);
    if (strcmp(got, wanted) != 0)
        first_difference_told(got, wanted);
    ks_arena_finish(&arena);
}

static ks_outline disc(ks_arena *arena, double x, double y, double r)
{
    return ks_outline_disc(x, y, r, arena);
}

static void a_traced_disc_keeps_its_radius_and_place(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline shape = disc(&arena, 100, 50, 40);
    ks_view view = {{90, 100}, 0.2};
    ks_path path = ks_trace_outline(&arena, view, &shape);
    ks_polygon flat = ks_flat(&arena, &path);
    assert_true(flat.n >= 24);
    for (int i = 0; i < flat.n; i++)
        check_near(hypot(flat.at[i].x - 110, flat.at[i].y - 90), 8, 0.01);
    ks_arena_finish(&arena);
}

static void a_traced_rounded_outline_is_the_polygon_grown_by_its_round(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const double corners[6][2] = {{0, 0}, {60, 0}, {60, 30}, {30, 30}, {30, 60}, {0, 60}};
    for (double round = 0; round <= 12; round += 3) {
        ks_outline shape = sample_polygon(&arena, 6, corners, round);
        ks_path path = ks_trace_outline(&arena, (ks_view){{0, 0}, 1}, &shape);
        ks_polygon flat = ks_flat(&arena, &path);
        for (int i = 0; i < flat.n; i++) /* on paper y runs down */
            check_near(ks_outline_from_point(&shape, (ks_point){flat.at[i].x, -flat.at[i].y}), 0,
                       0.01);
    }
    ks_arena_finish(&arena);
}

/* The shape room measures the same distance in its own way. */
static void nearest_points_are_as_far_apart_as_the_outlines(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const double el[6][2] = {{0, 0}, {60, 0}, {60, 30}, {30, 30}, {30, 60}, {0, 60}};
    for (int i = 0; i < 360; i += 7) {
        double x = 130 * cos(i * 0.017453), y = 130 * sin(i * 0.017453);
        ks_outline a = sample_polygon(&arena, 6, el, 4), b = disc(&arena, x, y, 20);
        ks_point on_a, on_b;
        double d = ks_outlines_nearest(&a, &b, &on_a, &on_b);
        check_near(d, ks_outline_distance(&a, &b), 1e-9);
        check_near(hypot(on_a.x - on_b.x, on_a.y - on_b.y), d, 1e-9);
        check_near(ks_outline_from_point(&a, on_a), 0, 1e-9);
        check_near(ks_outline_from_point(&b, on_b), 0, 1e-9);
    }
    ks_arena_finish(&arena);
}

static double path_length(const ks_path *path)
{
    double length = 0;
    for (int i = 0; i + 1 < path->n; i += 2)
        length += hypot(path->at[i].p[0].x - path->at[i + 1].p[0].x,
                        path->at[i].p[0].y - path->at[i + 1].p[0].y);
    return length;
}

/* Parallel lines a pitch apart cover area / pitch of length, whatever the shape. */
static void hatching_stays_within_its_shape_and_covers_it_evenly(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline shape = disc(&arena, 0, 0, 40);
    ks_path path = ks_trace_outline(&arena, (ks_view){{50, 50}, 1}, &shape);
    ks_polygon flat = ks_flat(&arena, &path);
    static const int layers[KS_HATCHES] = {0, 1, 1, 2, 1, 2};
    for (int kind = 0; kind < KS_HATCHES; kind++) {
        ks_scene *scene = ks_scene_create(&arena, NULL, 100, 100);
        ks_hatch(scene, &flat, kind);
        assert_int_equal(scene->n, layers[kind] > 0);
        if (layers[kind] == 0)
            continue;
        const ks_path *lines = &scene->marks[0].path;
        for (int i = 0; i < lines->n; i++)
            assert_true(hypot(lines->at[i].p[0].x - 50, lines->at[i].p[0].y - 50) <= 40.001);
        double wanted = layers[kind] * 3.14159265 * 1600 / 2.4;
        check_near(path_length(lines), wanted, 0.02 * wanted);
    }
    ks_arena_finish(&arena);
}

/* ISO 5455: 1:2, 1:5, 1:10 and their tens. */
static void the_scale_is_the_largest_standard_one_that_fits(void **state)
{
    (void)state;
    assert_int_equal(ks_scale_under(170, 100, 180, 255), 1);
    assert_int_equal(ks_scale_under(181, 100, 180, 255), 2);
    assert_int_equal(ks_scale_under(560, 560, 180, 255), 5);
    assert_int_equal(ks_scale_under(900, 900, 180, 255), 5);
    assert_int_equal(ks_scale_under(901, 900, 180, 255), 10);
    assert_int_equal(ks_scale_under(900, 1300, 180, 255), 10);
    assert_int_equal(ks_scale_under(1801, 10, 180, 255), 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_small_plan_is_drawn_as_it_was_last_looked_at),
        cmocka_unit_test(a_traced_disc_keeps_its_radius_and_place),
        cmocka_unit_test(a_traced_rounded_outline_is_the_polygon_grown_by_its_round),
        cmocka_unit_test(nearest_points_are_as_far_apart_as_the_outlines),
        cmocka_unit_test(hatching_stays_within_its_shape_and_covers_it_evenly),
        cmocka_unit_test(the_scale_is_the_largest_standard_one_that_fits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
