/* small_order.h: orders built in C: plain pieces, and kilns whose furniture is easily counted. */
#ifndef KILNSTOW_TESTS_SMALL_ORDER_H
#define KILNSTOW_TESTS_SMALL_ORDER_H

#include "kilnstow/check.h"
#include "kilnstow/place.h"

#include <string.h>

enum { SMALL_PIECES = 64 };

typedef struct {
    ks_arena arena;
    ks_order order;
} small_order;

/* A straight square chamber: one whole shelf, or two halves left and right. */
static ks_support support_of(small_order *s, int kind, double x, double half_width)
{
    ks_support support = {.n_shelves = 1, .n_posts = 3};
    support.shelves = KS_TAKE(&s->arena, 1, struct ks_laid_shelf);
    support.shelves[0] = (struct ks_laid_shelf){kind, {x, 0, 0}};
    support.posts = KS_TAKE(&s->arena, 3, ks_point);
    support.posts[0] = (ks_point){x - half_width + 15, 185};
    support.posts[1] = (ks_point){x + half_width - 15, 185};
    support.posts[2] = (ks_point){x, -185};
    return support;
}

static void shelf_added(small_order *s, ks_kiln *kiln, const char *id, double width, int count)
{
    kiln->shelves[kiln->n_shelves++] =
        (ks_shelf_kind){.id = id,
                        .material = "cordierite",
                        .condition = "",
                        .outline = ks_outline_rectangle(width, 400, 0, &s->arena),
                        .thickness_mm = 10,
                        .count = count,
                        .mass_kg = 3};
}

static void bay_added(small_order *s, ks_kiln *kiln, const char *id, double x0, double x1,
                      int shelf)
{
    ks_bay *bay = &kiln->bays[kiln->n_bays++];
    ks_point *at = KS_TAKE(&s->arena, 4, ks_point);
    at[0] = (ks_point){x0, -210};
    at[1] = (ks_point){x1, -210};
    at[2] = (ks_point){x1, 210};
    at[3] = (ks_point){x0, 210};
    *bay = (ks_bay){id, {4, at, 0}, 1, KS_TAKE(&s->arena, 2, ks_support)};
    double half = shelf == 0 ? 200 : 98, middle = shelf == 0 ? 0 : x0 < 0 ? -100 : 100;
    bay->supports[0] = support_of(s, shelf, middle, half);
}

static void arrangement_added(small_order *s, ks_kiln *kiln, const char *id, int first, int n)
{
    ks_arrangement *up = &kiln->arrangements[kiln->n_arrangements++];
    *up = (ks_arrangement){id, n, KS_TAKE(&s->arena, n, int)};
    for (int i = 0; i < n; i++)
        up->bays[i] = first + i;
}

static ks_kiln *kiln_of(small_order *s, double height, int whole, int halves)
{
    static const double posts[] = {20, 50, 100, 150, 200};
    ks_kiln *kiln = KS_TAKE(&s->arena, 1, ks_kiln);
    *kiln = (ks_kiln){.id = "small",
                      .name = "small",
                      .note = "",
                      .defaults = "",
                      .loading = KS_TOP_LOADER,
                      .height_mm = height,
                      .clearance = {6, 12, 6, 5, 10, 3, 5, 0, 0},
                      .floor_post_least_mm = 20};
    kiln->n_parts = 1;
    kiln->parts = KS_TAKE(&s->arena, 1, ks_chamber_part);
    kiln->parts[0] = (ks_chamber_part){0, height, ks_outline_rectangle(420, 420, 0, &s->arena)};
    kiln->shelves = KS_TAKE(&s->arena, 2, ks_shelf_kind);
    kiln->bays = KS_TAKE(&s->arena, 3, ks_bay);
    kiln->arrangements = KS_TAKE(&s->arena, 2, ks_arrangement);
    shelf_added(s, kiln, "whole", 400, whole);
    shelf_added(s, kiln, "half", 196, halves);
    bay_added(s, kiln, "whole", -210, 210, 0);
    arrangement_added(s, kiln, "whole shelves", 0, 1);
    if (halves > 0) {
        bay_added(s, kiln, "left", -210, 0, 1);
        bay_added(s, kiln, "right", 0, 210, 1);
        arrangement_added(s, kiln, "halves", 1, 2);
    }
    kiln->n_posts = sizeof posts / sizeof *posts;
    kiln->posts = KS_TAKE(&s->arena, kiln->n_posts, ks_post_kind);
    for (int i = 0; i < kiln->n_posts; i++)
        kiln->posts[i] = (ks_post_kind){.id = "post",
                                        .height_mm = posts[i],
                                        .outline = ks_outline_disc(0, 0, 12, &s->arena),
                                        .count = 12,
                                        .mass_kg = 0.2};
    return kiln;
}

