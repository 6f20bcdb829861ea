/* Whole firings: the ledger, what drives the bill, limits of power, cooling. */
#include "check.h"

#include "fire/kilns.h"

#include <stdlib.h>
#include <string.h>

static double sum_of(const ks_energy *e)
{
    return e->ware + e->furniture + e->lining + e->casing + e->vent + e->chemistry + e->flue;
}

static void the_ledger_closes_at_every_step(void **state)
{
    for (int levels = 1; levels <= 7; levels += 2)
        for (int stage = KS_LEATHER; stage <= KS_FIRED; stage++) {
            plain_firing f = plain_198();
            f.levels = levels;
            f.stage = (ks_stage)stage;
            f.vent_m3_h = 3;
            plain_case c;
            plain_case_make(&f, &c);
            c.options.cooling = true;
            ks_firing_result r = plain_fire(&c);
            assert_true(r.ledger_residual < 1e-6);
            check_near(sum_of(&r.energy) / r.energy.total, 1, 1e-6);
            ks_arena_finish(&c.arena);
        }
}

static void the_ledger_closes_when_power_runs_out(void **state)
{
    plain_firing f = plain_198();
    f.kw = 4;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.cooling = true;
    ks_firing_result r = plain_fire(&c);
    assert_false(r.reached);
    assert_true(r.ledger_residual < 1e-6);
    ks_arena_finish(&c.arena);
}

static void halving_step_and_grid_changes_little(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.top_c = 1222;
    f.hold_h = 0.25;
    plain_case c;
    plain_case_make(&f, &c);
    double coarse = plain_fire(&c).energy.total;
    c.options.step_s = 30;
    c.options.cells = 24;
    double fine = plain_fire(&c).energy.total;
    check_near(fine / coarse, 1, 0.002);
    ks_arena_finish(&c.arena);
}

static void halving_changes_little_where_a_cone_ends_the_firing(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.cone = "6";
    f.rate_c_h = 100;
    f.top_c = 1270;
    plain_case c;
    plain_case_make(&f, &c);
    ks_firing_result coarse = plain_fire(&c);
    c.options.step_s = 30;
    c.options.cells = 24;
    ks_firing_result fine = plain_fire(&c);
    assert_true(coarse.reached && fine.reached);
    check_near(fine.energy.total / coarse.energy.total, 1, 0.002);
    check_near(fine.hours, coarse.hours, 0.02);
    ks_arena_finish(&c.arena);
}

/* What an independent lumped model of a 198 litre kiln said (150 C/h to 1093 C): signs and rough
 * size. */
static void what_drives_the_bill_has_the_right_sign_and_size(void **state)
{
    const plain_firing base = plain_198();
    double kwh = plain_kwh(&base);
    const struct {
        double furniture_kg, wall_mm, emissivity, vent_m3_h, rate_c_h, top_c;
        double wanted, within;
    } rows[] = {
        {25, 76, 0.4, 0, 150, 1093, 0.09, 0.02},     /* 10 kg more furniture */
        {15, 64, 0.4, 0, 150, 1093, 0.034, 0.02},    /* thinner wall */
        {15, 114, 0.4, 0, 150, 1093, -0.039, 0.025}, /* thicker wall */
        {15, 76, 0.9, 0, 150, 1093, 0.008, 0.005},   /* painted casing */
        {15, 76, 0.4, 5, 150, 1093, 0.18, 0.03},     /* air drawn through */
        {15, 76, 0.4, 0, 75, 1093, 0.49, 0.10},      /* half the rate */
        {15, 76, 0.4, 0, 300, 1093, -0.25, 0.05},    /* twice the rate */
        {15, 76, 0.4, 0, 150, 1222, 0.21, 0.02},     {15, 76, 0.4, 0, 150, 999, -0.14, 0.02},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        plain_firing f = base;
        f.furniture_kg = rows[i].furniture_kg;
        f.wall_mm = rows[i].wall_mm;
        f.emissivity = rows[i].emissivity;
        f.vent_m3_h = rows[i].vent_m3_h;
        f.rate_c_h = rows[i].rate_c_h;
        f.top_c = rows[i].top_c;
        if (f.rate_c_h > 200)
            f.kw = 14; /* so that it follows */
        check_near(plain_kwh(&f) / kwh - 1, rows[i].wanted, rows[i].within);
    }
}

