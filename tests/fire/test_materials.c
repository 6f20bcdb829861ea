/* Materials, and the chemistry of bodies. */
#include "check.h"

#include "fire/physics/curve.h"
#include "fire/load.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const ks_fire_material *found(const char *name)
{
    const ks_fire_material *row = ks_material_find(ks_materials_built_in(), name);
    assert_non_null(row);
    return row;
}

static void every_figure_has_a_source(void **state)
{
    const ks_materials *all = ks_materials_built_in();
    for (int i = 0; i < all->count; i++) {
        const ks_fire_material *row = &all->rows[i];
        const char *sources[] = {row->conductivity.source, row->heat.source, row->density_source,
                                 row->emissivity_source, row->limit_source};
        for (int s = 0; s < 5; s++)
            assert_true(sources[s] && strlen(sources[s]) > 4);
        assert_true(row->use != KS_LINING || row->conductivity.n >= 2);
        assert_true(row->heat.n >= 2 && row->density_kg_m3 > 0);
    }
}

static void the_names_that_kiln_files_may_use_are_all_there(void **state)
{
    const char *names[] = {"IFB 23",     "IFB 26",          "IFB 28",           "fireclay brick",
                           "blanket 96", "blanket 128",     "calcium silicate", "cordierite",
                           "mullite",    "silicon carbide", "alumina"};
    for (int i = 0; i < 11; i++)
        found(names[i]);
    assert_ptr_equal(found("ifb  23"), found("IFB 23"));
    assert_null(ks_material_find(ks_materials_built_in(), "IFB 2"));
    assert_null(ks_material_find(ks_materials_built_in(), ""));
}

/* Integral of the published formula 1128 + 0.102 T - 36e6/T^2 from 20 C, by calculus, kJ/kg. */
static void the_heat_of_fired_clay_integrates_as_the_formula_does(void **state)
{
    const double rows[][2] = {{100, 66.6},    {200, 163.4},   {400, 378.0},
                              {600, 607.2},   {800, 844.9},   {1000, 1089.2},
                              {1100, 1213.4}, {1222, 1366.8}, {1285, 1446.7}};
    ks_temp_curve curve;
    ks_temp_curve_of_property(&found("clay")->heat, &curve);
    for (int i = 0; i < 9; i++)
        check_near(ks_temp_curve_read(&curve, rows[i][0]).integral / 1000, rows[i][1],
                   0.001 * rows[i][1] + 0.1);
    check_near(ks_temp_curve_read(&curve, 1000).integral / 3.6e6, 0.303, 0.001);
    check_near(ks_temp_curve_read(&curve, 1222).integral / 3.6e6, 0.380, 0.001);
}

/* Refractory tables of thermal capacity print 0.732, 0.979, 1.082, 1.192, 1.234 and 1.274 kJ/(kg K)
 * for fireclay at 20 to 1200 C; its mean to 1000 C is 1.087 by calculus, to be set against 1.05 as
 * makers say, from memory. Another table has 0.732 to 0.753 at room temperature. */
static void insulating_brick_holds_heat_by_the_printed_table(void **state)
{
    const double rows[][2] = {{20, 0.732},  {200, 0.979},  {400, 1.082},
                              {800, 1.192}, {1000, 1.234}, {1200, 1.274}};
    const char *bricks[] = {"IFB 20", "IFB 23", "IFB 26"};
    for (int b = 0; b < 3; b++) {
        ks_temp_curve curve;
        ks_temp_curve_of_property(&found(bricks[b])->heat, &curve);
        for (int i = 0; i < 6; i++)
            check_near(ks_temp_curve_read(&curve, rows[i][0]).value / 1000, rows[i][1], 0.002);
        check_near(ks_temp_curve_read(&curve, 1000).integral / 980e3, 1.087, 0.002);
    }
}

/* A corner of 90 degrees conducts 1 - (2 / pi) ln 2 = 0.559 (conformal mapping), 0.54 by Langmuir,
 * Adams & Meikle (1913; Incropera, table 4.1, from memory); a round wall half of its turn. */
