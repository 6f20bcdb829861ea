/* money_case.h: a plan made by hand, with terms and a firing of steady power, for tests of costs.
 */
#ifndef KILNSTOW_TESTS_COST_MONEY_CASE_H
#define KILNSTOW_TESTS_COST_MONEY_CASE_H

#include "check.h"

#include "cost/fine.h"
#include "kilnstow/cost.h"

#include <string.h>

enum { CASE_PIECES = 40, CASE_MEMBERS = 8, CASE_LEVELS = 6, CASE_PLACED = 40, CASE_LOADS = 2 };

typedef struct {
    ks_arena arena;
    ks_error err;
    ks_money_terms terms;
    ks_price_time price;
    ks_piece_work no_work; /* told, so that prices are proposed */
    ks_kiln kiln;
    ks_piece pieces[CASE_PIECES];
    ks_member members[CASE_MEMBERS];
    ks_order order;
    ks_load loads[CASE_LOADS];
    ks_plan plan;
    ks_firing_result fired[CASE_LOADS];
    ks_fire_point points[CASE_LOADS][2];
    ks_cost_options options;
    ks_costing costing;
} money_case;

/* One load that used 10 h x 10 kW at 0.20 a kWh: a bill of 20.00. */
static inline void case_opened(money_case *on)
{
    *on = (money_case){.price = {"", 20 * KS_FINE, {127, 4095, 0, 0}},
                       .no_work = {"", 0},
                       .options = {.rule = -1}};
    on->terms = (ks_money_terms){.power = {.told = true,
                                           .n_times = 1,
                                           .times = &on->price,
                                           .demand_share = 1,
                                           .co2_kg_kwh = NAN},
                                 .labour_told = true,
                                 .n_work = 1,
                                 .work = &on->no_work,
                                 .guest_factor = 1,
                                 .wholesale_factor = 2,
                                 .retail_factor = 2};
    on->kiln = (ks_kiln){.id = "kiln", .name = "kiln", .heat = {.kind = KS_ELECTRIC}};
    on->order = (ks_order){.file = "order.json",
                           .title = "",
                           .studio = "",
                           .currency = "EUR",
                           .members = on->members,
                           .n_kilns = 1,
                           .kilns = &on->kiln,
                           .pieces = on->pieces,
                           .money = &on->terms};
    on->plan = (ks_plan){.order = &on->order, .n_loads = 1, .loads = on->loads};
    for (int l = 0; l < CASE_LOADS; l++) {
        on->loads[l] = (ks_load){.day = KS_NO_DAY, .firing = {.cone = "6", .atmosphere = ""}};
        on->loads[l].levels = KS_TAKE(&on->arena, CASE_LEVELS, ks_level);
        on->points[l][1] = (ks_fire_point){.time_h = 10, .power_kw = 10};
        on->fired[l] = (ks_firing_result){
            .reached = true, .energy = {.total = 100}, .n_points = 2, .points = on->points[l]};
    }
}

static inline void case_closed(money_case *on)
{
    ks_arena_finish(&on->arena);
}

static inline const char *case_member(money_case *on, const char *id, bool guest)
{
    on->members[on->order.n_members++] =
        (ks_member){.id = id, .name = id, .guest = guest, .subscription = ""};
    return id;
}

static inline int case_level(money_case *on, int load, double gap_mm, double shelf_mm)
{
    ks_load *of = &on->loads[load];
    ks_level *level = &of->levels[of->n_levels];
    *level = (ks_level){.bay = "", .gap_mm = gap_mm, .n_shelves = 1};
    level->shelves = KS_TAKE(&on->arena, 1, ks_shelf);
    level->shelves[0].outline = ks_outline_rectangle(shelf_mm, shelf_mm, 0, &on->arena);
    level->pieces = KS_TAKE(&on->arena, CASE_PLACED, ks_placed);
    return of->n_levels++;
}

/* A plain cylinder of the order. */
static inline int case_piece(money_case *on, const char *owner, double radius_mm, double height_mm)
{
    ks_outline disc = ks_outline_disc(0, 0, radius_mm, &on->arena);
    ks_piece *piece = &on->pieces[on->order.n_pieces];
    *piece = (ks_piece){.id = ks_arena_print(&on->arena, "piece-%d", on->order.n_pieces),
                        .owner = owner,
                        .stage = KS_GLAZED,
                        .clay = -1,
                        .setter = {.clay = -1},
                        .height_mm = height_mm,
                        .area_mm2 = ks_outline_area(&disc),
                        .mass_kg = height_mm / 100,
                        .clay_wet_kg = NAN,
                        .bare_mass_kg = height_mm / 100,
                        .defaults = ""};
    piece->name = piece->id;
    piece->n_parts = 1;
    piece->parts = KS_TAKE(&on->arena, 1, ks_part);
    piece->parts[0] = (ks_part){KS_PART_BODY, 0, height_mm, disc, {0}};
    return on->order.n_pieces++;
}

static inline void case_put(money_case *on, int load, int level, int piece)
{
    ks_level *on_level = &on->loads[load].levels[level];
    const ks_piece *of = &on->pieces[piece];
    assert_true(on_level->n_pieces < CASE_PLACED);
    on_level->pieces[on_level->n_pieces++] = (ks_placed){.piece = piece,
                                                         .id = of->id,
                                                         .owner = of->owner,
                                                         .copy = on_level->n_pieces,
                                                         .top_mm = of->height_mm,
                                                         .n_parts = 1,
                                                         .parts = of->parts};
}

static inline void case_cones(money_case *on, int load, int level)
{
    ks_level *on_level = &on->loads[load].levels[level];
    ks_part *part = KS_TAKE(&on->arena, 1, ks_part);
    *part = (ks_part){KS_PART_BODY, 0, 65, ks_outline_rectangle(60, 25, 0, &on->arena), {0}};
    on_level->pieces[on_level->n_pieces++] = (ks_placed){.piece = -1,
                                                         .id = "cones-1",
                                                         .owner = "",
                                                         .copy = 1,
                                                         .role = KS_CONES,
                                                         .top_mm = 65,
                                                         .n_parts = 1,
                                                         .parts = part};
}

static inline ks_status case_status(money_case *on)
{
    return ks_cost(&on->plan, on->fired, &on->options, &on->arena, &on->costing, &on->err);
}

static inline void case_costed(money_case *on)
{
    ks_status status = case_status(on);
    if (status)
        print_error("%s\n", on->err.text);
    assert_int_equal(status, KS_OK);
}

static inline int64_t case_share(const money_case *on, const char *member)
{
    for (int i = 0; i < on->costing.n_shares; i++)
        if (strcmp(on->costing.shares[i].member, member) == 0)
            return on->costing.shares[i].minor;
    fail_msg("no member %s", member);
    return 0;
}

/* The line of that name; fails when there is none. */
static inline ks_fine case_line(const ks_cost_lines *lines, const char *what)
{
    for (int i = 0; i < lines->n; i++)
        if (strcmp(lines->lines[i].what, what) == 0)
            return lines->lines[i].amount;
    fail_msg("no line %s", what);
    return 0;
}

static inline bool case_has_line(const ks_cost_lines *lines, const char *what)
{
    for (int i = 0; i < lines->n; i++)
        if (strcmp(lines->lines[i].what, what) == 0)
            return true;
    return false;
}

static inline int64_t case_shares_sum(const money_case *on)
{
    int64_t sum = 0;
    for (int i = 0; i < on->costing.n_shares; i++)
        sum += on->costing.shares[i].minor;
    return sum;
}

#endif
