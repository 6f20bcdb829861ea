/* Kilns that nobody would build: the firing still ends, and its ledger closes. */
#include "check.h"

#include "base/random.h"
#include "fire/kilns.h"

static double spread(ks_random *r, double low, double high)
{
    return low * pow(high / low, ks_random_unit(r));
}

static plain_firing wild(ks_random *r)
{
    static const char *const bricks[] = {"IFB 20",         "IFB 23",      "IFB 28",
                                         "fireclay brick", "blanket 128", "calcium silicate"};
    static const char *const cones[] = {NULL, NULL, "018", "04", "6", "12"};
    plain_firing f = plain_198();
    f.across_mm = spread(r, 60, 3000);
    f.high_mm = spread(r, 60, 3000);
    f.wall_mm = spread(r, 1, 600);
    f.kw = spread(r, 0.05, 2000);
    f.emissivity = ks_random_between(r, 0.05, 1);
    f.leak_m3_h = spread(r, 0.01, 500);
    f.vent_m3_h = ks_random_unit(r) < 0.5 ? 0 : spread(r, 0.1, 5000);
    f.ware_kg = ks_random_unit(r) < 0.2 ? 0 : spread(r, 0.01, 5000);
    f.furniture_kg = ks_random_unit(r) < 0.2 ? 0 : spread(r, 0.01, 5000);
    f.levels = 1 + (int)ks_random_between(r, 0, 12);
    f.stage = (ks_stage)(int)ks_random_between(r, 0, 4.99);
    f.rate_c_h = ks_random_unit(r) < 0.2 ? 0 : spread(r, 1, 5000);
    f.top_c = ks_random_between(r, 0, 1700);
    f.hold_h = ks_random_unit(r) < 0.7 ? 0 : ks_random_between(r, 0, 20);
    f.brick = bricks[(int)ks_random_between(r, 0, 5.99)];
    f.cone = cones[(int)ks_random_between(r, 0, 5.99)];
    f.board_mm = ks_random_unit(r) < 0.5 ? 0 : ks_random_between(r, 1, 100);
    return f;
}

static void check_sane(const ks_firing_result *r)
{
    assert_true(isfinite(r->energy.total) && r->energy.total >= 0);
    assert_true(isfinite(r->hours) && r->hours >= 0 && r->hours < 700);
    if (!(r->ledger_residual < 1e-6))
        print_error("residual %g of %g kWh\n", r->ledger_residual, r->energy.total);
    assert_true(r->ledger_residual < 1e-6);
    for (int i = 0; i < r->n_points; i++)
        assert_true(r->points[i].chamber_c > -60 && r->points[i].chamber_c < 2500);
}

static void wild_kilns_end_and_their_ledgers_close(void **state)
{
    ks_random random = ks_random_of(7, 0);
    for (int i = 0; i < 60; i++) {
        plain_firing f = wild(&random);
        plain_case c;
        plain_case_make(&f, &c);
        c.options.room_c = ks_random_between(&random, -20, 45);
        c.options.cooling = i % 3 == 0;
        c.kiln.heat.kind = i % 4 == 3 ? KS_GAS : KS_ELECTRIC;
        c.kiln.heat.fuel = "propane";
        c.kiln.heat.excess_air = ks_random_between(&random, 0, 2);
        ks_firing_result r = plain_fire(&c);
        check_sane(&r);
        ks_arena_finish(&c.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wild_kilns_end_and_their_ledgers_close),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