static void corners_conduct_by_their_angle(void **state)
{
    ks_arena arena = {0};
    ks_point square[] = {{0, 0}, {500, 0}, {500, 400}, {0, 400}}, many[90];
    ks_outline outline = {.n = 4, .at = square};
    check_near(ks_corners(&outline) / 4, 1 - 2 / 3.14159265 * log(2), 0.004);
    for (int i = 0; i < 90; i++)
        many[i] = (ks_point){300 * cos(i * 3.14159265 / 45), 300 * sin(i * 3.14159265 / 45)};
    outline = (ks_outline){.n = 90, .at = many};
    check_near(ks_corners(&outline), 3.14159265, 0.06);
    outline = ks_outline_disc(0, 0, 300, &arena);
    check_near(ks_corners(&outline), 3.14159265, 1e-6);
    ks_arena_finish(&arena);
}

/* ASTM C533, as a supplier has it: calcium silicate conducts at most 0.059 to 0.072 at 38 C. */
static void calcium_silicate_keeps_within_its_standard(void **state)
{
    assert_true(ks_property_at(&found("calcium silicate")->conductivity, 38) < 0.059);
}

/* Perry / McAdams, kaolin brick of 433 kg/m3, from memory: 0.26 at 500 C. Order of magnitude. */
static void insulating_brick_has_the_right_order(void **state)
{
    double k = ks_property_at(&found("IFB 23")->conductivity, 500);
    assert_true(k > 0.13 && k < 0.26);
    double ratio = ks_property_at(&found("IFB 28")->conductivity, 600) / k;
    assert_true(ratio > 1.45 && ratio < 2.2); /* a supplier: group 30 has 45-60 % more than 23 */
}

/* Weighed shelves, a potters' forum: 15.0 kg and 4.1 kg. */
static void shelves_weigh_what_they_weigh(void **state)
{
    check_near(0.305 * 0.610 * 0.0254 * found("alumina")->density_kg_m3, 15.0, 0.3);
    check_near(0.305 * 0.610 * 0.008 * found("silicon carbide")->density_kg_m3, 4.1, 0.15);
}

static double taken_mj(const ks_ware_heat *ware, double to_c)
{
    ks_chemistry chemistry = ks_ware_chemistry(ware);
    return ks_chemistry_taken_j(&chemistry, to_c) / 1e6;
}

/* Steam tables, from memory: 0.335 + 2.257 = 2.59 MJ for a kilogram of water from 20 C. */
static void water_takes_what_the_steam_tables_say(void **state)
{
    ks_ware_heat water = {.water_kg = 1};
    check_near(taken_mj(&water, 200), 0.335 + 2.257, 0.005);
    check_near(taken_mj(&water, 20), 0, 1e-12);
}

/* Standard enthalpies, from memory: kaolinite to mullite, silica and steam 148 kJ/mol = 573 kJ/kg;
 * the clay's own water is 13.96 % of it. */
static void kaolinite_takes_its_net_heat_in_the_end(void **state)
{
    ks_ware_heat kaolinite = {.hydroxyl_kg = 0.1396};
    double sensible_mj = 0.1396 * 2950 * 530 / 1e6;
    check_near(taken_mj(&kaolinite, 1100) - sensible_mj, 0.573, 0.002);
    check_near(taken_mj(&kaolinite, 700) - sensible_mj, 0.9, 0.002);
}

/* Standard enthalpies, from memory: 178.3 kJ/mol = 1781 kJ/kg of CaCO3, which loses 43.97 %. */
static void lime_takes_its_heat_between_600_and_900(void **state)
{
    ks_ware_heat lime = {.carbonate_kg = 0.4397};
    check_near(taken_mj(&lime, 1000), 1.781, 0.003);
    check_near(taken_mj(&lime, 590), 0, 1e-12);
}

static void carbon_gives_heat_back(void **state)
{
    ks_ware_heat carbon = {.carbon_kg = 1};
    check_near(taken_mj(&carbon, 900), -32.8, 1e-9);
}

/* Sum of the above for a bone-dry stoneware body of half kaolinite to 1000 C: 1.40 to 1.57 MJ/kg,
 * 0.39 to 0.44 kWh/kg. */
static void a_dry_stoneware_body_takes_its_theoretical_heat(void **state)
{
    ks_ware_heat body = ks_ware_of_mass(1, KS_DRY, 0.07 + 0.003);
    ks_temp_curve clay;
    ks_temp_curve_of_property(&found("clay")->heat, &clay);
    double mj =
        body.fired_kg * ks_temp_curve_read(&clay, 1000).integral / 1e6 + taken_mj(&body, 1000);
    check_near(mj, 1.485, 0.085);
}

