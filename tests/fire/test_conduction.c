/* Conduction through layers against textbooks' cases. Answers were worked out anew from the books'
 * inputs by the exact formulas; the printed answers, from memory where not said otherwise, agree to
 * their rounding. */
#include "check.h"

#include "fire/slab.h"

#define FOREVER_S 1e13
#define BTU_H_FT_F 1.730735 /* W/(m K) */
#define BTU_H_FT2 3.154591  /* W/m2 */
#define INCH_M 0.0254

static double celsius(double fahrenheit)
{
    return (fahrenheit - 32) / 1.8;
}

static double fahrenheit(double celsius_c)
{
    return celsius_c * 1.8 + 32;
}

/* Incropera & DeWitt, example 1.1: 2833 W/m2, 1700 W through 0.6 m2. */
static void a_furnace_wall_conducts_as_in_incropera(void **state)
{
    slab s = {0};
    slab_layer(&s, 0.15, 1.7, 0, 1e6, 5);
    slab_start(&s, 1150 - 273.15, -1, 0);
    double flux = slab_step_held(&s, FOREVER_S, 1400 - 273.15);
    check_near(flux, 2833.3, 0.1);
    check_near(0.6 * flux, 1700, 0.1);
    slab_finish(&s);
}

/* Kern, example 2.2: 332 Btu/h ft2; 1275 and 538 F. */
static void an_oven_wall_conducts_as_in_kern(void **state)
{
    slab s = {0};
    slab_layer(&s, 8 * INCH_M, 0.68 * BTU_H_FT_F, 0, 1e6, 4);
    slab_layer(&s, 4 * INCH_M, 0.15 * BTU_H_FT_F, 0, 1e6, 4);
    slab_layer(&s, 6 * INCH_M, 0.40 * BTU_H_FT_F, 0, 1e6, 4);
    slab_start(&s, celsius(125), -1, 0);
    double flux = slab_step_held(&s, FOREVER_S, celsius(1600));
    check_near(flux, 1045.0, 0.3);
    check_near(flux / BTU_H_FT2, 331.3, 0.1);
    check_near(fahrenheit(s.stack.temp_c[4]), 1275.2, 0.1);
    check_near(fahrenheit(s.stack.temp_c[8]), 539.1, 0.1);
    slab_finish(&s);
}

/* McCabe & Smith, flat furnace wall: 219 Btu/h ft2. */
static void a_flat_wall_conducts_as_in_mccabe(void **state)
{
    slab s = {0};
    slab_layer(&s, 4.5 * INCH_M, 0.08 * BTU_H_FT_F, 0, 1e6, 4);
    slab_layer(&s, 9 * INCH_M, 0.80 * BTU_H_FT_F, 0, 1e6, 4);
    slab_start(&s, celsius(170), -1, 0);
    double flux = slab_step_held(&s, FOREVER_S, celsius(1400));
    check_near(flux, 689.8, 0.2);
    check_near(fahrenheit(s.stack.temp_c[4]), 375, 0.5);
    slab_finish(&s);
}

/* A published problem on air gaps: 200 mm of k 1.52, gaps worth 264.8 mm of the insulation (265 in
 * print), 6 mm of steel and 100 mm of 0.138 pass 400 W/m2 from 1150 to 40 C. */
static void gaps_worth_so_much_insulation_give_the_flux(void **state)
{
    slab s = {0};
    slab_layer(&s, 0.200, 1.52, 0, 1e6, 4);
    slab_layer(&s, 0.2648, 0.138, 0, 1e6, 4);
    slab_layer(&s, 0.006, 45, 0, 1e6, 3);
    slab_layer(&s, 0.100, 0.138, 0, 1e6, 4);
    slab_start(&s, 40, -1, 0);
    check_near(slab_step_held(&s, FOREVER_S, 1150), 400, 0.1);
    check_near(s.stack.temp_c[11], 329.9, 0.1);
    slab_finish(&s);
}

