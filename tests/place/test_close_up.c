#include "check.h"

#include "place/small_order.h"

#include "place/draft/close_up.h"
#include "place/draft/pins.h"

/* No level is built for nothing: all shelves and posts of a plan carry ware, or a wish by number.
 */

static int bare_levels(const ks_plan *plan)
{
    int bare = 0;
    for (int l = 0; l < plan->n_loads; l++)
        for (int v = 0; v < plan->loads[l].n_levels; v++) {
            int ware = 0;
            for (int i = 0; i < plan->loads[l].levels[v].n_pieces; i++)
                ware += plan->loads[l].levels[v].pieces[i].role != KS_CONES;
            bare += ware == 0;
        }
    return bare;
}

static void a_bowl_alone_gets_one_shelf(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    cones_wanted(&s);
    cylinder_added(&s, "bowl", 90, 80, 1);
    ks_plan *plan = planned(&s, 4, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "bowl"), 1);
    assert_int_equal(plan->loads[0].n_levels, 1);
    assert_int_equal(plan->loads[0].n_posts, 3); /* those that keep the shelf off the floor */
    ks_arena_finish(&s.arena);
}

static void two_cups_and_some_tiles_leave_no_level_bare(void **state)
{
    for (uint64_t seed = 1; seed <= 6; seed++) {
        small_order s;
        small_begun(&s, 460, 4, seed < 4 ? 0 : 4, 1);
        if (seed % 2 == 0)
            cones_wanted(&s);
        cylinder_added(&s, "cup", 40, 95, 2);
        cylinder_added(&s, "tile", 60, 10, 7);
        ks_plan *plan = planned(&s, 3, 1, seed);
        assert_int_equal(rules_broken(&s, plan), 0);
        assert_int_equal(pieces_in(plan), 9);
        assert_int_equal(bare_levels(plan), 0);
        assert_true(seed >= 4 || plan->loads[0].n_levels <= 2);
        ks_arena_finish(&s.arena);
    }
}

/* Two levels half full each, of ware that has room on one. */
static void half_full_levels_become_one(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    cylinder_added(&s, "jar", 45, 140, 5);
    cylinder_added(&s, "cup", 40, 60, 5);
    ks_plan *plan = planned(&s, 3, 1, 2);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(pieces_in(plan), 10);
    assert_int_equal(plan->loads[0].n_levels, 1);
    ks_arena_finish(&s.arena);
}

static void a_wish_by_number_keeps_the_levels_below_it(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    ks_piece *jar = cylinder_added(&s, "jar", 50, 100, 1);
    jar->keep = (ks_keep){.kept = true, .load = 0, .level = 1, .bay = "", .stand = {0, 0, 0}};
    ks_plan *plan = planned(&s, 2, 1, 1);
    assert_int_equal(rules_broken(&s, plan), 0);
    assert_int_equal(placed_of(plan, "jar"), 1);
    assert_int_equal(plan->loads[0].n_levels, 2);
    assert_int_equal(bare_levels(plan), 1);
    ks_arena_finish(&s.arena);
}

static double one_each(void *context, const ks_stack_level *level)
{
    (void)context;
    (void)level;
    return 1;
}

static ks_level_need need(int bay, int number, double clear_mm, int tier)
{
    return (ks_level_need){.bay = bay, .number = number, .clear_mm = clear_mm, .tier = tier};
}

/* A load of one slot, its levels as the needs have them, nothing on them but packs asked for. */
static ks_draft built(small_order *s, ks_job *job, int n_needs, const ks_level_need *needs)
{
    ks_error err = {0};
    ks_place_options *options = KS_TAKE(&s->arena, 1, ks_place_options);
    *options = ks_place_default();
    assert_int_equal(ks_job_init(job, &s->order, options, &s->arena, &err), KS_OK);
    ks_draft draft = ks_draft_empty(job, &s->arena);
    const ks_furniture *furniture = job->kinds[0].furniture;
    int places = furniture->post_layouts[furniture->n_post_layouts - 1].places;
    ks_stack_wish wish = {job, &job->kinds[0], one_each, NULL, n_needs, needs, 0, &places, 0};
    ks_stack stack = ks_stack_best(&wish, &s->arena);
    assert_int_equal(stack.n_levels, n_needs);
    assert_true(ks_draft_build(job, &draft, 0, &stack, &s->arena));
    return draft;
}

static void stood_on(small_order *s, ks_draft *draft, int level, int item, double x, double y)
{
    ks_shelf_layout *layout = &draft->loads[0].levels[level].layout;
    ks_shelf_spot *spots = KS_TAKE(&s->arena, layout->n_spots + 1, ks_shelf_spot);
    for (int i = 0; i < layout->n_spots; i++)
        spots[i] = layout->spots[i];
    spots[layout->n_spots++] = (ks_shelf_spot){.item = item, .stand = {x, y, 0}};
    layout->spots = spots;
}

static int ware_of(const ks_job *job, const ks_draft *draft)
{
    int n = 0;
    for (int l = 0; l < draft->loads[0].n_levels; l++)
        for (int i = 0; i < draft->loads[0].levels[l].layout.n_spots; i++)
            n += draft->loads[0].levels[l].layout.spots[i].item != job->cone;
    return n;
}

