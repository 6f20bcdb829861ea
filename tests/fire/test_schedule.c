/* Schedules worked out from a load, and loads of a plan. */
#include "check.h"

#include "kilnstow/cone.h"
#include "kilnstow/fire.h"

#include <string.h>

/* A plan of one load on two levels: mugs below, one big form above. */
typedef struct {
    ks_arena arena;
    ks_clay clay;
    ks_piece pieces[2];
    ks_layer layer;
    ks_zone zone;
    ks_shelf_kind shelf_kind;
    ks_kiln kiln;
    ks_chamber_part part;
    ks_load_bay bay;
    ks_shelf shelves[2];
    ks_placed placed[6];
    ks_part form_parts[2];
    ks_level levels[2];
    ks_order order;
    ks_load load;
    ks_plan plan;
    ks_fire_options options;
} small_plan;

static ks_piece piece_of(const char *id, ks_stage stage, double kg, double wall_mm,
                         double across_mm)
{
    return (ks_piece){.id = id,
                      .name = id,
                      .owner = "",
                      .count = 1,
                      .stage = stage,
                      .mass_kg = kg,
                      .wall_mm = wall_mm,
                      .area_mm2 = 0.785 * across_mm * across_mm,
                      .set = "",
                      .atmosphere = "",
                      .schedule = "",
                      .defaults = "",
                      .as_entered = ""};
}

static void small_plan_kiln(small_plan *p)
{
    p->layer = (ks_layer){"IFB 23", 76};
    p->zone = (ks_zone){0, 500, 1};
    p->part = (ks_chamber_part){0, 500, ks_outline_disc(0, 0, 250, &p->arena)};
    p->shelf_kind = (ks_shelf_kind){.id = "whole",
                                    .material = "cordierite",
                                    .condition = "",
                                    .outline = ks_outline_disc(0, 0, 220, &p->arena),
                                    .thickness_mm = 16,
                                    .count = 2};
    p->kiln = (ks_kiln){.id = "kiln",
                        .name = "kiln",
                        .height_mm = 500,
                        .n_parts = 1,
                        .parts = &p->part,
                        .n_shelves = 1,
                        .shelves = &p->shelf_kind};
    p->kiln.heat = (ks_heat){.kind = KS_ELECTRIC,
                             .rated_kw = 9,
                             .rated_volts = 240,
                             .supply_volts = 240,
                             .phases = 1,
                             .n_zones = 1,
                             .zones = &p->zone,
                             .top_temp_c = 1300,
                             .leak_m3_h = 0.5,
                             .casing_emissivity = 0.4,
                             .wall = {1, &p->layer},
                             .lid = {1, &p->layer},
                             .floor = {1, &p->layer}};
}

static void small_plan_make(small_plan *p, ks_stage mugs, ks_stage form, double form_wall_mm)
{
    *p = (small_plan){.options = ks_fire_default()};
    small_plan_kiln(p);
    p->clay = (ks_clay){.id = "clay", .density_kg_l = 2.2, .loss_on_ignition = 0.07};
    p->pieces[0] = piece_of("mug", mugs, 0.35, 5, 90);
    p->pieces[1] = piece_of("form", form, 6, form_wall_mm, 250);
    for (int i = 0; i < 2; i++)
        p->shelves[i] = (ks_shelf){"whole", 0, p->shelf_kind.outline, 16};
    for (int i = 0; i < 5; i++)
        p->placed[i] = (ks_placed){.piece = 0,
                                   .id = "mug",
                                   .owner = "",
                                   .copy = i + 1,
                                   .top_mm = 100,
                                   .stand = {150 * (i % 2 ? 1 : -1), 60.0 * (i - 2), 0}};
    p->placed[5] = (ks_placed){.piece = 1, .id = "form", .owner = "", .copy = 1, .top_mm = 280};
    p->levels[0] = (ks_level){"whole", 36, 120, 1, &p->shelves[0], 5, p->placed};
    p->levels[1] = (ks_level){"whole", 172, 328, 1, &p->shelves[1], 1, &p->placed[5]};
    p->bay = (ks_load_bay){"whole", ks_outline_disc(0, 0, 225, &p->arena)};
    p->order = (ks_order){.file = "",
                          .n_clays = 1,
                          .clays = &p->clay,
                          .n_kilns = 1,
                          .kilns = &p->kiln,
                          .n_pieces = 2,
                          .pieces = p->pieces};
    p->load = (ks_load){.kiln_id = "kiln",
                        .kiln = 0,
                        .day = KS_NO_DAY,
                        .height_mm = 500,
                        .firing = {"glaze", "6", 0, "oxidation", ""},
                        .n_parts = 1,
                        .parts = &p->part,
                        .n_bays = 1,
                        .bays = &p->bay,
                        .n_levels = 2,
                        .levels = p->levels};
    p->plan = (ks_plan){.order = &p->order, .n_loads = 1, .loads = &p->load};
    p->options.cooling = false;
    p->options.pace = true;
}