/* A published problem with a gap of 0.16 m2 K/W and a film of 17 W/(m2 K). */
static void layers_and_a_film_share_the_drop(void **state)
{
    slab s = {0};
    slab_layer(&s, 0.125, 1.6, 0, 1e6, 4);
    slab_layer(&s, 0.016, 0.1, 0, 1e3, 3);
    slab_layer(&s, 0.125, 0.3, 0, 1e6, 4);
    slab_layer(&s, 0.012, 0.14, 0, 1e6, 3);
    slab_start(&s, 25, 17, 25);
    check_near(slab_step_held(&s, FOREVER_S, 1100), 1344.9, 0.1);
    check_near(s.stack.temp_c[4], 994.9, 0.1);
    check_near(s.stack.temp_c[7], 779.8, 0.1);
    check_near(s.stack.temp_c[11], 219.4, 0.1);
    check_near(s.stack.temp_c[14], 104.1, 0.1);
    slab_finish(&s);
}

/* A published problem: k = 0.3 (1 + 0.001 T) over 90 mm, then 450 mm of 0.8; by the exact integral.
 */
static void conductivity_that_rises_with_heat_is_integrated(void **state)
{
    slab s = {0};
    slab_layer(&s, 0.090, 0.3, 0.001, 1e6, 3);
    slab_layer(&s, 0.450, 0.8, 0, 1e6, 3);
    slab_start(&s, 30, -1, 0);
    for (int i = 0; i < 3; i++) /* more of Newton's steps, for this one is not straight */
        slab_step_held(&s, FOREVER_S, 1100);
    check_near(slab_step_held(&s, FOREVER_S, 1100), 1499.65, 0.02);
    check_near(s.stack.temp_c[3], 873.55, 0.01);
    slab_finish(&s);
}

/* The same wall around a round chamber: 2 pi k L dT / ln(r2 / r1), any textbook. */
static void a_round_wall_conducts_by_the_logarithm_of_its_radii(void **state)
{
    slab s = {0};
    slab_layer(&s, 0.076, 0.2, 0, 1e6, 12);
    ks_stack_shape shape = {2 * 3.14159265358979 * 0.2875, 2 * 3.14159265358979, 1, 1, 1};
    ks_stack_build(s.layers, 1, &shape, 100, &s.arena, &s.stack);
    double exact = 2 * 3.14159265358979 * 0.2 * 900 / log(0.3635 / 0.2875);
    check_near(slab_step_held(&s, FOREVER_S, 1000), exact, 1e-6 * exact);
    slab_finish(&s);
}

typedef struct {
    double k, alpha, start_c;
    double hot_c, flux; /* flux 0 = face held */
    double time_s, depth_m, wanted_c, within_k;
} deep_case;

static const deep_case deep_cases[] = {
    /* Incropera, water main after 60 days: freezing has come to 0.677 m (0.68 m looked up). */
    {1, 0.138e-6, 20, -15, 0, 60 * 86400.0, 0.6770, 0, 0.03},
    /* Cengel, the same with other soil: 0.846 m by chart, 0.841 m exactly. */
    {1, 0.15e-6, 8, -8, 0, 60 * 86400.0, 0.8411, 0, 0.03},
    /* Holman, example 4-2: step of the face, and flux into it. */
    {45, 1.4e-5, 35, 250, 0, 30, 0.025, 118.50, 0.1},
    {45, 1.4e-5, 35, 0, 3.2e5, 30, 0.025, 79.31, 0.1},
    {45, 1.4e-5, 35, 0, 3.2e5, 30, 0, 199.44, 0.2},
    /* Holman, example 4-4: 37.73 s until 120 C is 40 mm deep. */
    {215, 8.4e-5, 200, 70, 0, 37.73, 0.040, 120, 0.1},
    /* Cengel, blocks in the sun: 22.0 and 149 C after 20 min. */
    {237, 9.71e-5, 20, 0, 1250, 1200, 0, 22.03, 0.02},
    {0.159, 1.75e-7, 20, 0, 1250, 1200, 0, 148.55, 0.2},
};

