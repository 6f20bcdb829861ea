#include "check.h"

#include "place/small_order.h"

#include <math.h>

/* Loading is a walk: posts first, then from piece to piece beside it, and nothing is shut in. */

static double apart(const ks_placed *a, const ks_placed *b)
{
    return hypot(a->stand.x - b->stand.x, a->stand.y - b->stand.y);
}

/* Sum of the ways from piece to piece, level by level, in the order of the plan. */
static double walked(const ks_load *load, int *n)
{
    const ks_placed *last = NULL;
    int level = -1;
    double sum = 0;
    for (int s = 0; s < load->n_steps; s++) {
        const ks_step *step = &load->steps[s];
        if (step->put != KS_PUT_PIECE && step->put != KS_PUT_CONES)
            continue;
        const ks_placed *now = &load->levels[step->level].pieces[step->item];
        if (last && step->level == level) {
            sum += apart(last, now);
            (*n)++;
        }
        last = now;
        level = step->level;
    }
    return sum;
}

/* The same if each level were walked to the nearest piece not yet in, from the first one listed:
 * the nearest-neighbour rule (Rosenkrantz, Stearns, Lewis, SIAM J. Computing 6, 1977). */
static double to_the_nearest(const ks_level *level)
{
    bool in[256] = {false};
    double sum = 0;
    assert_true(level->n_pieces <= 256);
    for (int at = 0, done = 1; done < level->n_pieces; done++) {
        int next = -1;
        in[at] = true;
        for (int i = 0; i < level->n_pieces; i++)
            if (!in[i] && (next < 0 || apart(&level->pieces[at], &level->pieces[i]) <
                                           apart(&level->pieces[at], &level->pieces[next])))
                next = i;
        sum += apart(&level->pieces[at], &level->pieces[next]);
        at = next;
    }
    return sum;
}

static void ware_of_many_heights(small_order *s)
{
    cylinder_added(s, "low", 22, 30, 14);
    cylinder_added(s, "mug", 34, 60, 12);
    cylinder_added(s, "tall", 30, 95, 12);
    cylinder_added(s, "bowl", 55, 45, 6);
    cylinder_added(s, "jug", 45, 140, 4);
}

/* As from the nearest to the nearest, but for a third: it goes from the far side to the near one
 * and leaves nothing behind that hands do not reach any more. */
static void the_next_piece_is_near(void **state)
{
    (void)state;
    double ways = 0, nearest = 0;
    int n = 0;
    for (int halves = 0; halves <= 8; halves += 8) {
        small_order s;
        small_begun(&s, 460, 5, halves, 1);
        ware_of_many_heights(&s);
        ks_plan *plan = planned(&s, 1, 1, 7);
        ks_check_report report;
        plan->order = &s.order;
        ks_check(plan, &s.arena, &report);
        assert_true(report.ok);
        assert_int_equal(report.n_remarks, 0);
        ways += walked(&plan->loads[0], &n);
        for (int l = 0; l < plan->loads[0].n_levels; l++)
            nearest += to_the_nearest(&plan->loads[0].levels[l]);
        ks_arena_finish(&s.arena);
    }
    assert_true(n > 40);
    assert_true(ways <= nearest * 4 / 3);
}

static const ks_placed *first_in(const ks_load *load)
{
    for (int s = 0; s < load->n_steps; s++)
        if (load->steps[s].put == KS_PUT_PIECE)
            return &load->levels[load->steps[s].level].pieces[load->steps[s].item];
    return NULL;
}

/* Who carries with the right hand begins at the far left, who with the left at the far right. */
static void the_walk_begins_on_the_side_of_the_other_hand(void **state)
{
    (void)state;
    for (int hand = KS_RIGHT_HANDED; hand <= KS_LEFT_HANDED; hand++) {
        small_order s;
        small_begun(&s, 120, 1, 0, 1);
        s.order.rules.hand = (ks_handed)hand;
        cylinder_added(&s, "cup", 40, 60, 16);
        ks_plan *plan = planned(&s, 1, 1, 3);
        const ks_placed *first = first_in(&plan->loads[0]);
        assert_non_null(first);
        assert_true(first->stand.y > 0);
        assert_true(hand == KS_RIGHT_HANDED ? first->stand.x < 0 : first->stand.x > 0);
        ks_arena_finish(&s.arena);
    }
}

/* Each level's posts go in right after its shelves, before any ware of it. */
static void posts_go_in_before_ware(void **state)
{
    (void)state;
    small_order s;
    small_begun(&s, 460, 4, 6, 1);
    ware_of_many_heights(&s);
    ks_plan *plan = planned(&s, 1, 1, 2);
    const ks_load *load = &plan->loads[0];
    int seen = 0;
    for (int i = 0; i < load->n_steps; i++) {
        if (load->steps[i].put != KS_PUT_POSTS)
            continue;
        seen++;
        for (int k = 0; k < i; k++)
            assert_false(load->steps[k].put == KS_PUT_PIECE &&
                         load->steps[k].level == load->steps[i].level);
    }
    assert_true(seen >= 2);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_next_piece_is_near),
        cmocka_unit_test(the_walk_begins_on_the_side_of_the_other_hand),
        cmocka_unit_test(posts_go_in_before_ware),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
