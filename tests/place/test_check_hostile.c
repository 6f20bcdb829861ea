#include "check.h"
#include "kilnstow/check.h"
#include "oracle.h"
#include "oracle_plan.h"

#include <limits.h>

/* Values that a plan's file could be edited to, or that no file could hold. */

static double wild_number(uint64_t *seed)
{
    const double wild[] = {0, -1, 1, 1e-9, 1e9, -1e9, 1e300, NAN, INFINITY, 0.001};
    int pick = (int)(12 * random_share(seed));
    return pick < 10 ? wild[pick] : random_between(seed, -600, 600);
}

static int wild_count(uint64_t *seed)
{
    const int wild[] = {-1, 0, 1, 2, 7, INT_MAX, INT_MIN};
    return wild[(int)(7 * random_share(seed))];
}

static const char *wild_text(uint64_t *seed)
{
    const char *const wild[] = {NULL, "", "mug", "whole", "peephole", "no such thing"};
    return wild[(int)(6 * random_share(seed))];
}

static int some(uint64_t *seed, int n)
{
    return (int)(n * random_share(seed));
}

static void spoil_outline(uint64_t *seed, ks_outline *outline, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, outline->n > 0 ? outline->n : 1, ks_point);
    for (int i = 0; i < outline->n; i++)
        at[i] = outline->at[i];
    outline->at = at;
    switch (some(seed, 4)) {
    case 0:
        outline->round = wild_number(seed);
        break;
    case 1:
        outline->n = some(seed, outline->n + 1);
        break;
    default:
        at[some(seed, outline->n > 0 ? outline->n : 1)].x = wild_number(seed);
    }
}

static void spoil_piece(uint64_t *seed, const small_plan *s)
{
    ks_level *level = &s->load->levels[some(seed, 2)];
    if (level->n_pieces == 0)
        return;
    ks_placed *placed = &level->pieces[some(seed, level->n_pieces)];
    ks_part *part = placed->n_parts > 0 ? &placed->parts[some(seed, placed->n_parts)] : NULL;
    switch (some(seed, 14)) {
    case 0:
        placed->piece = wild_count(seed);
        break;
    case 1:
        placed->id = wild_text(seed);
        break;
    case 2:
        placed->copy = wild_count(seed);
        break;
    case 3:
        placed->on_id = wild_text(seed);
        break;
    case 4:
        placed->on_copy = wild_count(seed);
        break;
    case 5:
        placed->on_id = placed->id; /* on itself, or in a ring */
        placed->on_copy = 1 + some(seed, 3);
        break;
    case 6:
        placed->n_parts = some(seed, placed->n_parts + 1);
        break;
    case 7:
        placed->around_mm = wild_number(seed);
        break;
    case 8:
        placed->stand.turn_deg = wild_number(seed);
        break;
    case 9:
        placed->stand.x = wild_number(seed);
        break;
    case 10:
        placed->owner = wild_text(seed);
        break;
    case 11:
        placed->top_mm = wild_number(seed);
        break;
    case 12:
        if (part)
            part->from_mm = wild_number(seed);
        break;
    default:
        if (part)
            spoil_outline(seed, &part->outline, s->arena);
    }
}

static void spoil_furniture(uint64_t *seed, const small_plan *s)
{
    ks_level *level = &s->load->levels[some(seed, 2)];
    ks_shelf *shelf = &level->shelves[0];
    ks_post *post = &s->load->posts[some(seed, 7)];
    switch (some(seed, 13)) {
    case 0:
        level->z_mm = wild_number(seed);
        break;
    case 1:
        level->gap_mm = wild_number(seed);
        break;
    case 2:
        level->n_shelves = some(seed, level->n_shelves + 1);
        break;
    case 3:
        level->bay = wild_text(seed);
        break;
    case 4:
        shelf->kind = wild_count(seed);
        break;
    case 5:
        shelf->id = wild_text(seed);
        break;
    case 6:
        shelf->thickness_mm = wild_number(seed);
        break;
    case 7:
        spoil_outline(seed, &shelf->outline, s->arena);
        break;
    case 8:
        spoil_outline(seed, &post->outline, s->arena);
        break;
    case 9:
        post->from_mm = wild_number(seed);
        break;
    case 10:
        post->n_heights = wild_count(seed);
        break;
    case 11:
        post->heights_mm[some(seed, 2)] = wild_number(seed);
        break;
    default:
        s->load->n_posts = some(seed, s->load->n_posts + 1);
    }
}

static void spoil_load(uint64_t *seed, const small_plan *s)
{
    ks_load *load = s->load;
    ks_step *step = &load->steps[some(seed, 20)];
    switch (some(seed, 15)) {
    case 0:
        load->kiln = wild_count(seed);
        break;
    case 1:
        load->kiln_id = wild_text(seed);
        break;
    case 2:
        load->day = wild_count(seed);
        break;
    case 3:
        load->height_mm = wild_number(seed);
        break;
    case 4:
        load->clearance.ware = wild_number(seed);
        break;
    case 5:
        load->n_parts = some(seed, load->n_parts + 1);
        break;
    case 6:
        load->n_keep_outs = some(seed, load->n_keep_outs + 1);
        break;
    case 7:
        load->keep_outs[0].kind = wild_text(seed);
        break;
    case 8:
        load->n_levels = some(seed, 3);
        break;
    case 9:
        load->n_steps = some(seed, load->n_steps + 1);
        break;
    case 10:
        step->level = wild_count(seed);
        break;
    case 11:
        step->item = wild_count(seed);
        break;
    case 12:
        load->n_bays = some(seed, 2);
        break;
    case 13:
        s->plan->left_out[0].count = wild_count(seed);
        break;
    default:
        s->plan->left_out[0].piece = wild_count(seed);
    }
}

static void spoil(uint64_t *seed, const small_plan *s)
{
    double which = random_share(seed);
    if (which < 0.5)
        spoil_piece(seed, s);
    else if (which < 0.75)
        spoil_furniture(seed, s);
    else
        spoil_load(seed, s);
}

static void no_spoilt_plan_stops_the_checker(void **state)
{
    (void)state;
    uint64_t seed = 3;
    int found = 0;
    for (int i = 0; i < 4000; i++) {
        ks_arena arena = {0};
        small_plan small = small_plan_made(&arena);
        for (int k = 1 + some(&seed, 5); k > 0; k--)
            spoil(&seed, &small);
        ks_check_report report;
        ks_check(small.plan, &arena, &report);
        for (int b = 0; b < report.n_broken; b++)
            assert_true(report.broken[b].by_mm > 0 && report.broken[b].by_mm <= 1e6);
        assert_true(report.ok == (report.n_broken == 0));
        found += !report.ok;
        ks_arena_finish(&arena);
    }
    assert_true(found > 3600); /* few of the changes are harmless */
}

/* A load of as much ware as nobody owns, all in one heap: told in full enough, and soon. */
static void a_heap_of_ware_is_judged_in_bounds(void **state)
{
    (void)state;
    ks_arena arena = {0};
    small_plan small = small_plan_made(&arena);
    ks_level *level = &small.load->levels[1];
    ks_placed *heap = KS_TAKE(&arena, 400, ks_placed);
    for (int i = 0; i < 400; i++)
        heap[i] = level->pieces[0];
    level->pieces = heap;
    level->n_pieces = 400;
    ks_check_report report;
    ks_check(small.plan, &arena, &report);
    assert_false(report.ok);
    assert_true(report.n_broken < 40 * 500);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_spoilt_plan_stops_the_checker),
        cmocka_unit_test(a_heap_of_ware_is_judged_in_bounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
