#include "check.h"

#include "oracle.h"
#include "place/small_order.h"

#include <math.h>

/* What would still go in, held against GEOS (libgeos.org) and against the checker. */

#define GROWTH 0.01

static ks_plan *half_full(small_order *s)
{
    small_begun(s, 420, 3, 4, 1);
    s->order.rules.outward_fraction = GROWTH;
    cylinder_added(s, "jar", 55, 120, 3);
    cylinder_added(s, "mug", 40, 90, 7);
    cylinder_added(s, "bowl", 70, 50, 4);
    return planned(s, 1, 1, 5);
}

/* Clear radius of a circle about a point, from the shelf to what is over it, as GEOS has it. */
static double clear_radius(const ks_plan *plan, int level, ks_point at, ks_arena *arena)
{
    const ks_load *load = &plan->loads[0];
    const ks_level *on = &load->levels[level];
    const ks_clearance *keep = &load->clearance;
    ks_outline dot = ks_outline_disc(at.x, at.y, 0, arena);
    GEOSGeometry *point = oracle_core(&dot);
    GEOSGeometry *shelf = oracle_whole(&on->shelves[0].outline);
    GEOSGeometry *wall = oracle_whole(&load->parts[0].outline);
    bool within = oracle_distance(point, shelf) == 0;
    double r = within ? fmin(oracle_to_boundary(point, shelf) - keep->shelf_edge,
                             oracle_to_boundary(point, wall) - keep->wall)
                      : -1;
    for (int i = 0; i < on->n_pieces && r > 0; i++) {
        GEOSGeometry *part = oracle_core(&on->pieces[i].parts[0].outline);
        double apart = oracle_distance(point, part) - on->pieces[i].parts[0].outline.round;
        r = fmin(r, apart - keep->ware);
        GEOSGeom_destroy(part);
    }
    for (int i = 0; i < load->n_posts && r > 0; i++) {
        const ks_post *post = &load->posts[i];
        GEOSGeometry *core = oracle_core(&post->outline);
        if (post->to_mm > on->z_mm + KS_GRID && post->from_mm < on->z_mm + on->gap_mm - KS_GRID)
            r = fmin(r, oracle_distance(point, core) - post->outline.round - keep->post);
        GEOSGeom_destroy(core);
    }
    GEOSGeom_destroy(point);
    GEOSGeom_destroy(shelf);
    GEOSGeom_destroy(wall);
    return r;
}

static double widest_on_a_grid(const ks_plan *plan, int level, double pitch)
{
    double most = -1;
    for (double x = -205; x <= 205; x += pitch)
        for (double y = -205; y <= 205; y += pitch) {
            ks_arena arena = {0};
            most = fmax(most, clear_radius(plan, level, (ks_point){x, y}, &arena));
            ks_arena_finish(&arena);
        }
    return most;
}

/* It is free, and no point of a grid is the middle of a wider one. */
static void the_widest_circle_is_free_and_no_other_is_wider(void **state)
{
    (void)state;
    small_order s;
    ks_plan *plan = half_full(&s);
    ks_load_room *rooms;
    ks_error err = {0};
    int told = 0;
    oracle_start();
    plan->order = &s.order;
    assert_int_equal(ks_place_room(plan, &s.arena, &rooms, &err), KS_OK);
    assert_null(rooms[0].why_not);
    for (int l = 0; l < rooms[0].n_levels; l++) {
        const ks_level_room *room = &rooms[0].levels[l];
        const ks_level *level = &plan->loads[0].levels[l];
        double grown = room->width_mm / 2 * (1 + GROWTH);
        double clear = clear_radius(plan, l, (ks_point){room->x_mm, room->y_mm}, &s.arena);
        if (room->width_mm > 0)
            assert_true(grown <= clear + 1e-6);
        assert_true(widest_on_a_grid(plan, l, 5) <= grown + 0.2);
        assert_true(room->height_mm <= level->gap_mm - 5 + 1e-6);
        told += room->width_mm > 0;
    }
    assert_true(told >= 2);
    oracle_finish();
    ks_arena_finish(&s.arena);
}

