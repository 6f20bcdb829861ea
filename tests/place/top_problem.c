/* top_problem.c: some rounds on an order; writes the top problem and prints GLPK's optimum,
 * fractions allowed. use: top_problem ORDER FILE.lp|FILE.mps */
#include "place/search/rounds.h"

#include <stdio.h>

int main(int argc, char **argv)
{
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order = NULL;
    ks_job job;
    ks_run run;
    ks_place_options options = ks_place_default();
    if (argc != 3 || ks_order_read(argv[1], "kilns", &arena, &order, &err) != KS_OK ||
        ks_job_init(&job, order, &options, &arena, &err) != KS_OK) {
        fprintf(stderr, "%s\n", err.text);
        return 2;
    }
    ks_run_init(&run, &job, &arena);
    for (int round = 0; round < 6; round++)
        ks_run_round(&run);
    if (!ks_pool_solve(&run.pool) || ks_pool_write(&run.pool, argv[2], &err) != KS_OK) {
        fprintf(stderr, "%s\n", err.text);
        return 70;
    }
    printf("%.9f\n", run.pool.value);
    ks_arena_finish(&arena);
    return 0;
}
