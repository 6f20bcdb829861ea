#include "orders.h"
#include "studio/reason_words.h"

/* The row as the published charts print it, from the coldest. */
static void cones_run_from_022_to_14(void **state)
{
    (void)state;
    static const char *const some[] = {"022", "019", "010", "09",  "06", "05.5", "05", "04",
                                       "01",  "1",   "5",   "5.5", "6",  "10",   "12", "14"};
    for (size_t i = 1; i < sizeof some / sizeof some[0]; i++)
        assert_true(ks_cone_rank(some[i - 1]) >= 0 &&
                    ks_cone_rank(some[i - 1]) < ks_cone_rank(some[i]));
    assert_int_equal(ks_cone_rank("022"), 0);
    assert_int_equal(ks_cone_rank("14"), KS_CONES_KNOWN - 1);
    assert_null(ks_cone_name(KS_CONES_KNOWN));
}

static void a_cone_has_several_spellings(void **state)
{
    (void)state;
    const int half = ks_cone_rank("5.5");
    assert_int_equal(ks_cone_rank("5 1/2"), half);
    assert_int_equal(ks_cone_rank("5,5"), half);
    assert_int_equal(ks_cone_rank("cone 5.5"), half);
    static const char *const none[] = {"0", "00", "023", "15", "6.5", "", "six", "06 "};
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++)
        assert_int_equal(ks_cone_rank(none[i]), -1);
    assert_int_equal(ks_cone_rank(NULL), -1);
}

static const char *const ware =
    "\"clays\": [{\"id\": \"red\", \"cones\": [\"06\", \"02\"]}, {\"id\": \"white\", \"cones\": "
    "[\"5\", \"7\"]}],\n"
    "\"materials\": [], \"glazes\": [{\"id\": \"celadon\", \"cones\": [\"8\", \"10\"], "
    "\"atmosphere\": \"reduction\"}, {\"id\": \"clear\", \"cones\": \"6\"}],\n"
    "\"schedules\": [{\"id\": \"slow\", \"segments\": [{\"rate\": 60, \"to\": 1200}]}],\n"
    "\"ware\": [{\"id\": \"%s\", \"diameter\": 80, \"height\": 90, %s}]";

static void what_forbids_a_firing_is_told_by_name(void **state)
{
    (void)state;
    static const struct {
        const char *id, *with, *why; /* NULL = it suits */
    } cases[] = {
        {"a", "\"clay\": \"red\"",
         "the body \"red\" stands cone 02 at most, the firing goes to cone 6"},
        {"b", "\"clay\": \"white\", \"glaze\": \"clear\"", NULL},
        {"c", "\"clay\": \"white\", \"glaze\": \"celadon\"",
         "the glaze \"celadon\" needs cone 8 at least, the firing goes to cone 6"},
        {"d", "\"cones\": [\"04\", \"2\"]",
         "the piece stands cone 2 at most, the firing goes to cone 6"},
        {"e", "\"atmosphere\": \"reduction\"",
         "the piece needs reduction, the firing is in oxidation"},
        {"f", "\"schedule\": \"slow\"",
         "the piece asks for the schedule \"slow\", the firing has none of its own"},
        {"h", "\"stage\": \"leather-hard\"", "it is still wet"},
        {"i", "\"stage\": \"leather-hard\", \"dries_in_kiln\": true", NULL},
        {"j", "\"stage\": \"leather-hard\", \"weighed\": 3.1, \"weighed_again\": 3.098", NULL},
        {"k", "\"stage\": \"dry\", \"weighed\": 3.2, \"weighed_again\": 3.1",
         "it is still wet: 100 g lighter than at the weighing before"},
        {"g", "\"clay\": \"white\", \"setter\": {\"clay\": \"red\"}",
         "the setter's body \"red\" stands cone 02 at most, the firing goes to cone 6"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ks_arena arena = {0};
        ks_order *order;
        ks_error err = {0};
        char text[1500];
        (void)snprintf(text, sizeof text, ware, cases[i].id, cases[i].with);
        if (order_from(text, &arena, &order, &err) != KS_OK)
            fail_msg("%s", err.text);
        ks_reason why = {.name = KS_UNTOLD};
        bool suits = ks_piece_suits(order, &order->pieces[0], &order->firings[0], &why);
        assert_int_equal(suits, cases[i].why == NULL);
        if (cases[i].why)
            assert_string_equal(ks_reason_words(&why, &order->display, &arena), cases[i].why);
        assert_int_equal(ks_piece_suits(order, &order->pieces[0], &order->firings[0], NULL), suits);
        ks_arena_finish(&arena);
    }
}

static void body_and_glaze_that_never_meet_are_told_of(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    ks_error err = {0};
    char text[1500];
    (void)snprintf(text, sizeof text, ware, "a", "\"clay\": \"red\", \"glaze\": \"clear\"");
    assert_int_equal(order_from(text, &arena, &order, &err), KS_OK);
    assert_int_equal(order->n_warnings, 1);
    assert_non_null(strstr(order->warnings[0], "leave no cone"));
    ks_arena_finish(&arena);
}

static void an_orders_clearances_override_the_kilns(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_order *order;
    ks_error err = {0};
    assert_int_equal(order_from("\"rules\": {\"clearances\": {\"ware\": 9, \"overhang\": 0}}, "
                                "\"ware\": [{\"id\": \"mug\", \"diameter\": 80, \"height\": 100}]",
                                &arena, &order, &err),
                     KS_OK);
    ks_clearance clearance = ks_order_clearance(order, &order->kilns[0]);
    check_near(clearance.ware, 9, 0);
    check_near(clearance.overhang, 0, 0);
    check_near(clearance.wall, order->kilns[0].clearance.wall, 0);
    check_near(clearance.post, order->kilns[0].clearance.post, 0);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cones_run_from_022_to_14),
        cmocka_unit_test(a_cone_has_several_spellings),
        cmocka_unit_test(what_forbids_a_firing_is_told_by_name),
        cmocka_unit_test(body_and_glaze_that_never_meet_are_told_of),
        cmocka_unit_test(an_orders_clearances_override_the_kilns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