/* Brick of 800 kg/m3 in place of 585: an independent model had +9 % at its own first density. */
static void denser_brick_costs_more(void **state)
{
    plain_firing f = plain_198();
    plain_case c;
    plain_case_make(&f, &c);
    double light = plain_fire(&c).energy.total;
    c.options.store_factor = 800.0 / 585;
    double change = plain_fire(&c).energy.total / light - 1;
    check_near(change, 0.10, 0.03);
    ks_arena_finish(&c.arena);
}

/* P = V^2 / R: 208 V on elements for 240 V give 0.7511, 220 V 0.8403, 230 V 0.9184; worn by 10 %
 * 0.909. */
static void power_goes_by_the_square_of_volts(void **state)
{
    const double rows[][3] = {
        {208, 0, 0.7511}, {220, 0, 0.8403}, {230, 0, 0.9184}, {240, 0.1, 0.909}, {240, 0, 1}};
    plain_firing f = plain_198();
    f.top_c = 200;
    plain_case c;
    plain_case_make(&f, &c);
    for (int i = 0; i < 5; i++) {
        c.options.volts = rows[i][0];
        c.options.elements_worn = rows[i][1];
        ks_firing_result r = plain_fire(&c);
        check_near(r.peak_kw / 11.5, rows[i][2], 1e-4 + (i == 3 ? 1e-3 : 0));
        check_near(r.amps, r.peak_kw * 1000 / rows[i][0], 1e-6);
        check_near(r.circuit_amps, 1.25 * r.amps, 1e-9);
    }
    ks_arena_finish(&c.arena);
}

static void three_phases_share_the_current(void **state)
{
    plain_firing f = plain_198();
    f.top_c = 200;
    plain_case c;
    plain_case_make(&f, &c);
    c.kiln.heat.phases = 3;
    check_near(plain_fire(&c).amps, 11500 / 240.0 / sqrt(3), 1e-6);
    ks_arena_finish(&c.arena);
}

/* An independent model: with 11.5, 8.65 and 7.0 kW cone 6 takes longer and longer, and with 6.0 kW
 * it never comes. A real small kiln on 11 % less power took twice as long (a potter's log). */
static void weak_power_has_a_cliff(void **state)
{
    const double kw[] = {11.5, 8.65, 7.0, 6.0};
    double hours[4];
    bool reached[4];
    for (int i = 0; i < 4; i++) {
        plain_firing f = plain_198();
        f.stage = KS_GLAZED;
        f.furniture_kg = 30;
        f.leak_m3_h = 1;
        f.top_c = 1222;
        f.kw = kw[i];
        plain_case c;
        plain_case_make(&f, &c);
        ks_firing_result r = plain_fire(&c);
        hours[i] = r.hours;
        reached[i] = r.reached;
        assert_int_equal(r.segments[0].followed, i == 0);
        assert_int_equal(*r.segments[0].instead != 0, i != 0);
        ks_arena_finish(&c.arena);
    }
    assert_true(reached[0] && reached[1] && reached[2] && !reached[3]);
    double first = hours[1] / hours[0], second = hours[2] / hours[1];
    assert_true(first > 1 && first < 1.15);
    assert_true(second > 1.25 && second < 1.7);
}

/* A potter's report: about 280 litres after a slow cone 06 are at 66 C after about 24 h. */
static void a_large_kiln_cools_in_a_day(void **state)
{
    plain_firing f = plain_198();
    f.across_mm = 710;
    f.high_mm = 707;
    f.ware_kg = 40;
    f.furniture_kg = 30;
    f.leak_m3_h = 0.5;
    f.stage = KS_DRY;
    f.rate_c_h = 80;
    f.top_c = 999;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.cooling = true;
    ks_firing_result r = plain_fire(&c);
    double at_66 = NAN;
    for (int i = 1; i < r.n_points; i++)
        if (r.points[i].time_h > r.hours && r.points[i].chamber_c <= 66 && isnan(at_66))
            at_66 = r.points[i].time_h - r.hours;
    check_near(at_66, 24, 4);
    assert_true(r.open_after_hours > at_66);
    ks_arena_finish(&c.arena);
}

/* Another report: a kiln with 76 mm of brick at 183 C loses 22 K in 45 minutes. */
static void a_warm_kiln_cools_as_reported(void **state)
{
    plain_firing f = plain_198();
    f.leak_m3_h = 0.5;
    f.top_c = 999;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.cooling = true;
    ks_firing_result r = plain_fire(&c);
    for (int i = 1; i + 3 < r.n_points; i++)
        if (r.points[i].time_h > r.hours && r.points[i].chamber_c < 183) {
            double share = 183 / r.points[i].chamber_c; /* nearly exponential */
            check_near(share * (r.points[i].chamber_c - r.points[i + 3].chamber_c), 22, 6);
            break;
        }
    ks_arena_finish(&c.arena);
}

