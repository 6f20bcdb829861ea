/* Forms as people measure them: widths at several heights, or a photograph beside a stick. */
#include "orders.h"

#include "studio/parts.h"

static ks_piece read_form(const char *ware, ks_arena *arena)
{
    ks_order *order = NULL;
    ks_error err = {0};
    const char *rest = ks_arena_print(arena, "\"ware\": [{\"id\": \"form\", %s}]", ware);
    ks_status status = order_from(rest, arena, &order, &err);
    if (status)
        print_error("%s\n", err.text);
    assert_int_equal(status, KS_OK);
    return order->pieces[0];
}

static void check_refused(const char *ware, const char *words)
{
    ks_arena arena = {0};
    ks_order *order = NULL;
    ks_error err = {0};
    const char *rest = ks_arena_print(&arena, "\"ware\": [{\"id\": \"form\", %s}]", ware);
    assert_int_equal(order_from(rest, &arena, &order, &err), KS_BAD_INPUT);
    if (!strstr(err.text, words))
        print_error("\"%s\" is not in \"%s\"\n", words, err.text);
    assert_non_null(strstr(err.text, words));
    ks_arena_finish(&arena);
}

/* How far the form reaches at a height, right and back. */
static ks_box reach_at(const ks_piece *piece, double z)
{
    ks_box all = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int p = 0; p < piece->n_parts; p++) {
        const ks_part *part = &piece->parts[p];
        ks_box box = ks_outline_box(&part->outline);
        if (part->from_mm <= z && z <= part->to_mm)
            all = (ks_box){fmin(all.x0, box.x0), fmin(all.y0, box.y0), fmax(all.x1, box.x1),
                           fmax(all.y1, box.y1)};
    }
    return all;
}

/* From 200 x 160 at the foot to 340 x 260 at 120 and 100 round at 300, straight between; blocks
 * enclose it, by at most what one block leans and an oval is simplified by. */
static void widths_at_several_heights_are_enclosed(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_piece form = read_form("\"widths\": [[0, 200, 160], [120, 340, 260], [300, 100]]", &arena);
    check_near(form.height_mm, 300, 1e-9);
    ks_outline feet = ks_parts_feet(form.parts, form.n_parts, false, &arena);
    ks_box foot = ks_outline_box(&feet);
    check_near(foot.x1 - foot.x0, 200, 1.1);
    check_near(foot.y1 - foot.y0, 160, 1.1);
    for (double z = 2; z < 300; z += 7) {
        double part = z < 120 ? z / 120 : (z - 120) / 180;
        double wide = z < 120 ? 200 + 140 * part : 340 - 240 * part;
        double deep = z < 120 ? 160 + 100 * part : 260 - 160 * part;
        ks_box box = reach_at(&form, z);
        assert_true(box.x1 >= wide / 2 - 0.001 && box.x1 <= wide / 2 + 16);
        assert_true(box.y1 >= deep / 2 - 0.001 && box.y1 <= deep / 2 + 16);
    }
    ks_piece square =
        read_form("\"widths\": [[0, 200], [300, 200]], \"section\": \"square\"", &arena);
    check_near(ks_outline_area(&square.parts[1].outline), 200 * 200, 0.01);
    ks_arena_finish(&arena);
}

#define FRONT                                                                                      \
    "\"photo\": {\"stick\": 300, \"ends\": [[0, 0], [0, 100]], \"points\": [[50, 400], [10, "      \
    "300], "                                                                                       \
    "[50, 200], [110, 200], [150, 400]]}"

/* A pixel is 3 mm: a foot of 300, 600 high; y goes down. Its left side comes out to 40 px beyond
 * the foot half way up, its right side leans in. */
