#include "money_case.h"

#include "base/random.h"

#include <stdlib.h>

/* Many loads at random: shares add up to the bill under every rule, who has nothing pays nothing,
 * identical pieces of a load cost the same wherever they stand. */
static void random_case(money_case *on, ks_random *random)
{
    static const char *const ids[] = {"a", "b", "c", "d", "e"};
    case_opened(on);
    on->plan.n_loads = 1 + ks_random_below(random, CASE_LOADS);
    for (int m = 0; m < 5; m++)
        case_member(on, ids[m], ks_random_below(random, 4) == 0);
    for (int p = 0; p < 12; p++)
        case_piece(on, p % 5 == 4 ? "" : ids[ks_random_below(random, 4)],
                   ks_random_between(random, 5, 150), ks_random_between(random, 5, 400));
    for (int l = 0; l < on->plan.n_loads; l++) {
        on->points[l][1].power_kw = ks_random_between(random, 0, 20);
        for (int v = ks_random_below(random, CASE_LEVELS); v >= 0; v--) {
            int level = case_level(on, l, ks_random_between(random, 50, 500),
                                   ks_random_between(random, 100, 600));
            for (int n = ks_random_below(random, 20); n > 0; n--)
                case_put(on, l, level, ks_random_below(random, 12));
            if (ks_random_below(random, 2))
                case_cones(on, l, level);
        }
    }
    on->terms.guest_factor = ks_random_between(random, 0, 2);
    on->terms.member_least_minor = ks_random_below(random, 300);
    on->terms.empty_space = ks_random_below(random, 2) ? KS_PAID_STUDIO : KS_PAID_SPREAD;
    on->terms.cones = ks_random_below(random, 2) ? KS_PAID_STUDIO : KS_PAID_SPREAD;
    on->terms.rate_per_litre = ks_random_below(random, 1000) * (ks_fine)KS_FINE;
    on->terms.rate_least_minor = 1 + ks_random_below(random, 100);
    on->terms.pool = ks_random_below(random, 2) ? KS_LOADS_TOGETHER : KS_LOADS_EACH;
    on->options.rule = ks_random_below(random, KS_SHARE_RATE + 1);
}

static void alike_cost_alike(const ks_costing *costing)
{
    for (int i = 0; i < costing->n_pieces; i++)
        for (int j = 0; j < i; j++) {
            const ks_piece_cost *a = &costing->pieces[i], *b = &costing->pieces[j];
            bool slices_or_shelf = a->level != b->level && (costing->rule == KS_SHARE_SLICES ||
                                                            costing->rule == KS_SHARE_SHELF);
            if (a->piece == b->piece && a->load == b->load && !slices_or_shelf)
                assert_int_equal(a->firing, b->firing);
        }
}

static void shares_of_many_random_plans_add_up(void **state)
{
    (void)state;
    ks_random random = ks_random_of(5, 0);
    for (int round = 0; round < 1500; round++) {
        money_case on;
        random_case(&on, &random);
        case_costed(&on);
        int64_t loads = 0;
        for (int l = 0; l < on.plan.n_loads; l++)
            loads += on.costing.loads[l].total_minor;
        assert_int_equal(on.costing.total_minor, loads);
        assert_int_equal(case_shares_sum(&on), loads);
        assert_int_equal(case_share(&on, "e"), 0);
        alike_cost_alike(&on.costing);
        case_closed(&on);
    }
}

/* Firings of pieces are rounded one by one to a millionth of a cent: together they are the load's
 * bill within as many millionths as there are pieces, where nothing is left to the studio. */
static void pieces_carry_the_whole_firing(void **state)
{
    (void)state;
    ks_random random = ks_random_of(6, 0);
    for (int round = 0; round < 300; round++) {
        money_case on;
        random_case(&on, &random);
        on.plan.n_loads = 1;
        on.options.rule %= KS_SHARE_RATE;
        on.terms.cones = on.terms.empty_space = KS_PAID_SPREAD;
        on.terms.guest_factor += 0.5;
        case_costed(&on);
        ks_fine sum = 0;
        for (int i = 0; i < on.costing.n_pieces; i++)
            sum += on.costing.pieces[i].firing;
        if (on.costing.n_pieces > 0)
            assert_true(llabs(sum - ks_minor_fine(on.costing.loads[0].total_minor)) <=
                        on.costing.n_pieces);
        case_closed(&on);
    }
}

/* A piece more, of whomever: no other member pays more for the same bill. */
static void more_ware_of_others_never_raises_a_share(void **state)
{
    (void)state;
    ks_random random = ks_random_of(7, 0);
    for (int round = 0; round < 300; round++) {
        money_case on;
        random_case(&on, &random);
        on.options.rule = round % 2 ? KS_SHARE_BOX : KS_SHARE_MASS;
        on.terms.member_least_minor = 0;
        on.terms.empty_space = KS_PAID_SPREAD;
        on.terms.guest_factor = 1;
        case_costed(&on);
        int64_t before = case_share(&on, "a"), total = on.costing.total_minor;
        bool any = false;
        for (int i = 0; i < on.costing.n_pieces; i++)
            any = any || on.costing.pieces[i].load == 0;
        case_put(&on, 0, 0, case_piece(&on, "e", 50, 100));
        case_costed(&on);
        assert_true(on.costing.total_minor >= total);
        if (any)
            assert_true(case_share(&on, "a") <= before + 1); /* a cent may move by its remainder */
        case_closed(&on);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_of_many_random_plans_add_up),
        cmocka_unit_test(pieces_carry_the_whole_firing),
        cmocka_unit_test(more_ware_of_others_never_raises_a_share),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