static void a_deep_solid_warms_as_the_error_function_says(void **state)
{
    for (size_t i = 0; i < sizeof deep_cases / sizeof *deep_cases; i++) {
        const deep_case *c = &deep_cases[i];
        slab s = {0};
        slab_graded(&s, 12 * sqrt(c->alpha * c->time_s), c->k, c->k / c->alpha);
        slab_start(&s, c->start_c, 0, 0);
        enum { STEPS = 2000 };
        for (int n = 0; n < STEPS; n++) {
            /* steps that grow as the square of time, for the start is steep */
            double dt_s = c->time_s * (2.0 * n + 1) / ((double)STEPS * STEPS);
            if (c->flux > 0)
                slab_step_film(&s, dt_s, c->flux, 0, 0);
            else
                slab_step_held(&s, dt_s, c->hot_c);
        }
        check_near(slab_at(&s, c->depth_m), c->wanted_c, c->within_k);
        slab_finish(&s);
    }
}

/* Full series for a plate at Biot 1: middle and face by Fourier number. */
static void a_plate_follows_the_full_series(void **state)
{
    const double rows[][3] = {{0.05, 0.99975, 0.79038},
                              {0.2, 0.95064, 0.64339},
                              {0.5, 0.77253, 0.50452},
                              {1, 0.53386, 0.34818},
                              {2, 0.25467, 0.16609}};
    for (int i = 0; i < 5; i++) {
        slab s = {0};
        slab_layer(&s, 1, 1, 0, 1, 120);
        slab_start(&s, 100, 0, 0);
        for (int n = 0; n < 2000; n++)
            slab_step_film(&s, rows[i][0] / 2000, 0, 1, 0);
        check_near(s.stack.temp_c[s.stack.n - 1] / 100, rows[i][1], 4e-4);
        check_near(s.stack.temp_c[0] / 100, rows[i][2], 4e-4);
        slab_finish(&s);
    }
}

/* Incropera, table 5.1: zeta and C of the first term, which is all that is left at Fourier 1. */
static void the_first_term_is_what_is_left_in_the_end(void **state)
{
    const double rows[][3] = {{0.1, 0.3111, 1.0161}, {0.5, 0.6533, 1.0701}, {1, 0.8603, 1.1191},
                              {2, 1.0769, 1.1785},   {5, 1.3138, 1.2402},   {10, 1.4289, 1.2620},
                              {100, 1.5552, 1.2731}};
    for (int i = 0; i < 7; i++) {
        slab s = {0};
        slab_layer(&s, 1, 1, 0, 1, 120);
        slab_start(&s, 100, 0, 0);
        for (int n = 0; n < 2000; n++)
            slab_step_film(&s, 1.0 / 2000, 0, rows[i][0], 0);
        double wanted = rows[i][2] * exp(-rows[i][1] * rows[i][1]);
        check_near(s.stack.temp_c[s.stack.n - 1] / 100, wanted, 1e-3);
        slab_finish(&s);
    }
}

/* Incropera, example 5.4: 42.9 and 45.2 C by chart; 7.4 kW/m2. */
static void a_pipe_wall_warms_as_in_incropera(void **state)
{
    slab s = {0};
    slab_layer(&s, 0.040, 63.9, 0, 7832 * 434.0, 100);
    slab_start(&s, -20, 0, 0);
    for (int n = 0; n < 4800; n++)
        slab_step_film(&s, 0.1, 0, 500, 60);
    check_near(s.stack.temp_c[s.stack.n - 1], 43.0, 0.1);
    check_near(s.stack.temp_c[0], 45.4, 0.1);
    check_near(500 * (60 - s.stack.temp_c[0]), 7318, 30);
    slab_finish(&s);
}

/* Cengel, brass plate in an oven: its face at 282 C by chart, 279.6 exactly. */
static void a_brass_plate_warms_as_in_cengel(void **state)
{
    slab s = {0};
    slab_layer(&s, 0.020, 110, 0, 110 / 33.9e-6, 40);
    slab_start(&s, 20, 0, 0);
    for (int n = 0; n < 4200; n++)
        slab_step_film(&s, 0.1, 0, 120, 500);
    check_near(s.stack.temp_c[0], 279.6, 0.2);
    slab_finish(&s);
}

#define RAMP_C_S (150.0 / 3600)

/* Carslaw & Jaeger, face rising at a steady rate, from memory: q = 2 k b sqrt(t / pi a), Q two
 * thirds of q t, T = 4 b t i2erfc(x / 2 sqrt(a t)). */