static void raw_slab(small_plan *p, double thickness_mm)
{
    p->pieces[1].has_setter = true;
    p->pieces[1].setter = (ks_setter){.kind = KS_PART_SLAB,
                                      .clay = -1,
                                      .stage = KS_DRY,
                                      .stage_told = true,
                                      .thickness_mm = thickness_mm};
    p->form_parts[0] =
        (ks_part){KS_PART_SLAB, 0, thickness_mm, ks_outline_disc(0, 0, 140, &p->arena), {0}};
    p->form_parts[1] =
        (ks_part){KS_PART_BODY, thickness_mm, 280, ks_outline_disc(0, 0, 125, &p->arena), {0}};
    p->placed[5].n_parts = 2;
    p->placed[5].parts = p->form_parts;
    p->pieces[1].mass_kg += 2;
}

static ks_firing_result fired(small_plan *p)
{
    ks_firing_result result;
    ks_error err = {0};
    ks_status status = ks_fire(&p->plan, &p->options, &p->arena, &result, &err);
    if (status)
        print_error("%s\n", err.text);
    assert_int_equal(status, KS_OK);
    return result;
}

static void a_plan_fires_to_its_cone(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_GLAZED, KS_BISQUE, 8);
    ks_firing_result r = fired(&p);
    assert_true(r.reached);
    assert_int_equal(r.n_levels, 2);
    check_near(r.levels[0].ware_kg, 5 * 0.35, 1e-9);
    check_near(r.levels[1].ware_kg, 6, 1e-9);
    check_near(r.levels[0].furniture_kg, 3.14159 * 0.22 * 0.22 * 0.016 * 1950, 0.02);
    assert_true(r.ledger_residual < 1e-6);
    for (int l = 0; l < 2; l++) {
        assert_true(r.levels[l].cone_edge > ks_cone_find("5") &&
                    r.levels[l].cone_edge < ks_cone_find("8"));
        assert_true(r.levels[l].peak_middle_c <= r.top_c + 15);
    }
    assert_true(r.n_points > 50);
    ks_arena_finish(&p.arena);
}

static void every_segment_has_its_reason(void **state)
{
    const char *cones[] = {"04", "6", "10"};
    for (int i = 0; i < 3; i++)
        for (int stage = KS_LEATHER; stage <= KS_GLAZED; stage++) {
            small_plan p;
            small_plan_make(&p, (ks_stage)stage, (ks_stage)stage, 10);
            p.load.firing.cone = cones[i];
            ks_worked_schedule worked;
            ks_error err = {0};
            assert_int_equal(ks_schedule_work_out(&p.plan, &p.options, &p.arena, &worked, &err),
                             KS_OK);
            assert_true(worked.schedule.n_segments >= 3);
            for (int s = 0; s < worked.schedule.n_segments; s++)
                assert_true(strlen(worked.reasons[s]) > 15);
            assert_string_equal(worked.schedule.end_cone, cones[i]);
            ks_arena_finish(&p.arena);
        }
}

static double hours_for(ks_stage mugs, ks_stage form, double wall_mm, double slab_mm)
{
    small_plan p;
    small_plan_make(&p, mugs, form, wall_mm);
    if (slab_mm > 0)
        raw_slab(&p, slab_mm);
    p.options.pace = false;
    double hours = fired(&p).hours;
    ks_arena_finish(&p.arena);
    return hours;
}

/* Course notes, a sculptor's page and a potters' list have 25 to 40 h for thick or wet work, and a
 * night for thin: common practice. */
static void thicker_and_wetter_ware_takes_longer_but_no_longer_than_practice(void **state)
{
    double bisque = hours_for(KS_BISQUE, KS_BISQUE, 8, 0), dry = hours_for(KS_DRY, KS_DRY, 8, 0);
    double thick = hours_for(KS_DRY, KS_DRY, 25, 0), wet = hours_for(KS_LEATHER, KS_LEATHER, 25, 0);
    assert_true(dry > bisque + 2 && dry < 20);
    assert_true(thick > dry && thick < 30);
    assert_true(wet > thick + 8 && wet < 40);
    assert_true(hours_for(KS_BISQUE, KS_BISQUE, 40, 0) > bisque);
    assert_true(hours_for(KS_GLAZED, KS_BISQUE, 8, 14) < 25);
}

