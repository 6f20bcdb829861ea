#include "orders.h"

/* Ware of one inline piece and the families before it. */
static ks_status sized(const char *families, const char *piece, ks_arena *arena, ks_order **order,
                       ks_error *err)
{
    return order_from(ks_arena_print(arena, "%s\"ware\": [{\"id\": \"a\", %s}]", families, piece),
                      arena, order, err);
}

static const ks_piece *sized_well(const char *families, const char *piece, ks_arena *arena)
{
    ks_error err = {0};
    ks_order *order;
    if (sized(families, piece, arena, &order, &err) != KS_OK)
        fail_msg("%s: %s", piece, err.text);
    return &order->pieces[0];
}

/* What each word comes to, mm; common practice, no source. */
static void sizes_come_from_a_word(void **state)
{
    (void)state;
    static const struct {
        const char *piece;
        double width, depth, height, foot, handle;
        const char *family, *assumed;
    } cases[] = {
        {"\"size\": \"mug M\"", 90, 90, 100, 70, 38, "mug M", "sizes of \"mug M\""},
        {"\"size\": \"MUG  m\", \"diameter\": 94", 94, 94, 100, 70, 38, "mug M", "handle"},
        {"\"name\": \"mug\", \"size\": \"L\", \"handle\": false", 100, 100, 115, 78, 0, "mug L",
         "sizes of \"mug L\""},
        {"\"size\": \"15 x 8 cm\"", 150, 150, 80, 150, 0, "", "profile"},
        {"\"size\": \"\u00D8 15 \u00D7 8 cm\"", 150, 150, 80, 150, 0, "", "profile"},
        {"\"size\": \"6 1/2\\\" x 3\\\"\"", 165.1, 165.1, 76.2, 165.1, 0, "", "profile"},
        {"\"size\": \"80 x 90\"", 80, 80, 90, 80, 0, "", "profile"},
        {"\"size\": \"20 x 15 x 3 cm\"", 200, 150, 30, 200, 0, "", "mass"},
        {"\"size\": \"bowl 16 cm\"", 160, 160, 69, 72, 0, "", "height, foot"},
        {"\"size\": \"bowl 16 x 9 cm\"", 160, 160, 90, 72, 0, "", "foot"},
        {"\"size\": \"mug 11 cm\"", 100, 100, 110, 78, 42, "", "diameter, foot, profile, handle"},
        {"\"size\": \"tile 10 cm\"", 100, 100, 8, 100, 0, "", "depth, height"},
        {"\"shape\": \"plate\", \"diameter\": \"25 cm\"", 250, 250, 28, 150, 0, "", "height, foot"},
        {"\"shape\": \"jar\", \"size\": \"12 x 16 cm\"", 120, 120, 160, 84, 0, "", "lid on"},
        {"\"shape\": \"round\", \"size\": \"12 x 16 cm\"", 120, 120, 160, 120, 0, "", "profile"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_arena arena = {0};
        const ks_piece *piece = sized_well("", cases[i].piece, &arena);
        const ks_understood *of = &piece->understood;
        if (fabs(of->width_mm - cases[i].width) > 1e-9 ||
            fabs(of->depth_mm - cases[i].depth) > 1e-9 ||
            fabs(of->height_mm - cases[i].height) > 1e-9 ||
            fabs(of->foot_mm - cases[i].foot) > 1e-9 ||
            fabs(of->handle_mm - cases[i].handle) > 1e-9)
            fail_msg("%s: %g x %g x %g on %g, handle %g", cases[i].piece, of->width_mm,
                     of->depth_mm, of->height_mm, of->foot_mm, of->handle_mm);
        assert_string_equal(of->family, cases[i].family);
        if (!strstr(piece->defaults, cases[i].assumed))
            fail_msg("%s: assumed is \"%s\"", cases[i].piece, piece->defaults);
        ks_arena_finish(&arena);
    }
}

static void the_studios_own_pots_replace_those_that_come_along(void **state)
{
    (void)state;
    static const char own[] =
        "\"families\": [{\"id\": \"Mug M\", \"diameter\": 86, \"height\": 97, \"foot\": 60, "
        "\"handle\": {\"reach\": 33, \"width\": 19, \"from\": 20, \"to\": 80}, \"wet_ball\": "
        "\"420 g\"}, {\"id\": \"yunomi\", \"profile\": [[0, 30], [7, 29], [82, 39]]}],";
    ks_arena arena = {0};
    const ks_piece *mug = sized_well(own, "\"size\": \"mug M\"", &arena);
    check_near(mug->understood.width_mm, 86, 0);
    check_near(mug->understood.handle_mm, 33, 0);
    assert_null(strstr(mug->defaults, "sizes of"));
    const ks_piece *heavy = sized_well(own, "\"size\": \"mug M\", \"mass\": \"350 g\"", &arena);
    check_near(heavy->mass_kg, 0.35, 1e-12);
    const ks_piece *yunomi = sized_well(own, "\"size\": \"yunomi\"", &arena);
    assert_string_equal(yunomi->understood.shape, "thrown");
    check_near(yunomi->height_mm, 82, 0);
    ks_arena_finish(&arena);
}

static void what_is_no_size_is_refused(void **state)
{
    (void)state;
    static const struct {
        const char *families, *piece, *told;
    } cases[] = {
        {"", "\"size\": \"mug XM\"",
         "size: found \"mug XM\"; it is no family (the nearest is \"mug"},
        {"", "\"size\": \"15 cm\"", "size: found \"15 cm\"; it is no family"},
        {"", "\"size\": \"1 x 2 x 3 x 4 cm\"", "size: found"},
        {"", "\"size\": \"15 x tall\"", "size: found"},
        {"", "\"size\": true", "size: found true"},
        {"", "\"shape\": \"blob\", \"diameter\": 80, \"height\": 90",
         "shape: found \"blob\"; a shape is bowl, casserole"},
        {"\"families\": {},", "\"size\": \"mug M\"", "families: found an object"},
        {"\"families\": [{\"diameter\": 80}],", "\"size\": \"mug M\"",
         "families[1].id: found nothing"},
        {"\"families\": [{\"id\": \"x\", \"diamter\": 80}],", "\"size\": \"mug M\"",
         "families[1].diamter: found an unknown key; did you mean \"diameter\"?"},
        {"\"families\": [{\"id\": \"x\"}, {\"id\": \"X\"}],", "\"size\": \"mug M\"",
         "families[2]: the family \"X\" was already given"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        assert_int_equal(sized(cases[i].families, cases[i].piece, &arena, &order, &err),
                         KS_BAD_INPUT);
        if (!strstr(err.text, cases[i].told))
            fail_msg("wanted \"%s\" in \"%s\"", cases[i].told, err.text);
        ks_arena_finish(&arena);
    }
}

static void a_table_has_sizes_in_one_column(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    workplace place = workplace_made();
    (void)file_put(&place, "ware.csv",
                   "name,qty,size (cm),shape\nmug,6,M,\nbowl,2,16 x 7,\ndish,1,20 x 15 x 4,\n"
                   "big bowl,1,30,bowl\nplate,3,plate 25,\ntile,4,4 in x 4 in x 1/4 in,\n");
    const char *path =
        file_put(&place, "order.json", ORDER_START "\"ware_files\": [\"ware.csv\"]}");
    if (ks_order_read(path, "kilns", &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    static const double widths[] = {90, 160, 200, 300, 250, 101.6};
    for (int i = 0; i < order->n_pieces; i++)
        check_near(order->pieces[i].understood.width_mm, widths[i], 1e-9);
    assert_int_equal(order->n_pieces, 6);
    workplace_left(&place);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sizes_come_from_a_word),
        cmocka_unit_test(the_studios_own_pots_replace_those_that_come_along),
        cmocka_unit_test(what_is_no_size_is_refused),
        cmocka_unit_test(a_table_has_sizes_in_one_column),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