static void a_rising_face_takes_in_what_carslaw_and_jaeger_say(void **state)
{
    const struct {
        double hours, flux, wh_m2, at_10, at_25, at_50;
    } rows[] = {{1, 1001.34, 667.56, 0.70754, 0.40147, 0.13606},
                {2, 1416.10, 1888.14, 0.78500, 0.53332, 0.26206}};
    for (int i = 0; i < 2; i++) {
        slab s = {0};
        double taken_j = 0, flux = 0, rise = 150 * rows[i].hours;
        slab_graded(&s, 0.8, 0.20, 600 * 1050.0);
        slab_start(&s, 0, 0, 0);
        int steps = (int)(rows[i].hours * 3600);
        for (int n = 1; n <= steps; n++) {
            flux = slab_step_held(&s, 1, RAMP_C_S * n);
            taken_j += flux;
        }
        check_near(flux, rows[i].flux, 0.003 * rows[i].flux);
        check_near(taken_j / 3600, rows[i].wh_m2, 0.003 * rows[i].wh_m2);
        check_near(slab_at(&s, 0.010) / rise, rows[i].at_10, 0.001);
        check_near(slab_at(&s, 0.025) / rise, rows[i].at_25, 0.001);
        check_near(slab_at(&s, 0.050) / rise, rows[i].at_50, 0.001);
        slab_finish(&s);
    }
}

typedef struct {
    double thickness_m;
    int cells;
    double flux[3]; /* after 1, 4, 8 h */
    double middle_k;
} ramped_slab;

/* The exact series for a slab whose cold face is held, with the grid and step that a firing uses.
 */
static void a_kiln_wall_on_the_firings_own_grid_takes_in_what_the_series_says(void **state)
{
    const ramped_slab rows[] = {{0.064, 10, {1006.98, 2434.91, 4309.91}, 566.40},
                                {0.076, 12, {1002.24, 2243.68, 3822.79}, 552.62},
                                {0.114, 18, {1001.19, 2031.14, 3102.03}, 493.50}};
    for (int i = 0; i < 3; i++) {
        slab s = {0};
        double taken_j = 0, flux = 0;
        slab_layer(&s, rows[i].thickness_m, 0.20, 0, 600 * 1050.0, rows[i].cells);
        slab_start(&s, 0, -1, 0);
        for (int n = 1; n <= 480; n++) {
            flux = slab_step_held(&s, 60, RAMP_C_S * 60 * n);
            taken_j += 60 * flux;
            if (n == 60 || n == 240 || n == 480)
                check_near(flux, rows[i].flux[n / 240], (n == 60 ? 0.015 : 0.003) * flux);
        }
        check_near(slab_at(&s, rows[i].thickness_m / 2), rows[i].middle_k, 2);
        if (i == 1)
            check_near(taken_j / 3.6e6, 17.725, 0.003 * 17.725);
        slab_finish(&s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_furnace_wall_conducts_as_in_incropera),
        cmocka_unit_test(an_oven_wall_conducts_as_in_kern),
        cmocka_unit_test(a_flat_wall_conducts_as_in_mccabe),
        cmocka_unit_test(gaps_worth_so_much_insulation_give_the_flux),
        cmocka_unit_test(layers_and_a_film_share_the_drop),
        cmocka_unit_test(conductivity_that_rises_with_heat_is_integrated),
        cmocka_unit_test(a_round_wall_conducts_by_the_logarithm_of_its_radii),
        cmocka_unit_test(a_deep_solid_warms_as_the_error_function_says),
        cmocka_unit_test(a_plate_follows_the_full_series),
        cmocka_unit_test(the_first_term_is_what_is_left_in_the_end),
        cmocka_unit_test(a_pipe_wall_warms_as_in_incropera),
        cmocka_unit_test(a_brass_plate_warms_as_in_cengel),
        cmocka_unit_test(a_rising_face_takes_in_what_carslaw_and_jaeger_say),
        cmocka_unit_test(a_kiln_wall_on_the_firings_own_grid_takes_in_what_the_series_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