/* The copies told of one kind on one level, put there after all that is in. */
static void put_more(small_order *s, ks_load *load, int level, const ks_kind_room *more)
{
    ks_piece *piece = &s->order.pieces[more->piece];
    ks_level *on = &load->levels[level];
    ks_placed *pieces = KS_TAKE(&s->arena, on->n_pieces + more->copies, ks_placed);
    ks_step *steps = KS_TAKE(&s->arena, load->n_steps + more->copies, ks_step);
    memcpy(pieces, on->pieces, sizeof *pieces * (size_t)on->n_pieces);
    memcpy(steps, load->steps, sizeof *steps * (size_t)load->n_steps);
    for (int c = 0; c < more->copies; c++)
        steps[load->n_steps++] = (ks_step){KS_PUT_PIECE, level, on->n_pieces + c};
    for (int c = 0; c < more->copies; c++) {
        ks_placed *placed = &pieces[on->n_pieces + c];
        *placed = (ks_placed){.piece = more->piece,
                              .id = piece->id,
                              .owner = "",
                              .copy = ++piece->count,
                              .stand = more->stands[c],
                              .glazed = true,
                              .top_mm = piece->height_mm,
                              .n_parts = 1,
                              .parts = KS_TAKE(&s->arena, 1, ks_part)};
        placed->parts[0] = piece->parts[0];
        ks_outline there = ks_outline_place(&piece->parts[0].outline, placed->stand, &s->arena);
        placed->parts[0].outline = ks_outline_gridded(&there, &s->arena);
    }
    on->pieces = pieces;
    on->n_pieces += more->copies;
    load->steps = steps;
}

/* One kind on every level at once keeps every rule but the order of loading, in which the new ones
 * come last; and where the packer says none, a disc that no cylinder could be is not free either.
 */
static void what_is_told_to_go_in_keeps_every_rule(void **state)
{
    (void)state;
    int told = 0;
    for (int kind = 0; kind < 3; kind++) {
        small_order s;
        ks_plan *plan = half_full(&s);
        ks_load_room *rooms;
        ks_error err = {0};
        ks_check_report report;
        plan->order = &s.order;
        assert_int_equal(ks_place_room(plan, &s.arena, &rooms, &err), KS_OK);
        plan->n_left_out = 0;
        for (int i = 0; i < s.order.n_pieces; i++)
            s.order.pieces[i].count = 0;
        for (int l = 0; l < plan->loads[0].n_levels; l++)
            for (int i = 0; i < plan->loads[0].levels[l].n_pieces; i++)
                s.order.pieces[plan->loads[0].levels[l].pieces[i].piece].count++;
        for (int l = 0; l < rooms[0].n_levels; l++) {
            bool any = false;
            for (int k = 0; k < rooms[0].levels[l].n_kinds; k++)
                if (rooms[0].levels[l].kinds[k].piece == kind) {
                    any = true;
                    told += rooms[0].levels[l].kinds[k].copies;
                    put_more(&s, &plan->loads[0], l, &rooms[0].levels[l].kinds[k]);
                }
            double need = 2 * s.order.pieces[kind].parts[0].outline.round;
            bool low = s.order.pieces[kind].height_mm <= rooms[0].levels[l].height_mm;
            assert_true(any || !low || rooms[0].levels[l].width_mm < need + 1.5);
        }
        ks_check(plan, &s.arena, &report);
        for (int i = 0; i < report.n_broken; i++)
            if (strcmp(report.broken[i].rule, "load order") != 0)
                fail_msg("%s: %s", report.broken[i].rule, report.broken[i].where);
        ks_arena_finish(&s.arena);
    }
    assert_true(told > 3);
}

/* A plan whose posts were moved by hand is not one the packer knows: it says so. */
static void a_load_built_otherwise_is_not_told(void **state)
{
    (void)state;
    small_order s;
    ks_plan *plan = half_full(&s);
    ks_load_room *rooms;
    ks_error err = {0};
    plan->order = &s.order;
    plan->loads[0].posts[0].outline = ks_outline_disc(3, 4, 12, &s.arena);
    assert_int_equal(ks_place_room(plan, &s.arena, &rooms, &err), KS_OK);
    assert_non_null(rooms[0].why_not);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_widest_circle_is_free_and_no_other_is_wider),
        cmocka_unit_test(what_is_told_to_go_in_keeps_every_rule),
        cmocka_unit_test(a_load_built_otherwise_is_not_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