static void a_photograph_is_measured_by_its_stick(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_piece form = read_form(FRONT, &arena);
    check_near(form.height_mm, 600, 1e-6);
    check_near(form.understood.foot_mm, 300, 1.1);
    ks_box half_way = reach_at(&form, 300);
    check_near(half_way.x0, -270, 16);
    check_near(half_way.x1, 90, 16);
    assert_true(half_way.x0 <= -270 + 0.01 && half_way.x1 >= 90 - 0.01);
    check_near(half_way.y1 - half_way.y0, half_way.x1 - half_way.x0, 10);
    assert_non_null(strstr(form.defaults, "depth"));
    /* The same picture turned by a right angle and from graph paper, where y goes up. */
    ks_piece turned = read_form("\"photo\": {\"stick\": 300, \"ends\": [[0, 0], [100, 0]], "
                                "\"points\": [[0, 0], [100, -40], "
                                "[200, 0], [200, 60], [0, 100]]}",
                                &arena);
    ks_box again = reach_at(&turned, 300);
    check_near(again.x0, half_way.x0, 0.01);
    check_near(again.x1, half_way.x1, 0.01);
    ks_arena_finish(&arena);
}

static void a_second_photograph_tells_the_depth(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_piece form =
        read_form(FRONT ", \"photo_side\": {\"stick\": 300, \"ends\": [[0, 0], [0, 50]], "
                        "\"points\": [[0, 100], [0, 0], [30, 0], [30, 100]]}",
                  &arena);
    ks_box half_way = reach_at(&form, 300);
    check_near(half_way.y1 - half_way.y0, 180, 1.1);
    form = read_form(FRONT ", \"depth\": 120", &arena);
    half_way = reach_at(&form, 300);
    check_near((half_way.y1 - half_way.y0) / (half_way.x1 - half_way.x0), 120 / 420.0, 0.02);
    ks_arena_finish(&arena);
}

static void what_is_wrong_with_them_is_told(void **state)
{
    (void)state;
    check_refused("\"widths\": [[10, 200], [300, 200]]", "the first is 0, at the foot");
    check_refused("\"widths\": [[0, 200], [300, 200], [200, 100]]", "heights rise");
    check_refused("\"widths\": [[0, 200], [0, 210]]", "at least 1 mm is needed");
    check_refused("\"widths\": [[0, 200], [300, 200]], \"height\": 310", "by its profile");
    check_refused("\"diameter\": 100, \"height\": 100, \"section\": \"oval\"", "goes with");
    check_refused("\"widths\": [[0, 200], [300, 200]], \"section\": \"round\"", "section");
    check_refused("\"photo\": {\"stick\": 300, \"points\": [[0, 0], [50, 100], [100, 0]]}", "ends");
    check_refused(
        "\"photo\": {\"stick\": 300, \"ends\": [[5, 5], [5, 5]], \"points\": [[0, 0], [50, "
        "100], [100, 0]]}",
        "in one place");
    check_refused("\"photo\": {\"stick\": 300, \"ends\": [[0, 0], [0, 100]], \"points\": [[0, 0], "
                  "[50, 100], [60, -50], [100, 0]]}",
                  "below the foot");
    check_refused(FRONT
                  ", \"photo_side\": {\"stick\": 300, \"ends\": [[0, 0], [0, 100]], \"points\": "
                  "[[0, 0], [0, 100], [30, 100], [30, 0]]}",
                  "both photographs show one height");
}

static void a_piece_keeps_how_well_it_was_measured(void **state)
{
    (void)state;
    ks_arena arena = {0};
    check_near(read_form("\"diameter\": 100, \"height\": 100, \"tape\": 1", &arena).tape_mm, 1, 0);
    assert_true(isnan(read_form("\"diameter\": 100, \"height\": 100", &arena).tape_mm));
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(widths_at_several_heights_are_enclosed),
        cmocka_unit_test(a_photograph_is_measured_by_its_stick),
        cmocka_unit_test(a_second_photograph_tells_the_depth),
        cmocka_unit_test(what_is_wrong_with_them_is_told),
        cmocka_unit_test(a_piece_keeps_how_well_it_was_measured),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