static int strains_of(ks_stage stage, double wall_mm, const ks_schedule *own, bool cooling)
{
    small_plan p;
    small_plan_make(&p, stage, stage, wall_mm);
    p.pieces[0].wall_mm = wall_mm;
    p.options.pace = false;
    p.options.schedule = own;
    p.options.cooling = cooling;
    int n = fired(&p).n_strains;
    ks_arena_finish(&p.arena);
    return n;
}

/* The same limits judge a schedule worked out here, which keeps them, and anybody's own. */
static void no_schedule_worked_out_here_asks_more_than_walls_bear(void **state)
{
    const double walls[] = {5, 8, 14, 25};
    for (int stage = KS_LEATHER; stage <= KS_GLAZED; stage++)
        for (int i = 0; i < 4; i++)
            assert_int_equal(strains_of((ks_stage)stage, walls[i], NULL, true), 0);
}

static void a_fast_schedule_of_ones_own_is_judged_by_the_same_limits(void **state)
{
    ks_segment segments[] = {{250, 1100, 0}, {80, 1240, 0.2}};
    ks_schedule fast = {"fast", "", 2, segments, "6"};
    assert_int_equal(strains_of(KS_BISQUE, 6, &fast, false), 0);
    assert_true(strains_of(KS_DRY, 25, &fast, false) >= 2); /* steam, quartz */
    assert_true(strains_of(KS_LEATHER, 25, &fast, false) >= 3);
}

static void a_guessed_wall_never_sets_a_raw_schedule_in_silence(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_DRY, KS_DRY, 12);
    p.pieces[1].defaults = "wall";
    ks_firing_result r = fired(&p);
    bool told = false;
    for (int i = 0; i < r.n_special; i++)
        told = told || (strstr(r.cautions[i], "wall of form") && strstr(r.cautions[i], "20 mm"));
    assert_true(told);
    ks_arena_finish(&p.arena);
}

static bool tells_of_stacks(const ks_firing_result *r)
{
    for (int i = 0; i < r->n_special; i++)
        if (strstr(r->cautions[i], "stands in or on other ware"))
            return true;
    return false;
}

static void ware_within_other_ware_is_never_fired_in_silence(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_BISQUE, KS_BISQUE, 8);
    ks_firing_result plain = fired(&p);
    assert_false(tells_of_stacks(&plain));
    p.placed[1].on_id = p.placed[0].id;
    p.placed[1].on_copy = p.placed[0].copy;
    p.placed[1].way = KS_EDGE; /* a row leans, and covers nothing */
    ks_firing_result row = fired(&p);
    assert_false(tells_of_stacks(&row));
    p.placed[1].way = KS_NEST;
    ks_firing_result nest = fired(&p);
    assert_true(tells_of_stacks(&nest));
    ks_arena_finish(&p.arena);
}

static void the_raw_slab_that_sets_the_pace_is_named_and_charged(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_GLAZED, KS_BISQUE, 8);
    raw_slab(&p, 13);
    ks_firing_result r = fired(&p);
    assert_non_null(r.pace.piece);
    assert_string_equal(r.pace.piece, "form");
    assert_non_null(strstr(r.pace.why, "raw slab of 13 mm"));
    assert_true(r.pace.hours_more > 3);
    assert_true(r.pace.kwh_more > 0.5);
    check_near(r.pace.hours_more, r.hours - hours_for(KS_GLAZED, KS_BISQUE, 5, 0), 1.5);
    ks_arena_finish(&p.arena);
}

static void nobody_is_blamed_where_all_are_alike(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_GLAZED, KS_GLAZED, 5);
    ks_firing_result r = fired(&p);
    assert_null(r.pace.piece);
    ks_arena_finish(&p.arena);
}

static void styles_can_be_asked_for(void **state)
{
    for (const ks_schedule_style *style = ks_schedule_styles(); style->name; style++) {
        small_plan p;
        small_plan_make(&p, KS_DRY, KS_DRY, 8);
        p.options.style = style->name;
        p.options.pace = false;
        ks_firing_result r = fired(&p);
        assert_string_equal(r.schedule.id, style->name);
        assert_true(r.reached);
        ks_arena_finish(&p.arena);
    }
    small_plan p;
    small_plan_make(&p, KS_DRY, KS_DRY, 8);
    p.options.style = "hasty";
    ks_firing_result r;
    ks_error err = {0};
    assert_int_equal(ks_fire(&p.plan, &p.options, &p.arena, &r, &err), KS_BAD_INPUT);
    ks_arena_finish(&p.arena);
}

static void half_the_ware_takes_less_but_not_half(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_GLAZED, KS_BISQUE, 8);
    double full = fired(&p).energy.total;
    p.options.ware_fraction = 0.5;
    double half = fired(&p).energy.total;
    assert_true(half < full && half > 0.8 * full);
    ks_arena_finish(&p.arena);
}

