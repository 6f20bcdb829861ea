/* layouts.c: the checker against GEOS on as many random layouts as asked for; not part of the
 * tests.
 *
 *   ninja -C build tests/slow_layouts && build/tests/slow_layouts 1000000
 *
 * Says how many were kept and broken by both, and the seed of the first that they do not agree on.
 */
#include "oracle.h"
#include "oracle_layout.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double within_mm = 1e-6;

static double spare(layout_verdict v)
{
    return fmin(fmin(v.ware, v.under), fmin(v.wall, v.support));
}

static void tell(const char *who, layout_verdict v)
{
    printf("  %s: ware %.9g, under %.9g, wall %.9g, support %.9g\n", who, v.ware, v.under, v.wall,
           v.support);
}

int main(int argc, char **argv)
{
    long wanted = argc > 1 ? atol(argv[1]) : 1000000, kept = 0, differ = 0;
    uint64_t first = argc > 2 ? strtoull(argv[2], NULL, 10) : 1;
    oracle_start();
    for (long i = 0; i < wanted; i++) {
        ks_arena arena = {0};
        uint64_t seed = (first + (uint64_t)i) * 1000003;
        const ks_plan *plan = random_layout(&seed, &arena);
        layout_verdict known = oracle_verdict(plan), got = checker_verdict(plan, &arena);
        kept += spare(known) >= 0;
        if (!verdicts_agree(known, got, within_mm) && differ++ < 5) {
            printf("layout %lld:\n", (long long)(first + (uint64_t)i));
            tell("GEOS", known);
            tell("checker", got);
        }
        ks_arena_finish(&arena);
    }
    oracle_finish();
    printf("%ld layouts: %ld keep all four rules, %ld break one; verdicts differ on %ld\n", wanted,
           kept, wanted - kept, differ);
    return differ > 0;
}