__attribute__((unused)) static void small_begun(small_order *s, double height, int whole,
                                                int halves, int loads)
{
    *s = (small_order){0};
    ks_order *o = &s->order;
    *o = (ks_order){.file = "small", .title = "", .studio = "", .note = "", .currency = "EUR"};
    o->display = (ks_display){"mm", "kg", "C"};
    for (int i = 0; i < ks_n_clearances; i++)
        *ks_clearance_at(&o->rules.clearance, i) = -1;
    o->rules.hand_room_mm = 25;
    o->rules.large_mm = 250;
    o->n_kilns = o->n_firings = 1;
    o->kilns = kiln_of(s, height, whole, halves);
    o->firings = KS_TAKE(&s->arena, 1, ks_firing);
    o->firings[0] = (ks_firing){"glaze", "6", 0, "oxidation", ""};
    o->n_slots = loads;
    o->slots = KS_TAKE(&s->arena, loads, ks_slot);
    for (int i = 0; i < loads; i++)
        o->slots[i] = (ks_slot){0, 0, KS_NO_DAY};
    o->pieces = KS_TAKE(&s->arena, SMALL_PIECES, ks_piece);
}

/* A cylinder; worth is its box in litres. */
__attribute__((unused)) static ks_piece *cylinder_added(small_order *s, const char *id,
                                                        double radius, double height, int count)
{
    ks_piece *p = &s->order.pieces[s->order.n_pieces++];
    *p = (ks_piece){.id = id,
                    .name = id,
                    .owner = "",
                    .count = count,
                    .stage = KS_GLAZED,
                    .clay = -1,
                    .glazed = true,
                    .height_mm = height,
                    .set = "",
                    .due_day = KS_NO_DAY,
                    .atmosphere = "",
                    .schedule = "",
                    .defaults = "",
                    .as_entered = "",
                    .price_minor = -1,
                    .mass_kg = 0.5,
                    .bare_mass_kg = 0.5};
    p->n_parts = 1;
    p->parts = KS_TAKE(&s->arena, 1, ks_part);
    p->parts[0] = (ks_part){KS_PART_BODY, 0, height, ks_outline_disc(0, 0, radius, &s->arena), {0}};
    p->area_mm2 = ks_outline_area(&p->parts[0].outline);
    p->volume_mm3 = p->area_mm2 * height;
    p->worth = p->volume_mm3 / 1e6;
    return p;
}

/* Cone packs on the bottom and the top level. */
__attribute__((unused)) static void cones_wanted(small_order *s)
{
    s->order.rules.cones = (ks_cone_packs){.wanted = true,
                                           .bottom = true,
                                           .top = true,
                                           .width_mm = 60,
                                           .depth_mm = 25,
                                           .height_mm = 65};
}

/* Ware in a plan; cone packs are none. */
static int pieces_in(const ks_plan *plan)
{
    int n = 0;
    for (int l = 0; l < plan->n_loads; l++)
        for (int v = 0; v < plan->loads[l].n_levels; v++)
            for (int i = 0; i < plan->loads[l].levels[v].n_pieces; i++)
                n += plan->loads[l].levels[v].pieces[i].role != KS_CONES;
    return n;
}

/* The plan after so many rounds, which holds what progress told last; `stayed` of `of` pieces of
 * options->from are where they were. */
static ks_plan *planned_with(small_order *s, const ks_place_options *options, int *stayed, int *of)
{
    ks_placing *placing = NULL;
    ks_error err = {0};
    assert_int_equal(ks_placing_create(&s->order, options, &placing, &err), KS_OK);
    bool more = true;
    ks_progress progress = {0};
    while (more) {
        assert_int_equal(ks_placing_step(placing, &more, &progress, &err), KS_OK);
        assert_true(progress.worth <= progress.bound * (1 + 1e-9));
    }
    ks_plan *plan = NULL;
    assert_int_equal(ks_placing_best(placing, "rounds", &s->arena, &plan, &err), KS_OK);
    assert_int_equal(pieces_in(plan), progress.placed + progress.filled);
    assert_int_equal(plan->n_loads, progress.loads);
    check_near(plan->worth, progress.worth, 1e-9);
    ks_placing_stayed(placing, stayed, of);
    ks_placing_destroy(placing);
    return plan;
}

__attribute__((unused)) static ks_plan *planned(small_order *s, int rounds, int threads,
                                                uint64_t seed)
{
    ks_place_options options = ks_place_default();
    int stayed, of;
    options.rounds = rounds;
    options.threads = threads;
    options.seed = seed;
    return planned_with(s, &options, &stayed, &of);
}

/* How many rules the plan breaks; tells which. */
__attribute__((unused)) static int rules_broken(small_order *s, const ks_plan *plan)
{
    ks_check_report report;
    ks_check(plan, &s->arena, &report);
    for (int i = 0; i < report.n_broken; i++)
        print_error("%s: %s\n", report.broken[i].rule, report.broken[i].where);
    return report.n_broken;
}

__attribute__((unused)) static int placed_of(const ks_plan *plan, const char *id)
{
    int n = 0;
    for (int l = 0; l < plan->n_loads; l++)
        for (int k = 0; k < plan->loads[l].n_levels; k++)
            for (int i = 0; i < plan->loads[l].levels[k].n_pieces; i++)
                n += strcmp(plan->loads[l].levels[k].pieces[i].id, id) == 0;
    return n;
}

__attribute__((unused)) static const ks_left_out *left_of(const ks_plan *plan, const char *id)
{
    for (int i = 0; i < plan->n_left_out; i++)
        if (strcmp(plan->left_out[i].id, id) == 0)
            return &plan->left_out[i];
    return NULL;
}

#endif