static void ware_lags_the_air_and_the_middle_lags_the_edge(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.ware_kg = 40;
    f.furniture_kg = 35;
    plain_case c;
    plain_case_make(&f, &c);
    ks_firing_result r = plain_fire(&c);
    for (int i = 1; i < r.n_points; i++) {
        const ks_fire_point *p = &r.points[i];
        if (p->chamber_c < 100 || p->chamber_c > 1000)
            continue;
        for (int l = 0; l < r.n_levels; l++) {
            assert_true(p->edge_c[l] < p->chamber_c + 15);
            assert_true(p->middle_c[l] < p->edge_c[l]);
        }
    }
    for (int l = 0; l < r.n_levels; l++)
        assert_true(r.levels[l].lag_k > 5);
    ks_arena_finish(&c.arena);
}

static void a_cone_ends_the_firing_and_a_hold_is_credited(void **state)
{
    plain_firing straight = plain_198();
    straight.stage = KS_GLAZED;
    straight.rate_c_h = 60;
    straight.cone = "6";
    straight.top_c = 1270;
    plain_firing held = straight;
    held.top_c = 1200;
    held.hold_h = 2;
    plain_case a, b;
    plain_case_make(&straight, &a);
    plain_case_make(&held, &b);
    ks_firing_result p = plain_fire(&a), q = plain_fire(&b);
    assert_true(p.reached && q.reached);
    check_near(p.top_c, 1224, 8); /* the chart's 1222 C, and the ware's lag */
    check_near(q.top_c, 1200, 1);
    assert_true(q.hours > p.hours);
    assert_true(q.hours < p.hours + 2);
    double mean = 0;
    for (int l = 0; l < p.n_levels; l++)
        mean += p.levels[l].cone_edge / p.n_levels;
    check_near(mean, ks_cone_find("6"), 0.1); /* once all is over: what the cooling adds counts */
    ks_arena_finish(&a.arena);
    ks_arena_finish(&b.arena);
}

static void a_cone_out_of_reach_is_told(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.cone = "10";
    f.top_c = 1200;
    plain_case c;
    plain_case_make(&f, &c);
    ks_firing_result r = plain_fire(&c);
    assert_false(r.reached);
    assert_non_null(strstr(r.verdict, "not reached"));
    ks_arena_finish(&c.arena);
}

static ks_firing_result fired_to(plain_case *c, const char *asked, double top_c)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.rate_c_h = 100;
    f.top_c = top_c;
    f.cone = asked;
    plain_case_make(&f, c);
    c->schedule.end_cone = "";
    return plain_fire(c);
}

/* A programme that ends by temperature is judged by what the ware saw, under and over: by the
 * chart, 1285 C is cone 10, 1063 C cone 04. What is told as a change has been fired anew. */
static void the_verdict_is_what_the_ware_saw_not_the_programmes_end(void **state)
{
    const struct {
        const char *asked;
        double top_c;
        ks_seen seen;
    } rows[] = {{"6", 1077, KS_UNDER}, {"06", 1285, KS_OVER}, {"6", 1234, KS_IN_RANGE}};
    for (int i = 0; i < 3; i++) {
        plain_case c;
        ks_firing_result r = fired_to(&c, rows[i].asked, rows[i].top_c);
        assert_int_equal(r.seen, rows[i].seen);
        assert_int_equal(r.reached, rows[i].seen == KS_IN_RANGE);
        assert_int_equal(r.n_outside > 0, rows[i].seen != KS_IN_RANGE);
        assert_int_equal(*r.change != 0, rows[i].seen != KS_IN_RANGE);
        ks_arena_finish(&c.arena);
    }
}

static void the_change_that_is_told_brings_every_piece_inside(void **state)
{
    plain_case c, changed;
    ks_firing_result r = fired_to(&c, "6", 1285);
    double end_c;
    assert_int_equal(sscanf(r.change, "end at %lf", &end_c), 1);
    assert_true(end_c > 1210 && end_c < 1260);
    assert_true(fired_to(&changed, "6", end_c).reached);
    check_near(r.cure->segments[0].target_c, end_c, 1e-9);
    ks_arena_finish(&c.arena);
    ks_arena_finish(&changed.arena);
}