static void the_cautions_that_matter_are_always_there(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_LEATHER, KS_BISQUE, 8);
    ks_firing_result r = fired(&p);
    bool vent = false, hot = false, electrician = false, wet = false;
    for (int i = 0; i < r.n_cautions; i++) {
        vent = vent || strstr(r.cautions[i], "ventilate");
        hot = hot || strstr(r.cautions[i], "never open it hot");
        electrician = electrician || strstr(r.cautions[i], "licensed electrician");
    }
    for (int i = 0; i < r.n_drying; i++)
        wet = wet || strstr(r.drying[i], "mug is still wet and dries in the kiln");
    assert_true(vent && hot && electrician && wet);
    ks_arena_finish(&p.arena);
}

/* The wall beside a kiln repeats what every answer closes with, and gas has cautions of its own. */
static void the_wall_has_every_answers_cautions_and_more(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_GLAZED, KS_BISQUE, 8);
    ks_firing_result r = fired(&p);
    ks_kiln kiln = p.order.kilns[0];
    ks_usual_cautions electric = ks_kiln_cautions(&kiln, &p.order.display, &p.arena);
    kiln.heat.kind = KS_GAS;
    ks_usual_cautions gas = ks_kiln_cautions(&kiln, &p.order.display, &p.arena);
    assert_int_equal(r.n_cautions - r.n_special, electric.n_short);
    assert_true(electric.n > electric.n_short);
    for (int i = 0; i < electric.n_short; i++)
        assert_string_equal(r.cautions[r.n_special + i], electric.lines[i]);
    assert_non_null(strstr(electric.lines[3], "licensed electrician"));
    assert_non_null(strstr(gas.lines[3], "local gas code"));
    assert_non_null(strstr(gas.lines[4], "smell of gas"));
    ks_arena_finish(&p.arena);
}

/* Ware lags its chamber, most while its water boils off, and catches up faster than the chamber
 * rises: the schedule worked out for it has to bear that too, by the limits it is judged by. */
static void a_schedule_worked_out_here_never_strains_its_own_ware(void **state)
{
    static const ks_stage stages[] = {KS_LEATHER, KS_DRY, KS_BISQUE};
    static const double walls_mm[] = {6, 15, 25, 40};
    for (int s = 0; s < 3; s++)
        for (int w = 0; w < 4; w++) {
            small_plan p;
            small_plan_make(&p, stages[s], stages[s], walls_mm[w]);
            p.load.firing.cone = stages[s] == KS_BISQUE ? "6" : "04";
            p.options.cooling = true;
            ks_firing_result r = fired(&p);
            if (r.n_strains > 0)
                print_error("%g mm: %s\n", walls_mm[w], r.strains[0].says);
            assert_int_equal(r.n_strains, 0);
            ks_arena_finish(&p.arena);
        }
}

static void a_load_that_is_not_there_is_refused(void **state)
{
    small_plan p;
    small_plan_make(&p, KS_GLAZED, KS_BISQUE, 8);
    ks_firing_result r;
    ks_error err = {0};
    p.options.load = 1;
    assert_int_equal(ks_fire(&p.plan, &p.options, &p.arena, &r, &err), KS_BAD_USAGE);
    p.options.load = 0;
    p.load.kiln = -1;
    assert_int_equal(ks_fire(&p.plan, &p.options, &p.arena, &r, &err), KS_BAD_INPUT);
    p.load.kiln = 0;
    p.load.firing.cone = "six";
    assert_int_equal(ks_fire(&p.plan, &p.options, &p.arena, &r, &err), KS_BAD_INPUT);
    ks_arena_finish(&p.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_fires_to_its_cone),
        cmocka_unit_test(every_segment_has_its_reason),
        cmocka_unit_test(thicker_and_wetter_ware_takes_longer_but_no_longer_than_practice),
        cmocka_unit_test(no_schedule_worked_out_here_asks_more_than_walls_bear),
        cmocka_unit_test(a_fast_schedule_of_ones_own_is_judged_by_the_same_limits),
        cmocka_unit_test(a_guessed_wall_never_sets_a_raw_schedule_in_silence),
        cmocka_unit_test(ware_within_other_ware_is_never_fired_in_silence),
        cmocka_unit_test(the_raw_slab_that_sets_the_pace_is_named_and_charged),
        cmocka_unit_test(nobody_is_blamed_where_all_are_alike),
        cmocka_unit_test(styles_can_be_asked_for),
        cmocka_unit_test(half_the_ware_takes_less_but_not_half),
        cmocka_unit_test(the_cautions_that_matter_are_always_there),
        cmocka_unit_test(a_schedule_worked_out_here_never_strains_its_own_ware),
        cmocka_unit_test(the_wall_has_every_answers_cautions_and_more),
        cmocka_unit_test(a_load_that_is_not_there_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
