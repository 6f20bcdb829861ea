/* The least squares by which kilns are tuned. */
#include "check.h"

#include "base/random.h"
#include "fire/two_unknowns.h"

#include <gsl/gsl_multifit.h>

/* NIST StRD, Linear Regression, Norris (1998): y = B0 + B1 x + e, with its certified values. */
static const double norris[][2] = {
    {0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
    {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
    {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
    {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
    {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
    {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}};
enum { NORRIS = sizeof norris / sizeof *norris };

static void the_certified_line_of_norris_is_found(void **state)
{
    ks_two_sums sums = ks_two_held(0, 0, 0, 0);
    double b0, b1, var0, var1, together, square = 0;
    for (int i = 0; i < NORRIS; i++)
        ks_two_add(&sums, &(ks_two_row){norris[i][0], 1, norris[i][1]});
    ks_two_move(&sums, &b0, &b1);
    check_near(b0, -0.262323073774029, 1e-10);
    check_near(b1, 1.00211681802045, 1e-12);
    for (int i = 0; i < NORRIS; i++) {
        double off = norris[i][0] - b0 - b1 * norris[i][1];
        square += off * off;
    }
    double sigma = sqrt(square / (NORRIS - 2));
    check_near(sigma, 0.884796396144373, 1e-10);
    ks_two_variance(&sums, &var0, &var1, &together);
    check_near(sigma * sqrt(var0), 0.232818234301152, 1e-10);
    check_near(sigma * sqrt(var1), 0.429796848199937E-03, 1e-13);
}

/* A random problem of a few firings with its held unknowns as two rows more, by the GNU Scientific
 * Library (2.7, gsl_multifit_linear, which goes by singular values). */
enum { MOST = 12, HELD = 2 };
typedef struct {
    int n;
    double at[2], weight[2];
    ks_two_row rows[MOST];
} problem;

static problem random_problem(ks_random *random)
{
    problem p = {.n = 1 + (int)ks_random_below(random, MOST)};
    for (int k = 0; k < 2; k++) {
        p.at[k] = ks_random_unit(random) - 0.5;
        p.weight[k] = 0.0025 * (1 + ks_random_unit(random));
    }
    for (int i = 0; i < p.n; i++)
        p.rows[i] =
            (ks_two_row){0.4 * ks_random_unit(random) - 0.2, 0.1 + 0.4 * ks_random_unit(random),
                         0.1 + 0.4 * ks_random_unit(random)};
    return p;
}

static void check_by_gsl(const problem *p)
{
    size_t n = (size_t)p->n + HELD;
    gsl_matrix *x = gsl_matrix_calloc(n, 2), *covariance = gsl_matrix_alloc(2, 2);
    gsl_vector *y = gsl_vector_alloc(n), *c = gsl_vector_alloc(2);
    gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(n, 2);
    ks_two_sums sums = ks_two_held(p->at[0], p->weight[0], p->at[1], p->weight[1]);
    double square, move[2], variance[2], together;
    for (size_t k = 0; k < HELD; k++) {
        gsl_matrix_set(x, k, k, sqrt(p->weight[k]));
        gsl_vector_set(y, k, -sqrt(p->weight[k]) * p->at[k]);
    }
    for (size_t i = 0; i < (size_t)p->n; i++) {
        gsl_matrix_set(x, HELD + i, 0, p->rows[i].by_a);
        gsl_matrix_set(x, HELD + i, 1, p->rows[i].by_b);
        gsl_vector_set(y, HELD + i, p->rows[i].off);
        ks_two_add(&sums, &p->rows[i]);
    }
    assert_int_equal(gsl_multifit_linear(x, y, c, covariance, &square, work), 0);
    ks_two_move(&sums, &move[0], &move[1]);
    ks_two_variance(&sums, &variance[0], &variance[1], &together);
    double scale = square / (double)(n - 2); /* GSL's covariance is by the residuals */
    for (size_t k = 0; k < 2; k++) {
        check_near(move[k], gsl_vector_get(c, k), 1e-9);
        check_near(scale * variance[k] / gsl_matrix_get(covariance, k, k), 1, 1e-8);
    }
    gsl_multifit_linear_free(work);
    gsl_vector_free(c);
    gsl_vector_free(y);
    gsl_matrix_free(covariance);
    gsl_matrix_free(x);
}

static void held_fits_are_those_of_another_library(void **state)
{
    ks_random random = ks_random_of(1, 0);
    for (int trial = 0; trial < 2000; trial++) {
        problem p = random_problem(&random);
        check_by_gsl(&p);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_certified_line_of_norris_is_found),
        cmocka_unit_test(held_fits_are_those_of_another_library),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