/* A platter on the third level, over a sensor that keeps it from standing low. */
static ks_draft over_a_sensor(small_order *s, double to_mm, ks_job *job)
{
    ks_kiln *kiln = &s->order.kilns[0];
    kiln->n_keep_outs = 1;
    kiln->keep_outs = KS_TAKE(&s->arena, 1, ks_keep_out);
    ks_point *at = KS_TAKE(&s->arena, 4, ks_point);
    at[0] = (ks_point){150, -10};
    at[1] = (ks_point){210, -10};
    at[2] = (ks_point){210, 10};
    at[3] = (ks_point){150, 10};
    kiln->keep_outs[0] = (ks_keep_out){
        .kind = "sensor", .outline = {4, at, 0}, .from_mm = 62, .to_mm = to_mm, .clearance_mm = 0};
    cylinder_added(s, "platter", 180, 40, 1);
    ks_level_need needs[] = {need(0, 0, 10, 0), need(0, 1, 10, 1), need(0, 2, 60, 2)};
    ks_draft draft = built(s, job, 3, needs);
    assert_true(draft.loads[0].levels[2].at.z >= ks_um_of(to_mm));
    stood_on(s, &draft, 2, 0, 0, 0);
    ks_draft_count(job, &draft);
    return draft;
}

/* It needs one shelf below it, not two, where posts of 20 and 50 are all there are, and no more
 * than two stand on one another. */
static void of_two_bare_levels_one_leaves(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    ks_kiln *kiln = &s.order.kilns[0];
    for (int p = 1; p < kiln->n_posts; p++)
        kiln->posts[p].count = p == 1 ? 9 : 0;
    ks_job job = {0};
    ks_draft draft = over_a_sensor(&s, 130, &job);
    assert_true(ks_close_up(&job, &draft, 0, &s.arena));
    assert_int_equal(draft.loads[0].n_levels, 2);
    assert_int_equal(ware_of(&job, &draft), 1);
    assert_true(draft.loads[0].levels[1].at.z >= ks_um_of(130));
    ks_arena_finish(&s.arena);
}

/* And none where posts are long enough to bear its shelf from the floor. */
static void what_has_to_stand_high_stands_on_long_floor_posts(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    ks_job job = {0};
    ks_draft draft = over_a_sensor(&s, 85, &job);
    assert_true(ks_close_up(&job, &draft, 0, &s.arena));
    assert_int_equal(draft.loads[0].n_levels, 1);
    assert_int_equal(ware_of(&job, &draft), 1);
    assert_true(draft.loads[0].levels[0].at.z >= ks_um_of(85));
    ks_arena_finish(&s.arena);
}

/* Nine jars leave no room for the pack on their level, and the level below is too low for one of
 * them: it gets longer posts, and a jar. */
static void a_level_that_cannot_go_takes_a_piece(void **state)
{
    small_order s;
    small_begun(&s, 460, 4, 0, 1);
    cones_wanted(&s);
    s.order.rules.cones.top = false;
    cylinder_added(&s, "jar", 64.5, 140, 9);
    cylinder_added(&s, "cup", 20, 66, 1); /* waits; for its like the level below is high enough */
    ks_level_need needs[] = {need(0, 0, 70, 0), need(0, 1, 150, 1)};
    ks_job job = {0};
    ks_draft draft = built(&s, &job, 2, needs);
    assert_true(ks_mm_of(draft.loads[0].levels[0].at.gap) < 140);
    stood_on(&s, &draft, 0, job.cone, 0, 0);
    for (int i = 0; i < 9; i++)
        stood_on(&s, &draft, 1, 0, 135 * (i % 3 - 1), 135 * (i / 3 - 1));
    ks_draft_count(&job, &draft);
    assert_true(ks_close_up(&job, &draft, 0, &s.arena));
    assert_int_equal(draft.loads[0].n_levels, 2);
    assert_int_equal(ware_of(&job, &draft), 9);
    for (int l = 0; l < 2; l++)
        assert_false(ks_level_is_bare(&job, &draft.loads[0].levels[l]));
    ks_arena_finish(&s.arena);
}

/* A shelf with nothing but a pack, and over it a half that is full and one that is not: on the
 * halves alone, the pack has room only where a cup makes some for it. */
static void a_cup_changes_shelves_for_the_pack(void **state)
{
    small_order s;
    small_begun(&s, 460, 1, 4, 1);
    cones_wanted(&s);
    s.order.rules.cones.top = false;
    cylinder_added(&s, "cup", 45.5, 60, 9);
    ks_level_need needs[] = {need(0, 0, 70, 0), need(1, 0, 65, 1), need(2, 0, 65, 1)};
    ks_job job = {0};
    ks_draft draft = built(&s, &job, 3, needs);
    stood_on(&s, &draft, 0, job.cone, 0, 0);
    for (int l = 1; l < 3; l++)
        for (int i = 0; i < 8; i++)
            if (draft.loads[0].levels[l].at.bay == 1 || i == 0)
                stood_on(&s, &draft, l, 0,
                         (draft.loads[0].levels[l].at.bay == 1 ? -100 : 100) + (i % 2 ? 49 : -49),
                         -147 + 98 * (i / 2));
    ks_draft_count(&job, &draft);
    assert_true(ks_close_up(&job, &draft, 0, &s.arena));
    assert_int_equal(draft.loads[0].n_levels, 2);
    assert_int_equal(ware_of(&job, &draft), 9);
    ks_arena_finish(&s.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bowl_alone_gets_one_shelf),
        cmocka_unit_test(two_cups_and_some_tiles_leave_no_level_bare),
        cmocka_unit_test(half_full_levels_become_one),
        cmocka_unit_test(a_wish_by_number_keeps_the_levels_below_it),
        cmocka_unit_test(of_two_bare_levels_one_leaves),
        cmocka_unit_test(what_has_to_stand_high_stands_on_long_floor_posts),
        cmocka_unit_test(a_level_that_cannot_go_takes_a_piece),
        cmocka_unit_test(a_cup_changes_shelves_for_the_pack),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