/* A cone that bends too late for its ware: what is told ends by temperature, and does as told. */
static void a_change_of_a_firing_that_ends_by_cone_can_be_done(void **state)
{
    plain_firing f = plain_198();
    plain_case c;
    f.stage = KS_GLAZED;
    f.cone = "5";
    plain_case_make(&f, &c);
    c.segment = (ks_segment){80, 1280, 0.5};
    c.schedule.end_cone = "7";
    ks_firing_result r = plain_fire(&c);
    assert_int_equal(r.seen, KS_OVER);
    double end_c;
    assert_int_equal(sscanf(r.change, "end at %lf °C without a hold", &end_c), 1);
    c.options.schedule = &(ks_schedule){"told", "", 1, &(ks_segment){80, end_c, 0}, ""};
    assert_true(plain_fire(&c).reached);
    c.options.schedule = r.cure;
    assert_true(plain_fire(&c).reached);
    ks_arena_finish(&c.arena);
}

/* What heats on after the cone has gone down is part of what the cone asks for: a slow fall ends
 * the heating earlier, and the ware sees the same. */
static void a_slow_fall_ends_the_heating_earlier(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.cone = "6";
    plain_case free, slow;
    plain_case_make(&f, &free);
    plain_case_make(&f, &slow);
    ks_segment rise = {60, 1270, 0}, fall = {-40, 1000, 0};
    ks_segment segments[] = {rise, fall};
    free.segment = rise;
    slow.schedule.segments = segments;
    slow.schedule.n_segments = 2;
    ks_firing_result a = plain_fire(&free), b = plain_fire(&slow);
    assert_true(b.cone_down_h < a.cone_down_h - 0.2);
    for (int l = 0; l < a.n_levels; l++)
        check_near(a.levels[l].cone_edge, b.levels[l].cone_edge, 0.12);
    ks_arena_finish(&free.arena);
    ks_arena_finish(&slow.arena);
}

static void cone_down_programme_ended_and_open_are_three_times(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.cone = "6";
    plain_case c;
    plain_case_make(&f, &c);
    ks_segment segments[] = {{100, 1270, 0}, {-60, 800, 0}};
    c.schedule.segments = segments;
    c.schedule.n_segments = 2;
    c.options.cooling = true;
    ks_firing_result r = plain_fire(&c);
    check_near(r.cone_down_h, r.segments[1].from_h, 0.02);
    check_near(r.hours - r.cone_down_h, (r.top_c - 800) / 60, 0.5);
    assert_true(r.open_after_hours > 5);
    ks_arena_finish(&c.arena);
}

static void controlled_cooling_is_followed_where_the_kiln_is_slower_by_itself(void **state)
{
    plain_firing f = plain_198();
    plain_case c;
    plain_case_make(&f, &c);
    ks_segment segments[] = {{150, 1093, 0}, {-60, 900, 0.5}, {-2000, 700, 0}, {0, 600, 0}};
    c.schedule.segments = segments;
    c.schedule.n_segments = 4;
    ks_firing_result r = plain_fire(&c);
    assert_int_equal(r.n_segments, 4);
    assert_true(r.segments[1].followed);
    check_near(r.segments[1].hours, 193 / 60.0 + 0.5, 0.1);
    assert_false(r.segments[2].followed);
    assert_true(strstr(r.segments[2].instead, "by itself") != NULL);
    assert_true(r.segments[3].followed);
    check_near(r.segments[3].to_c, 600, 8);
    assert_true(r.ledger_residual < 1e-6);
    ks_arena_finish(&c.arena);
}

static void the_range_comes_from_the_spread_of_inputs(void **state)
{
    plain_firing f = plain_198();
    f.leak_m3_h = 1;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.range = true;
    ks_firing_result r = plain_fire(&c);
    assert_true(r.n_doubts >= 5);
    double below = 0;
    for (int i = 0; i < r.n_doubts; i++) {
        assert_true(r.doubts[i].low_kwh <= r.energy.total + 1e-9);
        assert_true(r.doubts[i].high_kwh >= r.energy.total - 1e-9);
        below += pow(r.energy.total - r.doubts[i].low_kwh, 2);
    }
    check_near(r.low_kwh, r.energy.total - 1.645 * sqrt(below), 1e-6);
    assert_true(r.low_kwh > 0.8 * r.energy.total && r.low_kwh < 0.97 * r.energy.total);
    assert_true(r.high_kwh < 1.2 * r.energy.total && r.high_kwh > 1.03 * r.energy.total);
    ks_arena_finish(&c.arena);
}

/* On the edge of what it can: where one side of a doubt means that it never gets there, that side
 * is told and does not count; and there is more to lose than to win. */
