#include "check.h"

#include "place/draft/ranking.h"
#include "place/small_order.h"

/* Which plan is better is decided by ranks, one after another: whatever a plan has more of in a
 * later rank makes up for nothing in an earlier one. The order of ranks is that of docs/placing.md.
 */

enum { MUST, EARLY, LATER, PLAIN, LARGE, OWN, OVERDUE };

static void order_of_all_kinds(small_order *s)
{
    small_begun(s, 400, 4, 0, 2);
    s->order.slots[0].day = 100;
    s->order.slots[1].day = 110;
    cylinder_added(s, "must", 20, 40, 3)->must_go = true;
    cylinder_added(s, "early", 30, 40, 3)->due_day = 104;
    cylinder_added(s, "later", 40, 40, 3)->due_day = 112;
    cylinder_added(s, "plain", 50, 40, 9)->owner = "ann";
    cylinder_added(s, "large", 90, 40, 9)->owner = "ann";
    cylinder_added(s, "own", 20, 20, 9)->owner = "ben";
    cylinder_added(s, "overdue", 20, 20, 1)->due_day = 90;
}

/* One load in each slot: a level of shelves for each word of digits, which are pieces; "-" = not
 * fired. */
static ks_draft drafted(const ks_job *job, const char *const in[2], ks_arena *arena)
{
    ks_draft draft = ks_draft_empty(job, arena);
    for (int s = 0; s < 2; s++) {
        ks_draft_load *load = &draft.loads[s];
        load->levels = KS_TAKE(arena, strlen(in[s]) + 1, ks_draft_level);
        if (in[s][0] != '-')
            load->levels[load->n_levels++].at = (ks_stack_level){.under = -1, .posts = -1};
        for (const char *at = in[s]; *at && *at != '-'; at++) {
            ks_draft_level *level = &load->levels[load->n_levels - 1];
            if (*at == ' ') {
                load->levels[load->n_levels++].at =
                    (ks_stack_level){.z = 1000, .under = 0, .posts = -1};
                continue;
            }
            if (!level->layout.spots)
                level->layout.spots = KS_TAKE(arena, strlen(in[s]), ks_shelf_spot);
            level->layout.spots[level->layout.n_spots++] = (ks_shelf_spot){*at - '0', {0, 0, 0}};
        }
    }
    ks_draft_count(job, &draft);
    return draft;
}

static const struct {
    const char *what, *better[2], *worse[2];
    bool fair;
} pairs[] = {
    {"what must go before all else", {"0", "-"}, {"1112223334444", "333344444"}, false},
    {"an earlier day before a later one", {"1", "-"}, {"2224444", "2"}, false},
    {"in time before worth", {"2", "-"}, {"44444", "4444"}, false},
    {"in time before late", {"1", "-"}, {"-", "111444"}, false},
    {"late before worth", {"-", "1"}, {"4444", "44444"}, false},
    {"late in no load later than need be", {"6", "-"}, {"-", "6444"}, false},
    {"worth before loads", {"3333", "3"}, {"3333", "-"}, false},
    {"fewer loads before fewer shelves", {"3 3 3 3", "-"}, {"33", "33"}, false},
    {"fewer shelves", {"33", "-"}, {"3 3", "-"}, false},
    {"without fairness the larger", {"44", "-"}, {"45", "-"}, false},
    {"each owner one before anyone's second", {"45", "-"}, {"4444", "44444"}, true},
};

static void each_rank_comes_before_the_next(void **state)
{
    small_order s;
    order_of_all_kinds(&s);
    ks_place_options options = ks_place_default();
    ks_job job;
    ks_error err = {0};
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        s.order.rules.fair = pairs[i].fair;
        assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, &err), KS_OK);
        ks_draft better = drafted(&job, pairs[i].better, &s.arena),
                 worse = drafted(&job, pairs[i].worse, &s.arena);
        if (ks_ranking_compare(&job, &better, &worse) <= 0 ||
            ks_ranking_compare(&job, &worse, &better) >= 0)
            fail_msg("%s", pairs[i].what);
        assert_int_equal(ks_ranking_compare(&job, &better, &better), 0);
    }
    ks_arena_finish(&s.arena);
}

/* Worth is told in thousandths, so that what sums of numbers lose decides nothing. */
static void the_order_of_adding_up_decides_nothing(void **state)
{
    small_order s;
    order_of_all_kinds(&s);
    s.order.pieces[PLAIN].worth = 0.1;
    s.order.pieces[LARGE].worth = 0.2;
    s.order.pieces[OWN].worth = 0.7;
    ks_place_options options = ks_place_default();
    ks_job job;
    ks_error err = {0};
    assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, &err), KS_OK);
    static const char *const one[2] = {"345345", "-"}, *const other[2] = {"554433", "-"};
    ks_draft a = drafted(&job, one, &s.arena), b = drafted(&job, other, &s.arena);
    assert_int_equal(ks_ranking_compare(&job, &a, &b), 0);
    ks_arena_finish(&s.arena);
}

/* Three shelves side by side on one level, against two levels of one shelf each. */
static void fewest_levels_come_before_fewest_shelves_where_asked_for(void **state)
{
    for (int asked = 0; asked < 2; asked++) {
        small_order s;
        order_of_all_kinds(&s);
        s.order.rules.fewest_levels = asked;
        ks_support *three = &s.order.kilns[0].bays[0].supports[1];
        *three = s.order.kilns[0].bays[0].supports[0];
        three->n_shelves = 3;
        ks_place_options options = ks_place_default();
        ks_job job;
        ks_error err = {0};
        assert_int_equal(ks_job_init(&job, &s.order, &options, &s.arena, &err), KS_OK);
        static const char *const wide[2] = {"33", "-"}, *const high[2] = {"3 3", "-"};
        ks_draft a = drafted(&job, wide, &s.arena), b = drafted(&job, high, &s.arena);
        a.loads[0].levels[0].at.support = 1;
        int better = ks_ranking_compare(&job, &a, &b);
        assert_true(asked ? better > 0 : better < 0);
        ks_arena_finish(&s.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_rank_comes_before_the_next),
        cmocka_unit_test(fewest_levels_come_before_fewest_shelves_where_asked_for),
        cmocka_unit_test(the_order_of_adding_up_decides_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