static void mass_is_kept_by_every_stage(void **state)
{
    for (int stage = KS_LEATHER; stage <= KS_FIRED; stage++)
        for (double loss = 0; loss < 0.3; loss += 0.02) {
            ks_ware_heat w = ks_ware_of_mass(10, (ks_stage)stage, loss);
            check_near(w.fired_kg + w.water_kg + w.hydroxyl_kg + w.carbonate_kg + w.carbon_kg, 10,
                       1e-9);
        }
}

static ks_status read_text(const char *text, ks_arena *arena, ks_materials *out, ks_error *err)
{
    char path[] = "/tmp/kilnstow-materials-XXXXXX";
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, text, strlen(text)), (long)strlen(text));
    close(fd);
    ks_status status = ks_materials_read(path, arena, out, err);
    unlink(path);
    return status;
}

static void a_users_material_wins_over_the_built_in_one(void **state)
{
    ks_arena arena = {0};
    ks_materials all;
    ks_error err = {0};
    const char *text =
        "{\"format\": \"kilnstow-materials/1\", \"units\": {\"temperature\": \"C\"}, "
        "\"materials\": ["
        "{\"name\": \"IFB 23\", \"density_kg_m3\": 520,"
        " \"conductivity\": {\"points\": [[200, 0.11], [1000, 0.19]], \"source\": \"my sheet\"},"
        " \"heat\": {\"points\": [[20, 900]], \"source\": \"my sheet\"}}]}";
    assert_int_equal(read_text(text, &arena, &all, &err), KS_OK);
    check_near(ks_material_find(&all, "IFB 23")->density_kg_m3, 520, 0);
    check_near(ks_property_at(&ks_material_find(&all, "IFB 23")->conductivity, 600), 0.15, 1e-9);
    assert_non_null(ks_material_find(&all, "cordierite"));
    ks_arena_finish(&arena);
}

static void slips_in_a_users_file_are_told(void **state)
{
    const char *bad[] = {
        "{}",
        "{\"format\": \"kilnstow-materials/1\", \"materials\": [{\"name\": \"x\"}]}",
        "{\"format\": \"kilnstow-materials/1\", \"units\": {\"temperature\": \"C\"}, "
        "\"materials\": [{\"name\": \"x\", \"density_kg_m3\": 500,"
        " \"heat\": {\"points\": [[20, 900]], \"source\": \"s\"}}]}",
        "{\"format\": \"kilnstow-materials/1\", \"units\": {\"temperature\": \"C\"}, "
        "\"materials\": [{\"name\": \"x\", \"density_kg_m3\": 500,"
        " \"heat\": {\"points\": [[20, 900], [10, 900]], \"source\": \"s\"}, \"conductivity\":"
        " {\"points\": [[20, 1]], \"source\": \"s\"}}]}",
        "{\"format\": \"kilnstow-materials/1\", \"units\": {\"temperature\": \"C\"}, "
        "\"materials\": [{\"name\": \"x\", \"density_kg_m3\": 500,"
        " \"heat\": {\"points\": [[20, 900]]}, \"conductivity\": {\"points\": [[20, 1]]}}]}",
        "{\"format\": \"kilnstow-materials/1\", \"materials\": 5}",
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        ks_arena arena = {0};
        ks_materials all;
        ks_error err = {0};
        assert_int_equal(read_text(bad[i], &arena, &all, &err), KS_BAD_INPUT);
        assert_true(strlen(err.text) > 10);
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(insulating_brick_holds_heat_by_the_printed_table),
        cmocka_unit_test(corners_conduct_by_their_angle),
        cmocka_unit_test(every_figure_has_a_source),
        cmocka_unit_test(the_names_that_kiln_files_may_use_are_all_there),
        cmocka_unit_test(the_heat_of_fired_clay_integrates_as_the_formula_does),
        cmocka_unit_test(calcium_silicate_keeps_within_its_standard),
        cmocka_unit_test(insulating_brick_has_the_right_order),
        cmocka_unit_test(shelves_weigh_what_they_weigh),
        cmocka_unit_test(water_takes_what_the_steam_tables_say),
        cmocka_unit_test(kaolinite_takes_its_net_heat_in_the_end),
        cmocka_unit_test(lime_takes_its_heat_between_600_and_900),
        cmocka_unit_test(carbon_gives_heat_back),
        cmocka_unit_test(a_dry_stoneware_body_takes_its_theoretical_heat),
        cmocka_unit_test(mass_is_kept_by_every_stage),
        cmocka_unit_test(a_users_material_wins_over_the_built_in_one),
        cmocka_unit_test(slips_in_a_users_file_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