static void a_range_on_the_edge_is_not_symmetric(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.furniture_kg = 30;
    f.leak_m3_h = 1;
    f.top_c = 1222;
    f.kw = 7.0;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.range = true;
    ks_firing_result r = plain_fire(&c);
    assert_true(r.reached);
    assert_true(r.high_kwh - r.energy.total > 1.3 * (r.energy.total - r.low_kwh));
    bool fails = false;
    for (int i = 0; i < r.n_doubts; i++)
        fails = fails || r.doubts[i].fails;
    f.kw = 6.35;
    plain_case weaker;
    plain_case_make(&f, &weaker);
    weaker.options.range = true;
    ks_firing_result w = plain_fire(&weaker);
    for (int i = 0; i < w.n_doubts; i++)
        fails = fails || w.doubts[i].fails;
    assert_true(!w.reached || fails);
    ks_arena_finish(&c.arena);
    ks_arena_finish(&weaker.arena);
}

/* Whatever the doubts, a kiln short of volts takes no less than one that has them. */
static void the_range_of_a_weak_kiln_does_not_go_below_a_strong_ones(void **state)
{
    plain_firing f = plain_198();
    f.stage = KS_GLAZED;
    f.cone = "6";
    f.ware_kg = 40;
    f.furniture_kg = 40;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.range = true;
    ks_firing_result strong = plain_fire(&c);
    c.options.volts = 190;
    ks_firing_result weak = plain_fire(&c);
    assert_true(weak.energy.total > strong.high_kwh);
    assert_true(weak.low_kwh > strong.low_kwh - 0.1);
    ks_arena_finish(&c.arena);
}

static void the_doubt_of_the_linings_conduction_grows_with_the_top(void **state)
{
    double part[2];
    for (int i = 0; i < 2; i++) {
        plain_firing f = plain_198();
        f.top_c = i ? 1285 : 800;
        plain_case c;
        plain_case_make(&f, &c);
        c.options.range = true;
        ks_firing_result r = plain_fire(&c);
        assert_non_null(strstr(r.doubts[0].input, "conductivity"));
        part[i] = atof(r.doubts[0].spread);
        ks_arena_finish(&c.arena);
    }
    check_near(part[0], 8, 0);
    assert_true(part[1] >= 10);
}

static void the_zone_that_cannot_follow_is_named_and_what_helps(void **state)
{
    plain_firing f = plain_198();
    ks_keep_out sensors[3];
    for (int i = 0; i < 3; i++)
        sensors[i] =
            (ks_keep_out){.kind = "sensor", .from_mm = 115 + 225 * i, .to_mm = 125 + 225 * i};
    f.rate_c_h = 250;
    f.kw = 9;
    plain_case c;
    plain_case_make(&f, &c);
    c.kiln.n_keep_outs = 3;
    c.kiln.keep_outs = sensors;
    c.zones[0].share = 0.25;
    c.zones[1].share = c.zones[2].share = 0.375;
    ks_firing_result r = plain_fire(&c);
    assert_false(r.segments[0].followed);
    assert_non_null(strstr(r.segments[0].instead, "bottom zone last"));
    assert_non_null(strstr(r.segments[0].instead, "or ask for"));
    c.options.volts = 208;
    assert_non_null(strstr(plain_fire(&c).segments[0].instead, "rated 240 V"));
    c.options.elements_worn = 0.15;
    const char *both = plain_fire(&c).segments[0].instead;
    assert_non_null(strstr(both, "rated 240 V in place of 208 V"));
    assert_non_null(strstr(both, "new elements"));
    ks_arena_finish(&c.arena);
}

static void the_same_question_has_the_same_answer(void **state)
{
    plain_firing f = plain_198();
    double first = plain_kwh(&f);
    for (int i = 0; i < 3; i++)
        assert_true(plain_kwh(&f) == first);
}

static void nonsense_is_refused_in_words(void **state)
{
    plain_firing f = plain_198();
    plain_case c;
    plain_case_make(&f, &c);
    ks_firing_result r;
    ks_arena *a = &c.arena;
    const ks_segment bad[] = {{100, NAN, 0}, {NAN, 500, 0},  {100, 5000, 0},  {100, -5, 0},
                              {1e9, 500, 0}, {100, 500, -1}, {100, 500, 1e9}, {0.01, 500, 0}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        ks_error err = {0};
        c.segment = bad[i];
        assert_int_equal(ks_fire_bulk(&c.kiln, &c.bulk, &c.options, a, &r, &err), KS_BAD_INPUT);
        assert_non_null(strstr(err.text, "must "));
    }
    c.segment = (ks_segment){100, 500, 0};
    c.layers[0].material = "cheese";
    ks_error err = {0};
    assert_int_equal(ks_fire_bulk(&c.kiln, &c.bulk, &c.options, a, &r, &err), KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "cheese"));
    c.layers[0].material = "IFB 23";
    c.schedule.end_cone = "99";
    assert_int_equal(ks_fire_bulk(&c.kiln, &c.bulk, &c.options, a, &r, &err), KS_BAD_INPUT);
    c.schedule.end_cone = "";
    c.options.volts = NAN;
    assert_int_equal(ks_fire_bulk(&c.kiln, &c.bulk, &c.options, a, &r, &err), KS_BAD_USAGE);
    ks_arena_finish(&c.arena);
}

