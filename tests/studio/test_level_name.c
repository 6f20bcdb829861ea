#include "check.h"

#include "studio/level_name.h"

/* What the design fixes: a tier counts the shelves from the floor in the bay's own column, whole
 * shelves under it included; the bay is named where one shelf does not reach over all. */

static ks_outline ground(double x0, double x1, ks_arena *arena)
{
    ks_outline outline = {4, KS_TAKE(arena, 4, ks_point), 0};
    ks_point *at = (ks_point *)outline.at;
    at[0] = (ks_point){x0, -100};
    at[1] = (ks_point){x1, -100};
    at[2] = (ks_point){x1, 100};
    at[3] = (ks_point){x0, 100};
    return outline;
}

typedef struct {
    const char *bay;
    double z_mm;
    const char *name;
} named;

static void expect(const named *levels, int n)
{
    ks_arena arena = {0};
    ks_load_bay bays[] = {{"whole", ground(-200, 200, &arena)},
                          {"left", ground(-200, 0, &arena)},
                          {"right", ground(0, 200, &arena)}};
    ks_load load = {
        .n_bays = 3, .bays = bays, .n_levels = n, .levels = KS_TAKE(&arena, n, ks_level)};
    for (int l = 0; l < n; l++)
        load.levels[l] = (ks_level){.bay = levels[l].bay, .z_mm = levels[l].z_mm};
    const char **names = ks_level_names(&load, &arena);
    for (int l = 0; l < n; l++)
        assert_string_equal(names[l], levels[l].name);
    ks_arena_finish(&arena);
}

static void whole_shelves_are_counted_from_the_floor(void **state)
{
    (void)state;
    const named levels[] = {{"whole", 29, "1"}, {"whole", 130, "2"}, {"whole", 300, "3"}};
    expect(levels, 3);
}

static void halves_over_a_whole_shelf_count_it_and_name_their_bay(void **state)
{
    (void)state;
    const named levels[] = {
        {"whole", 29, "1"},        {"left", 130, "2 left"}, {"right", 130, "2 right"},
        {"right", 200, "3 right"}, {"left", 250, "3 left"},
    };
    expect(levels, 5);
}

/* Two low halves on one side and one on the other: the whole shelf over them lies over two. */
static void a_whole_shelf_counts_the_taller_of_the_columns_under_it(void **state)
{
    (void)state;
    const named levels[] = {{"left", 20, "1 left"},
                            {"right", 20, "1 right"},
                            {"left", 120, "2 left"},
                            {"whole", 220, "3"}};
    expect(levels, 4);
}

static void half_a_kiln_is_named_also_where_the_other_half_is_bare(void **state)
{
    (void)state;
    const named levels[] = {{"left", 20, "1 left"}, {"left", 120, "2 left"}};
    expect(levels, 2);
}

/* A plan edited by hand may list its levels in any order. */
static void the_order_of_the_file_does_not_matter(void **state)
{
    (void)state;
    const named levels[] = {{"whole", 300, "3"}, {"whole", 29, "1"}, {"whole", 130, "2"}};
    expect(levels, 3);
}

static void no_two_levels_share_a_name_even_at_one_height(void **state)
{
    (void)state;
    const named levels[] = {{"whole", 29, "1"}, {"whole", 29, "2"}, {"left", 29, "3 left"}};
    expect(levels, 3);
}

static void a_name_in_a_file_name_has_no_blank(void **state)
{
    (void)state;
    ks_arena arena = {0};
    assert_string_equal(ks_level_file_name("3 left", &arena), "3-left");
    assert_string_equal(ks_level_file_name("2 a/b", &arena), "2-a-b");
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whole_shelves_are_counted_from_the_floor),
        cmocka_unit_test(halves_over_a_whole_shelf_count_it_and_name_their_bay),
        cmocka_unit_test(a_whole_shelf_counts_the_taller_of_the_columns_under_it),
        cmocka_unit_test(half_a_kiln_is_named_also_where_the_other_half_is_bare),
        cmocka_unit_test(the_order_of_the_file_does_not_matter),
        cmocka_unit_test(no_two_levels_share_a_name_even_at_one_height),
        cmocka_unit_test(a_name_in_a_file_name_has_no_blank),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