static bool warns_of(const ks_firing_result *r, const char *word)
{
    for (int i = 0; i < r->n_cautions; i++)
        if (strstr(r->cautions[i], word))
            return true;
    return false;
}

/* Calcium silicate bears 927 C (ASTM C656): behind 20 mm of brick it does not. Grade 23 at cone 6
 * is what most studio kilns are; at cone 10 it is over its limit. */
static void layers_that_get_too_hot_are_named_and_usual_ones_are_not(void **state)
{
    const struct {
        const char *cone;
        double wall_mm, board_mm;
        bool face, board;
    } rows[] = {{"6", 76, 0, false, false},
                {"6", 64, 25, false, false},
                {"6", 20, 50, false, true},
                {"10", 76, 0, true, false}};
    for (int i = 0; i < 4; i++) {
        plain_firing f = plain_198();
        f.stage = KS_GLAZED;
        f.cone = rows[i].cone;
        f.rate_c_h = 110;
        f.top_c = 1340;
        f.wall_mm = rows[i].wall_mm;
        f.board_mm = rows[i].board_mm;
        plain_case c;
        plain_case_make(&f, &c);
        ks_firing_result r = plain_fire(&c);
        assert_int_equal(warns_of(&r, "hot face of the wall"), rows[i].face);
        assert_int_equal(warns_of(&r, "backing, calcium silicate"), rows[i].board);
        for (int l = 0; l < r.n_layers; l++)
            assert_true(r.layers[l].hot_face || r.layers[l].peak_c < r.layers[l - 1].peak_c);
        ks_arena_finish(&c.arena);
    }
}

static void an_empty_kiln_fires_too(void **state)
{
    plain_firing f = plain_198();
    f.ware_kg = f.furniture_kg = 0;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.cooling = true;
    ks_firing_result r = plain_fire(&c);
    assert_true(r.reached);
    check_near(r.energy.ware + r.energy.furniture, 0, 1e-9);
    assert_true(r.energy.total > 15 && r.energy.total < 35);
    ks_arena_finish(&c.arena);
}

static void gaps_in_a_kilns_file_are_filled_and_told(void **state)
{
    plain_firing f = plain_198();
    plain_case c;
    plain_case_make(&f, &c);
    c.kiln.heat = (ks_heat){.kind = KS_ELECTRIC};
    ks_firing_result r = plain_fire(&c);
    assert_true(r.reached);
    assert_true(r.n_assumed >= 5);
    ks_arena_finish(&c.arena);
}

/* A potters' forum: burners of a 230 mm soft-brick kiln that is to reach cone 10 give 10 000 to 16
 * 000 Btu/h and cubic foot, 103 to 166 kW/m3, for 6 to 16 h. */
static void a_gas_kiln_reaches_cone_10_with_the_usual_burners(void **state)
{
    plain_firing f = plain_198();
    f.across_mm = 900;
    f.high_mm = 1000;
    f.wall_mm = 230;
    f.brick = "IFB 26";
    f.kw = 0.636 * 135;
    f.ware_kg = 90;
    f.furniture_kg = 120;
    f.leak_m3_h = 2;
    f.stage = KS_GLAZED;
    f.rate_c_h = 110;
    f.top_c = 1320;
    f.cone = "10";
    plain_case c;
    plain_case_make(&f, &c);
    c.kiln.heat.kind = KS_GAS;
    c.kiln.heat.fuel = "propane";
    c.kiln.heat.excess_air = 0.2;
    ks_firing_result r = plain_fire(&c);
    assert_true(r.reached);
    assert_true(r.hours > 6 && r.hours < 20);
    assert_true(r.energy.flue > 0.3 * r.energy.total);
    assert_true(r.ledger_residual < 1e-6);
    check_near(r.fuel_kg, r.energy.total / 13.97, 0.01);
    ks_arena_finish(&c.arena);
}

static plain_firing gas_cubic_metre(plain_case *c, const char *atmosphere)
{
    plain_firing f = plain_198();
    f.across_mm = 1000;
    f.high_mm = 1000;
    f.wall_mm = 230;
    f.brick = "IFB 26";
    f.kw = 95;
    f.ware_kg = 120;
    f.furniture_kg = 150;
    f.leak_m3_h = 8;
    f.stage = KS_GLAZED;
    f.rate_c_h = 120;
    f.top_c = 1320;
    f.cone = "10";
    plain_case_make(&f, c);
    c->kiln.heat.kind = KS_GAS;
    c->kiln.heat.fuel = "propane";
    c->kiln.heat.excess_air = 0.25;
    c->bulk.firing.atmosphere = atmosphere;
    return f;
}

/* Burners draw their air themselves: what leaks later costs nothing now. A gas kiln to cone 10
 * takes 1.16 to 1.55 kWh a litre by a burner rule (a potters' forum), within a factor of two. */
static void a_gas_kilns_leaks_count_only_once_it_is_off(void **state)
{
    plain_case tight, leaky;
    gas_cubic_metre(&tight, "oxidation");
    gas_cubic_metre(&leaky, "oxidation");
    leaky.kiln.heat.leak_m3_h = 20;
    tight.options.cooling = leaky.options.cooling = true;
    tight.schedule.end_cone = leaky.schedule.end_cone = "";
    tight.segment.target_c = leaky.segment.target_c = 1290;
    ks_firing_result a = plain_fire(&tight), b = plain_fire(&leaky);
    check_near(a.energy.total, b.energy.total, 1e-6 * a.energy.total);
    assert_true(b.open_after_hours < a.open_after_hours - 2);
    double litres = 785;
    assert_true(a.energy.total > 0.5 * 1.16 * litres && a.energy.total < 2 * 1.55 * litres);
    leaky.options.cool_by = KS_COOLS_SHUT;
    assert_true(plain_fire(&leaky).open_after_hours > b.open_after_hours + 5);
    leaky.options.cool_by = KS_COOLS_DAMPER; /* from the end on, not only below 250 C */
    assert_true(plain_fire(&leaky).open_after_hours < b.open_after_hours - 1);
    ks_arena_finish(&tight.arena);
    ks_arena_finish(&leaky.arena);
}

/* 8 % short of air instead of 25 % over from 900 C up: near what 20 % over costs (37 against 33 %
 * of heat left at 1200 C), so a little less fuel, and time. */
static void reduction_is_fired_short_of_air(void **state)
{
    plain_case with, without;
    gas_cubic_metre(&with, "reduction");
    gas_cubic_metre(&without, "oxidation");
    ks_firing_result a = plain_fire(&with), b = plain_fire(&without);
    double change = a.energy.total / b.energy.total - 1;
    assert_true(change < -0.005 && change > -0.12);
    assert_true(a.ledger_residual < 1e-6);
    ks_arena_finish(&with.arena);
    ks_arena_finish(&without.arena);
}

static void a_vent_shut_early_saves_and_a_propped_lid_cools(void **state)
{
    plain_firing f = plain_198();
    f.vent_m3_h = 2.5;
    f.leak_m3_h = 0.5;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.cooling = true;
    ks_firing_result on = plain_fire(&c);
    c.options.vent_off_c = 600;
    ks_firing_result off = plain_fire(&c);
    assert_true(off.energy.total < on.energy.total - 0.5);
    check_near(off.open_after_hours, on.open_after_hours, 1);
    c.options.cool_by = KS_COOLS_VENT;
    ks_firing_result vented = plain_fire(&c);
    c.options.cool_by = KS_COOLS_LID_OPEN;
    c.options.cool_from_c = 200;
    ks_firing_result propped = plain_fire(&c);
    assert_true(vented.open_after_hours < off.open_after_hours - 1);
    assert_true(propped.open_after_hours < off.open_after_hours - 1);
    assert_true(propped.ledger_residual < 1e-6);
    ks_arena_finish(&c.arena);
}

/* A lid propped once little harm is left saves hours, and never as many as one that is open from
 * the end on; heat that leaves through the walls alone is doubted as their conduction is. */
static void a_shut_kiln_tells_how_far_its_opening_is_out_and_what_a_lid_saves(void **state)
{
    plain_firing f = plain_198();
    f.ware_kg = 40;
    f.furniture_kg = 30;
    plain_case c;
    plain_case_make(&f, &c);
    c.options.cooling = c.options.range = true;
    ks_firing_result shut = plain_fire(&c);
    double open_h = shut.open_after_hours;
    assert_true(shut.open_propped_h < open_h - 2);
    assert_true(shut.open_low_h < 0.93 * open_h && shut.open_low_h > 0.7 * open_h);
    assert_true(shut.open_high_h > 1.07 * open_h && shut.open_high_h < 1.4 * open_h);
    c.options.range = false;
    c.options.cool_by = KS_COOLS_LID_OPEN;
    ks_firing_result open = plain_fire(&c);
    assert_true(open.open_after_hours < shut.open_propped_h);
    assert_true(isnan(open.open_propped_h));
    check_near(open.open_low_h, open.open_after_hours, 0);
    c.options.cool_from_c = 100; /* the same firing as told of the shut one */
    check_near(plain_fire(&c).open_after_hours, shut.open_propped_h, 0.25);
    ks_arena_finish(&c.arena);
}

/* What the flue holds is checked in test_gas.c; here, that it is told. */
static void reduction_is_told_with_what_it_costs_and_endangers(void **state)
{
    plain_case gas, air;
    gas_cubic_metre(&gas, "reduction");
    ks_firing_result r = plain_fire(&gas);
    bool told = false;
    for (int i = 0; i < r.n_special; i++)
        told = told || (strstr(r.cautions[i], "10 % of the gas's heat leaves unburnt") &&
                        strstr(r.cautions[i], "carbon monoxide kills unseen"));
    assert_true(told);
    gas_cubic_metre(&air, "oxidation");
    ks_firing_result plain = plain_fire(&air);
    for (int i = 0; i < plain.n_special; i++)
        assert_null(strstr(plain.cautions[i], "reduction"));
    ks_arena_finish(&gas.arena);
    ks_arena_finish(&air.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_ledger_closes_at_every_step),
        cmocka_unit_test(the_ledger_closes_when_power_runs_out),
        cmocka_unit_test(halving_step_and_grid_changes_little),
        cmocka_unit_test(halving_changes_little_where_a_cone_ends_the_firing),
        cmocka_unit_test(what_drives_the_bill_has_the_right_sign_and_size),
        cmocka_unit_test(denser_brick_costs_more),
        cmocka_unit_test(power_goes_by_the_square_of_volts),
        cmocka_unit_test(three_phases_share_the_current),
        cmocka_unit_test(weak_power_has_a_cliff),
        cmocka_unit_test(a_large_kiln_cools_in_a_day),
        cmocka_unit_test(a_warm_kiln_cools_as_reported),
        cmocka_unit_test(ware_lags_the_air_and_the_middle_lags_the_edge),
        cmocka_unit_test(a_cone_ends_the_firing_and_a_hold_is_credited),
        cmocka_unit_test(a_cone_out_of_reach_is_told),
        cmocka_unit_test(the_verdict_is_what_the_ware_saw_not_the_programmes_end),
        cmocka_unit_test(the_change_that_is_told_brings_every_piece_inside),
        cmocka_unit_test(a_change_of_a_firing_that_ends_by_cone_can_be_done),
        cmocka_unit_test(a_slow_fall_ends_the_heating_earlier),
        cmocka_unit_test(cone_down_programme_ended_and_open_are_three_times),
        cmocka_unit_test(controlled_cooling_is_followed_where_the_kiln_is_slower_by_itself),
        cmocka_unit_test(the_range_comes_from_the_spread_of_inputs),
        cmocka_unit_test(a_range_on_the_edge_is_not_symmetric),
        cmocka_unit_test(the_range_of_a_weak_kiln_does_not_go_below_a_strong_ones),
        cmocka_unit_test(the_doubt_of_the_linings_conduction_grows_with_the_top),
        cmocka_unit_test(the_zone_that_cannot_follow_is_named_and_what_helps),
        cmocka_unit_test(the_same_question_has_the_same_answer),
        cmocka_unit_test(nonsense_is_refused_in_words),
        cmocka_unit_test(layers_that_get_too_hot_are_named_and_usual_ones_are_not),
        cmocka_unit_test(an_empty_kiln_fires_too),
        cmocka_unit_test(gaps_in_a_kilns_file_are_filled_and_told),
        cmocka_unit_test(a_gas_kilns_leaks_count_only_once_it_is_off),
        cmocka_unit_test(reduction_is_fired_short_of_air),
        cmocka_unit_test(a_vent_shut_early_saves_and_a_propped_lid_cools),
        cmocka_unit_test(a_shut_kiln_tells_how_far_its_opening_is_out_and_what_a_lid_saves),
        cmocka_unit_test(reduction_is_told_with_what_it_costs_and_endangers),
        cmocka_unit_test(a_gas_kiln_reaches_cone_10_with_the_usual_burners),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
